package edit

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// disk is all that writing asks of the system, so that a test can have each
// call fail in turn. Names are relative to one folder, which none may leave.
type disk interface {
	Lstat(name string) (fs.FileInfo, error)
	ReadFile(name string) ([]byte, error)
	// Create makes a file that must not be there.
	Create(name string) (handle, error)
	Mkdir(name string) error
	Rename(old, new string) error
	Remove(name string) error
	// SyncFolder waits until the disk has the names in a folder.
	SyncFolder(name string) error
	Close() error
}

// handle is a file that is being written.
type handle interface {
	io.WriteCloser
	Chmod(fs.FileMode) error
	Sync() error
}

// rooted is a folder on the system's own disk.
type rooted struct{ *os.Root }

func openDisk(dir string) (disk, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	return rooted{root}, nil
}

func (r rooted) Lstat(name string) (fs.FileInfo, error) {
	return r.Root.Lstat(filepath.FromSlash(name))
}

func (r rooted) ReadFile(name string) ([]byte, error) {
	return r.Root.ReadFile(filepath.FromSlash(name))
}

func (r rooted) Create(name string) (handle, error) {
	return r.OpenFile(filepath.FromSlash(name), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
}

func (r rooted) Mkdir(name string) error { return r.Root.Mkdir(filepath.FromSlash(name), 0o755) }

func (r rooted) Rename(old, new string) error {
	return r.Root.Rename(filepath.FromSlash(old), filepath.FromSlash(new))
}

func (r rooted) Remove(name string) error { return r.Root.Remove(filepath.FromSlash(name)) }

// SyncFolder: not all systems let a folder be waited for, and there a file is
// whole all the same.
func (r rooted) SyncFolder(name string) error {
	d, err := r.Open(filepath.FromSlash(name))
	if err != nil {
		return err
	}
	_ = d.Sync()
	return d.Close()
}

// create writes a whole new file and waits until the disk has it. What was cut
// short there before is taken away first: whoever writes holds the lock.
func create(d disk, name string, text []byte, mode fs.FileMode) error {
	if err := d.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	f, err := d.Create(name)
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	if err == nil && mode != 0 {
		err = f.Chmod(mode)
	}
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

// there reads a file that may be missing; its hash is "" then.
func there(d disk, name string) (text []byte, hash string, err error) {
	text, err = d.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, "", nil
	}
	return text, hashOf(text), err
}
