package main

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fishplate/lint"
)

// target is a file in the writing: a temporary one beside it, until it is
// complete. What is there and is no plain file is written to as it stands.
type target struct {
	*os.File
	name   string
	temp   bool
	failed error // of a write: what there is then is not whole
}

func openTarget(name string) (*target, error) {
	if info, err := os.Stat(name); err == nil && !info.Mode().IsRegular() {
		f, err := os.OpenFile(name, os.O_WRONLY, 0)
		return &target{File: f, name: name}, plainError(name, err)
	}
	f, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+".*")
	return &target{File: f, name: name, temp: true}, plainError(name, err)
}

func (t *target) Write(b []byte) (int, error) {
	n, err := t.File.Write(b)
	if t.failed == nil {
		t.failed = err
	}
	return n, err
}

// keep puts the file in its place if it is whole and on the disk; otherwise
// what was there before stays.
func (t *target) keep() error {
	if !t.temp {
		return plainError(t.name, cmp.Or(t.failed, t.Close()))
	}
	mode := os.FileMode(0o644)
	if info, err := os.Stat(t.name); err == nil {
		mode = info.Mode().Perm()
	}
	err := cmp.Or(t.failed, t.Chmod(mode), t.Sync(), t.Close()) // the first; Close in any case
	if err == nil {
		err = os.Rename(t.File.Name(), t.name)
	}
	if err != nil {
		os.Remove(t.File.Name())
	}
	return plainError(t.name, err)
}

func (t *target) drop() {
	t.Close()
	if t.temp {
		os.Remove(t.File.Name())
	}
}

// reportFile is a file's one name, however it is typed: two reports under two
// names of one file would end as one.
func reportFile(name string) string {
	if name == "" {
		return ""
	}
	full, err := filepath.Abs(name)
	if err != nil {
		return name
	}
	if real, err := filepath.EvalSymlinks(full); err == nil {
		return real
	}
	if dir, err := filepath.EvalSymlinks(filepath.Dir(full)); err == nil {
		return filepath.Join(dir, filepath.Base(full))
	}
	return full
}

// isLedger tells whether a file, or what a link of that name leads to, is one
// that ledgers are written in.
func isLedger(name string) bool {
	return strings.EqualFold(filepath.Ext(name), ".toml") || strings.EqualFold(filepath.Ext(reportFile(name)), ".toml")
}

// protect refuses the reports whose file is a document of a build, which the
// report would replace.
func (o *outputs) protect(r *lint.Report) {
	if len(o.files) == 0 || r.Build == nil || r.Revision != "" {
		return
	}
	for _, d := range r.Build.Documents() {
		if !d.File.Known() {
			continue
		}
		name := filepath.Join(filepath.FromSlash(r.Folder), filepath.FromSlash(d.File.String()))
		document, err := os.Stat(name)
		if err != nil {
			continue
		}
		for _, t := range o.files {
			if there, err := os.Stat(t.name); err == nil && os.SameFile(document, there) && t.failed == nil {
				t.failed = fmt.Errorf("it is the document %s", d.Path())
			}
		}
	}
}
