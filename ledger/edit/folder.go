package edit

import (
	"crypto/rand"
	"errors"
	"io/fs"
	"path/filepath"
)

// NewFile is a file of a new folder.
type NewFile struct {
	Name string
	Text []byte
}

// NewFolder lays down a folder that is not there yet, with all its files or
// not at all: it is filled under a hidden name beside its place, and renamed.
// The folder above it must be there.
func NewFolder(dir string, files []NewFile) error {
	d, err := openDisk(filepath.Dir(dir))
	if err != nil {
		return err
	}
	return errors.Join(newFolder(d, filepath.Base(dir), files), d.Close())
}

func newFolder(d disk, name string, files []NewFile) error {
	temp := ".start-" + rand.Text()
	if err := d.Mkdir(temp); err != nil {
		return err
	}
	var err error
	for _, f := range files {
		if err == nil {
			err = create(d, temp+"/"+f.Name, f.Text, 0)
		}
	}
	if err == nil {
		err = d.SyncFolder(temp)
	}
	if err == nil {
		if err = d.Rename(temp, name); err == nil {
			return d.SyncFolder(".")
		}
	}
	for _, f := range files {
		if gone := d.Remove(temp + "/" + f.Name); gone != nil && !errors.Is(gone, fs.ErrNotExist) {
			err = errors.Join(err, gone)
		}
	}
	return errors.Join(err, d.Remove(temp))
}
