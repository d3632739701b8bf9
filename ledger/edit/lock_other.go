//go:build !(darwin || dragonfly || freebsd || linux || netbsd || openbsd)

package edit

import (
	"errors"
	"io/fs"
	"os"
)

// tryLock takes the lock of a build folder, unless another has it: a file that
// must not be there. One that is left behind by a crash is to be removed by
// hand; the message of a lock that is not had says so.
func tryLock(root *os.Root) (release func() error, taken bool, err error) {
	f, err := root.OpenFile(lockFile, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return nil, false, nil
	}
	if err != nil {
		return nil, false, err
	}
	return func() error { return errors.Join(f.Close(), root.Remove(lockFile)) }, true, nil
}
