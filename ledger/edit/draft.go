package edit

import (
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"sort"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/revision"
	"fishplate/ledger/syntax"
)

// Draft is a build whose files are being changed, in memory.
type Draft struct {
	src    *revision.Build
	before *ledger.Build
	after  *ledger.Build // until something changes again
	files  map[string]*file
}

// file is one of a draft.
type file struct {
	draft *Draft
	name  string
	shown string // as the user would type it
	there bool   // it was there before
	old   string // what it held, without a byte order mark
	mark  string // the byte order mark, or ""
	hash  string
	text  pieces
	doc   *syntax.Document
	tree  any
}

// change is a text in the place of a range of bytes of a file in a draft.
type change struct {
	from, to int
	text     string
}

// Begin reads a build's files to be changed. Where some cannot be read at all
// it tells which; the draft is of the others then.
func Begin(src *revision.Build) (*Draft, error) {
	d := &Draft{src: src, files: map[string]*file{}}
	found, err := src.TOML()
	if err != nil {
		return d, err
	}
	var names []string
	var errs []error
	for _, f := range found {
		if f.Fault != "" {
			errs = append(errs, fmt.Errorf("%s: %s", src.Name(f.Path), f.Fault))
			continue
		}
		names = append(names, f.Path)
	}
	contents, faults := src.ReadAll(names)
	for i, name := range names {
		if faults[i] != nil {
			errs = append(errs, faults[i])
			continue
		}
		d.files[name] = d.newFile(name, contents[i], true)
	}
	return d, errors.Join(errs...)
}

const byteOrderMark = "\ufeff"

func (d *Draft) newFile(name string, data []byte, there bool) *file {
	text, marked := strings.CutPrefix(string(data), byteOrderMark)
	f := &file{draft: d, name: name, shown: d.src.Name(name), there: there, old: text, hash: hashOf(data), text: wholeOf(text), doc: syntax.Read(data)}
	if marked {
		f.mark = byteOrderMark
	}
	if f.doc.Root != nil {
		f.tree = treeOf(f.doc.Root)
	}
	return f
}

// Before is the build as it was.
func (d *Draft) Before() *ledger.Build {
	if d.before == nil {
		d.before = ledger.NewLoader().Read(d.src)
	}
	return d.before
}

// Source is where the build's files would be read from with the changes made.
func (d *Draft) Source() *revision.Build {
	contents := map[string][]byte{}
	for name, f := range d.files {
		if !f.there || len(f.edits()) > 0 {
			contents[name] = []byte(f.mark + f.text.String())
		}
	}
	return d.src.With(contents)
}

// After is the build with the changes made, with all that is wrong with it.
func (d *Draft) After() *ledger.Build {
	if d.after == nil {
		d.after = ledger.NewLoader().Read(d.Source())
	}
	return d.after
}

// placesIn are the places that the words of a fault tell, which may shift.
var placesIn = regexp.MustCompile(`:\d+:\d+`)

// NewFaults are those of the build after that it did not have before, wherever
// in the same file they stand.
func (d *Draft) NewFaults(after *ledger.Build) []ledger.Fault {
	key := func(f ledger.Fault) string { return f.Place.File + placesIn.ReplaceAllString(f.Message, "") }
	had := map[string]int{}
	for _, f := range d.Before().Faults {
		had[key(f)]++
	}
	var out []ledger.Fault
	for _, f := range after.Faults {
		if had[key(f)]--; had[key(f)] < 0 {
			out = append(out, f)
		}
	}
	return out
}

// Refused is the error of a change that would leave the build with a fault
// that it does not have now.
type Refused struct{ Faults []ledger.Fault }

func (r *Refused) Error() string {
	var lines []string
	for _, f := range r.Faults {
		lines = append(lines, "it would have a fault: "+f.String())
	}
	return strings.Join(lines, "\n")
}

// Plan is what the draft changes. It is an error if the build would have a
// fault then that it does not have now.
func (d *Draft) Plan() (Plan, error) {
	if faults := d.NewFaults(d.After()); len(faults) > 0 {
		return Plan{}, &Refused{faults}
	}
	return d.Changes(), nil
}

// Changes is what the draft changes, sound or not: for what a person goes on to
// write.
func (d *Draft) Changes() Plan {
	p := Plan{Base: map[string]string{}}
	for name, f := range d.files {
		if f.there {
			p.Base[name] = f.hash
		}
		p.Edits = append(p.Edits, f.edits()...)
	}
	sort.SliceStable(p.Edits, func(i, j int) bool { return p.Edits[i].File < p.Edits[j].File })
	return p
}

func (f *file) edits() []Edit { return f.text.edits(f.name, len(f.old), len(f.mark)) }

// sound tells what is wrong with a file, which is not changed then.
func (f *file) sound() error {
	if len(f.doc.Faults) == 0 {
		return nil
	}
	first := f.doc.Faults[0]
	return fmt.Errorf("%s:%d:%d: %s; the file is not changed until that is put right", f.shown, first.At.Line, first.At.Column, first.Message)
}

// apply makes changes of a file's text, if they lead to the tree that was
// asked for.
func (f *file) apply(want any, changes []change) error {
	if err := f.sound(); err != nil {
		return err
	}
	slices.SortStableFunc(changes, func(a, b change) int { return b.from - a.from })
	text, end := f.text, lineEndOf(f.doc.Text)
	last := len(f.doc.Text)
	for _, c := range changes {
		if c.to > last {
			return fmt.Errorf("%s: internal error: two changes of one place", f.shown)
		}
		last = c.from
		text = text.replace(c.from, c.to, strings.ReplaceAll(c.text, "\n", end))
	}
	return f.become(want, text)
}

// become gives the file another text, if that leads to the tree that was asked
// for.
func (f *file) become(want any, text pieces) error {
	doc := syntax.Read([]byte(text.String()))
	if len(doc.Faults) > 0 {
		return fmt.Errorf("%s: what would be written has a fault: %s", f.shown, doc.Faults[0].Message)
	}
	tree := treeOf(doc.Root)
	if !reflect.DeepEqual(pruned(tree), pruned(want)) {
		return fmt.Errorf("%s: internal error: what would be written does not say what was asked", f.shown)
	}
	f.text, f.doc, f.tree, f.draft.after = text, doc, tree, nil
	return nil
}

func lineEndOf(text string) string {
	if strings.Contains(text, "\r\n") {
		return "\r\n"
	}
	return "\n"
}

// find is the file that an entry stands in, and its path there.
func (d *Draft) find(entry string) (*file, []string, error) {
	path := strings.Split(entry, ".")
	var found *file
	best := -1
	for _, name := range d.names() {
		f := d.files[name]
		if f.doc.Root == nil {
			continue
		}
		n, depth := deepest(f.doc.Root, path)
		if depth < len(path) {
			continue
		}
		own := 0 // a [vehicle] that only holds axles is the shadow of another
		for _, c := range n.Children {
			if entry != "vehicle" || c.Key != "front" && c.Key != "rear" {
				own++
			}
		}
		if own > best {
			found, best = f, own
		}
	}
	if found == nil {
		return nil, nil, fmt.Errorf("%s: there is no %s", d.src.Folder(), entry)
	}
	return found, path, found.sound()
}

// names are those of all files, sorted.
func (d *Draft) names() []string {
	var out []string
	for name := range d.files {
		out = append(out, name)
	}
	sort.Strings(out)
	return out
}
