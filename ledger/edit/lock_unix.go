//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package edit

import (
	"errors"
	"os"
	"syscall"
)

// tryLock takes the lock of a build folder, unless another has it. The lock is
// the system's, on a file: it ends with whoever holds it, however that ends,
// so that none is ever left behind.
func tryLock(root *os.Root) (release func() error, taken bool, err error) {
	f, err := root.OpenFile(lockFile, os.O_RDWR|os.O_CREATE|syscall.O_NONBLOCK, 0o644)
	if err != nil {
		return nil, false, err
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		f.Close()
		if errors.Is(err, syscall.EWOULDBLOCK) || errors.Is(err, syscall.EINTR) {
			return nil, false, nil
		}
		return nil, false, err
	}
	mine, err := f.Stat()
	if err != nil {
		f.Close()
		return nil, false, err
	}
	if now, err := root.Lstat(lockFile); err != nil || !os.SameFile(mine, now) {
		f.Close() // it was taken away by whoever had it before
		return nil, false, nil
	}
	return func() error { return errors.Join(root.Remove(lockFile), f.Close()) }, true, nil
}
