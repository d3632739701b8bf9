package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"fishplate/ledger"
	"fishplate/ledger/again"
	"fishplate/ledger/edit"
	"fishplate/ledger/revision"
	"fishplate/lint/report"
)

// startingFrom lays down a new build as a copy of another's design.
func (p *program) startingFrom(arg, dir string) error {
	places, builds, err := openBuilds([]string{arg})
	defer closePlaces(places)
	switch {
	case err != nil:
		return err
	case len(builds) > 1:
		return wrong("%s holds %d builds; name one, such as %s", arg, len(builds), builds[0].Folder())
	}
	src := builds[0]
	if _, faults := ledger.NewLoader().Load(src); len(faults) > 0 {
		p.status = statusUnread
		for _, f := range faults {
			fmt.Fprintln(p.err, report.Fault(f))
		}
		return nil
	}
	files, err := tomlFiles(src)
	if err != nil {
		return err
	}
	copied, err := again.Copy(files, again.Origin{Called: filepath.Base(filepath.FromSlash(src.Folder())), From: remembered(src), Title: report.Clean(filepath.Base(dir))})
	if err != nil {
		return err
	}
	if err := layDown(dir, withSchema(copied.Files), loads); err != nil {
		return err
	}
	where := report.Clean(dir)
	fmt.Fprintf(p.out, "%s holds the design of %s, in %d files, at stage intake.\n", where, report.Clean(src.Folder()), len(copied.Files))
	fmt.Fprintf(p.out, "  estimates now, to be read on this vehicle   %d\n  comments now, off its own labels            %d\n  entries left behind                         %d\n",
		len(copied.Estimates), len(copied.Commented), len(copied.Left))
	fmt.Fprintf(p.out, "Still as it was there, so read it over: loads, trailer and model year, remarks, decisions, questions from buyers, and what is public.\n")
	_, err = fmt.Fprintf(p.out, "Nothing passes on a figure of the other vehicle. What to read first: fishplate check %s\n", where)
	return err
}

func tomlFiles(src *revision.Build) ([]again.File, error) {
	list, err := src.TOML()
	if err != nil {
		return nil, err
	}
	var out []again.File
	for _, f := range list {
		text, err := src.Read(f.Path)
		if err != nil {
			return nil, err
		}
		out = append(out, again.File{Name: f.Path, Text: text})
	}
	return out, nil
}

// remembered is the build with its revision: of a folder, the last commit where
// that holds the same files.
func remembered(src *revision.Build) string {
	name := filepath.ToSlash(src.Folder())
	if src.Commit() != "" {
		return src.Commit()[:12] + name[len(src.Revision())-1:]
	}
	place, err := revision.Open("HEAD:" + name)
	if err != nil {
		return name
	}
	defer place.Close()
	last, err := place.Builds()
	if err != nil || len(last) != 1 {
		return name
	}
	now, err := tomlFiles(src)
	then, bad := tomlFiles(last[0])
	if err != nil || bad != nil || len(now) != len(then) {
		return name
	}
	for i := range now {
		if now[i].Name != then[i].Name || !bytes.Equal(now[i].Text, then[i].Text) {
			return name
		}
	}
	return last[0].Commit()[:12] + ":" + name
}

// loads tells whether a build that was just written can be read.
func loads(dir string) error {
	place, err := revision.Open(dir)
	if err != nil {
		return err
	}
	defer place.Close()
	builds, err := place.Builds()
	if err != nil {
		return err
	}
	var errs []error
	for _, b := range builds {
		for _, f := range ledger.NewLoader().Read(b).Faults {
			errs = append(errs, fmt.Errorf("the copy would not load: %s:%d: %s", filepath.Base(f.Place.File), f.Place.Line, f.Message))
		}
	}
	return errors.Join(errs...)
}

// layDown writes the files of a new build beside its place and moves them there
// when they are complete, and as they should be.
func layDown(dir string, files []again.File, fit func(dir string) error) error {
	if _, err := os.Lstat(dir); err == nil {
		return fmt.Errorf("%s: is there already; start lays down a new folder only", dir)
	} else if !errors.Is(err, os.ErrNotExist) {
		return plainError(dir, err)
	}
	if above, ok := buildOver(dir); ok {
		return fmt.Errorf("%s: would lie inside the build %s; builds do not nest", dir, filepath.Base(above))
	}
	parent := filepath.Dir(dir)
	if err := os.MkdirAll(parent, 0o755); err != nil {
		return plainError(dir, err)
	}
	var laid []edit.NewFile
	for _, f := range files {
		laid = append(laid, edit.NewFile{Name: f.Name, Text: f.Text})
	}
	var unfit error
	err := edit.NewFolder(dir, laid, func(temp string) error {
		unfit = fit(temp)
		return unfit
	})
	if unfit != nil {
		return unfit
	}
	return plainError(dir, err)
}
