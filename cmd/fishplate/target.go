package main

import (
	"cmp"
	"errors"
	"os"
	"path/filepath"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/revision"
)

// target is a file in the writing: a temporary one beside it, until it is
// complete. What is there and is no plain file is written to as it stands.
type target struct {
	*os.File
	name   string
	temp   bool
	failed error // why it is not put in its place, such as a write that failed
}

func openTarget(name string) (*target, error) {
	if info, err := os.Stat(name); err == nil && !info.Mode().IsRegular() {
		f, err := os.OpenFile(name, os.O_WRONLY, 0)
		return &target{File: f, name: name}, plainError(name, err)
	}
	f, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+".*")
	t := &target{File: f, name: name, temp: true}
	if document := documentAt(name); document != "" {
		t.failed = errors.New("it is the document " + document)
	}
	return t, plainError(name, err)
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

// documentAt is the document that a file is of the build which it lies in, ""
// where it is none: what is written there would replace it.
func documentAt(name string) string {
	file, err := os.Stat(name)
	if err != nil {
		return ""
	}
	dir, ok := buildOver(reportFile(name))
	if !ok {
		return ""
	}
	place, err := revision.Open(dir)
	if err != nil {
		return ""
	}
	defer place.Close()
	builds, _ := place.Builds() // those that can be read will do
	for _, src := range builds {
		for _, d := range ledger.NewLoader().Read(src).Documents() {
			there, err := os.Stat(filepath.Join(dir, filepath.FromSlash(d.File.String())))
			if d.File.Known() && err == nil && os.SameFile(file, there) {
				return d.Path()
			}
		}
	}
	return ""
}
