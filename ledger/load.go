package ledger

import (
	"fmt"
	"slices"
	"sync"
	"time"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/revision"
)

// Loader reads builds. It is safe for concurrent use, and reads a shop's file
// once for all the builds that share it.
type Loader struct {
	mu    sync.Mutex
	shops map[string]*shop
	kept  *kept // nil where each build is read once and let go
}

// NewLoader makes a loader for builds that are read once.
func NewLoader() *Loader { return &Loader{shops: map[string]*shop{}} }

// NewKeeper makes a loader for builds that are read again and again: what did
// not change since, file by file, is neither read nor bound anew.
func NewKeeper() *Loader {
	l := NewLoader()
	l.kept = &kept{bound: map[boundKey]*boundFile{}}
	return l
}

// Load reads a build and tells everything that is wrong with its files. The
// build is nil where there are faults.
func (l *Loader) Load(src *revision.Build) (*Build, []Fault) {
	b := l.Read(src)
	if len(b.Faults) > 0 {
		return nil, b.Faults
	}
	return b, nil
}

// Read reads a build, and what of it can be read where something is wrong: an
// entry with a fault is there, and what it does not surely say is missing and
// waits for the fault to be put right.
func (l *Loader) Read(src *revision.Build) *Build {
	sh, faults := l.shop(src)
	r := &reader{entries: map[string]*Entry{}, hookups: sh.hookups, words: sh.words, ofShop: sh, kept: l.kept}
	r.whole(src)
	b := newBuild(src.Folder(), r.entries, sh.entries)
	b.main.File = src.Name(MainFile)
	b.hookups, b.words, b.Limits, b.ofShop = sh.hookups, sh.words, sh.limits, sh
	b.files = filesOf(src)
	b.revised = revised(src)
	if !r.unread && !sh.unread {
		r.references(b)
		r.cycles(b)
	}
	b.Packs = packs(b)
	b.layers = []map[string]*Entry{r.entries, used(r.entries, sh.entries)}
	b.memo = map[any]memoized{}
	b.lacks, b.lost = r.lacks, append(r.lost, sh.lost...)
	b.Faults = SortFaults(append(slices.Clone(faults), r.faults...))
	return b
}

// changeTime is how long a change of several files may take until it is taken
// to have been cut short.
const changeTime = 2 * time.Second

// whole reads a build's files at a time when no change of several of them is
// being made.
func (r *reader) whole(src *revision.Build) {
	began, asked := *r, time.Now()
	// One that was begun a while ago is not waited for: a tree may be full of them.
	lasts := func() (cut, going bool) {
		since, is := src.Changing()
		going = is && time.Since(since).Abs() < changeTime && time.Since(asked) < changeTime
		return is && !going, going
	}
	for ; ; time.Sleep(changeTime / 100) {
		if _, going := lasts(); going {
			continue
		}
		*r = began
		r.entries = map[string]*Entry{}
		files, err := src.TOML()
		if err != nil {
			r.faults, r.unread = []Fault{{q.Place{File: src.Folder()}, err.Error()}}, true
			r.lost = append(r.lost, lossOf(src.Folder()))
		}
		r.files(src, files)
		switch cut, going := lasts(); {
		case going:
		case !cut:
			return
		default:
			r.cannotRead(src.Name(revision.Journal), "a change of several files was cut short, and half of it may be read; the next attach or sign completes it")
			return
		}
	}
}

// files reads a build's files, all at once: a revision has them ready together.
func (r *reader) files(src *revision.Build, files []revision.File) {
	files = r.within(src, files)
	var names []string
	for _, f := range files {
		if f.Fault != "" {
			r.cannotRead(src.Name(f.Path), f.Fault)
			continue
		}
		names = append(names, f.Path)
	}
	data, errs := src.ReadAll(names)
	size := 0
	for i, name := range names {
		shown := src.Name(name)
		if errs[i] != nil {
			r.cannotRead(shown, message(errs[i]))
			continue
		}
		if size += len(data[i]); size > MaxLedger {
			r.cannotRead(shown, fmt.Sprintf("a ledger may have %d KiB of TOML in all its files; with this one it has more", MaxLedger>>10))
			break
		}
		r.take(r.bound(shown, data[i]))
	}
	if len(r.entries) > MaxEntries {
		r.tooMany()
	}
}

func (r *reader) cannotRead(name, why string) {
	r.faults = append(r.faults, Fault{q.Place{File: name, Line: 1, Column: 1}, why})
	r.unread = true
	r.lost = append(r.lost, lossOf(name))
}

// revised is the later of the author's and the committer's date of a revision,
// "" of a folder.
func revised(src *revision.Build) string {
	d, ok := src.Date()
	if !ok {
		return ""
	}
	return max(d.Format(time.DateOnly), src.Authored().Format(time.DateOnly))
}

func message(err error) string {
	if e, ok := err.(*revision.Error); ok {
		return e.Message
	}
	return err.Error()
}

func packs(b *Build) []q.Word {
	if p := b.Info().Packs; p != nil {
		return p
	}
	return the[ShopInfo](b, "shop").Packs
}
