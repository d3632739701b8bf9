package edit

import (
	"crypto/rand"
	"errors"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// NewFile is a file of a new folder, slash-separated and relative to it.
type NewFile struct {
	Name string
	Text []byte
}

// NewFolder lays down a folder that is not there yet, with all its files or
// not at all: it is filled under a hidden name beside its place, shown to fit
// there, and renamed unless that refuses. The folder above it must be there.
func NewFolder(dir string, files []NewFile, fit func(temp string) error) error {
	d, err := openDisk(filepath.Dir(dir))
	if err != nil {
		return err
	}
	temp := ".start-" + rand.Text()
	fitting := func() error { return fit(filepath.Join(filepath.Dir(dir), temp)) }
	return errors.Join(newFolder(d, temp, filepath.Base(dir), files, fitting), d.Close())
}

func newFolder(d disk, temp, name string, files []NewFile, fit func() error) error {
	made := []string{temp}
	err := d.Mkdir(temp)
	if err != nil {
		return err
	}
	for _, f := range files {
		at := temp
		for _, part := range strings.Split(path.Dir(f.Name), "/") {
			if at = path.Join(at, part); err == nil && !slices.Contains(made, at) {
				made = append(made, at)
				err = d.Mkdir(at)
			}
		}
		if err == nil {
			err = create(d, path.Join(temp, f.Name), f.Text, 0)
		}
	}
	for _, at := range made {
		if err == nil {
			err = d.SyncFolder(at)
		}
	}
	if err == nil {
		err = fit()
	}
	if err == nil {
		if err = d.Rename(temp, name); err == nil {
			return d.SyncFolder(".")
		}
	}
	for _, f := range files {
		made = append(made, path.Join(temp, f.Name))
	}
	for _, at := range slices.Backward(made) {
		if gone := d.Remove(at); gone != nil && !errors.Is(gone, fs.ErrNotExist) {
			err = errors.Join(err, gone)
		}
	}
	return err
}
