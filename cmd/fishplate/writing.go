package main

import (
	"errors"
	"fmt"

	"github.com/urfave/cli/v2"

	"fishplate/ledger"
	"fishplate/ledger/edit"
	"fishplate/ledger/revision"
	"fishplate/lint/report"
)

// writing is a build that a command writes to. Nobody else writes to it from
// before it is read until it is let go.
type writing struct {
	src   *revision.Build
	b     *ledger.Build // as it was read
	dir   string        // the build folder on disk
	hold  *edit.Hold
	draft *edit.Draft
	cut   error // what could not be read at all
}

// writingTo reads the build that a command is to write to; what is wrong with
// it unread tells. It is to be let go.
func (p *program) writingTo(arg string) (*writing, error) {
	places, builds, err := openBuilds([]string{arg})
	defer closePlaces(places)
	switch {
	case err != nil:
		return nil, err
	case len(builds) > 1:
		return nil, wrong("%s holds %d builds; name one, such as %s", arg, len(builds), builds[0].Folder())
	}
	w := &writing{src: builds[0]}
	dir, ok := w.src.Dir()
	if !ok {
		return nil, fmt.Errorf("%s: a git revision is never written to; name the folder in the work tree", arg)
	}
	w.dir = dir
	if w.hold, err = edit.Take(dir); err != nil {
		return nil, plainError(w.src.Folder(), err)
	}
	w.draft, w.cut = edit.Begin(w.src)
	w.b = w.draft.Before()
	return w, nil
}

// unread tells the faults of the build, save that an entry is named which is
// about to be added, and whether there are any: nothing is written then.
func (p *program) unread(w *writing, added map[string]bool) bool {
	found := false
	for _, f := range w.b.Faults {
		if !added[w.b.Lacks(f)] {
			found, p.status = true, statusUnread
			fmt.Fprintln(p.err, report.Fault(f))
		}
	}
	return found
}

// add puts an entry into a file of the draft.
func (w *writing) add(entry string, pairs []edit.Pair, file string) error {
	if w.cut != nil {
		return w.cut
	}
	return w.draft.Add(entry, pairs, file)
}

// with is the build as it would be with what was added.
func (w *writing) with() (*ledger.Build, error) {
	b := w.draft.After()
	var errs []error
	for _, f := range b.Faults {
		errs = append(errs, fmt.Errorf("%s: what would be written has a fault: %s", f.Place.File, f.Message))
	}
	return b, errors.Join(errs...)
}

// write makes the draft's changes, all of them or none.
func (w *writing) write() error {
	plan, err := w.draft.Plan()
	if err == nil {
		err = w.hold.Apply(w.src, plan)
	}
	return unwritten(w.src, err)
}

// unwritten is why a build could not be written, at the file that it was.
func unwritten(src *revision.Build, err error) error {
	var file *edit.Unwritten
	if errors.As(err, &file) {
		return plainError(src.Name(file.File), file.Err)
	}
	return plainError(src.Folder(), err)
}

// done lets others write, and is an error if that or what was done before
// failed.
func (w *writing) done(err error) error {
	return errors.Join(err, plainError(w.src.Folder(), w.hold.Release()))
}

// freeID is the id, or with a number behind it that no entry of the kind has.
func freeID(b *ledger.Build, taken map[string]bool, kind, id string) string {
	for n := 1; ; n++ {
		try := id
		if n > 1 {
			try = fmt.Sprintf("%s-%d", id, n)
		}
		if _, ok := b.Entry(kind + "." + try); !ok && !taken[try] {
			taken[try] = true
			return try
		}
	}
}

// onDate reads a flag that says what day it is; today where it is not given.
func (p *program) onDate(c *cli.Context, flag string) (string, error) {
	if !c.IsSet(flag) {
		return p.today, nil
	}
	return dateOf(flag, c.String(flag))
}
