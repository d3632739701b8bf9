package ledger

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

// MainFile is the file that makes a folder a build.
const MainFile = "build.toml"

// Limit is a shop's own limit for a rule.
type Limit struct {
	Rule  string
	Value q.Quantity
	Place q.Place
}

// Build is a ledger as rules see it. It is for one goroutine at a time.
type Build struct {
	Folder string // as the user would type it
	Packs  []q.Word
	Limits map[string]Limit
	Faults []Fault // what is wrong with its files; what could be read is judged all the same

	layers  []map[string]*Entry // the topmost first
	behind  []*Build            // where references that dangle in a mix lead
	main    q.Place
	hookups map[string]HookupRule
	words   words
	lacks   map[Fault]string
	revised string // of a revision, its later date
	phantom bool
	// supposed answers every question of a phantom; nil leaves them open.
	supposed *bool

	files *files // what FileDigest looks at

	memo  map[any]memoized
	reads *Reads // what is being noted; nil where nobody asks
}

func newBuild(folder string, layers ...map[string]*Entry) *Build {
	main := q.Place{File: MainFile, Line: 1, Column: 1}
	return &Build{Folder: folder, layers: layers, main: main, hookups: hookups, memo: map[any]memoized{}}
}

// Main is the top of the build's main file, the place of what is absent.
func (b *Build) Main() q.Place { return b.main }

// Overlay is the build with the given entries in place of its own; a nil entry
// is one taken away.
func (b *Build) Overlay(entries map[string]*Entry) *Build {
	c := *b
	c.layers = append([]map[string]*Entry{entries}, b.layers...)
	c.memo = map[any]memoized{}
	return &c
}

// Entry finds an entry by its path. In a mix of two ledgers, what dangles falls
// through to the ledger that has it.
func (b *Build) Entry(path string) (*Entry, bool) {
	b.reads.note(KindOf(path))
	if e, ok := b.own(path); ok {
		return e, true
	}
	for _, c := range b.behind {
		if e, ok := c.Entry(path); ok {
			return e, true
		}
	}
	return nil, false
}

// own finds an entry in the build itself.
func (b *Build) own(path string) (*Entry, bool) {
	for _, l := range b.layers {
		if e, ok := l[path]; ok {
			return e, e != nil
		}
	}
	return nil, false
}

// Entries lists all entries by path.
func (b *Build) Entries() []*Entry {
	b.reads.noteAll()
	return b.entries()
}

// entries are all, which by itself is not to have looked at any.
func (b *Build) entries() []*Entry {
	if m, ok := b.memo[allEntries{}]; ok {
		return m.value.([]*Entry)
	}
	seen := map[string]bool{}
	var out []*Entry
	for _, l := range b.layers {
		for path, e := range l {
			if !seen[path] {
				seen[path] = true
				if e != nil {
					out = append(out, e)
				}
			}
		}
	}
	slices.SortFunc(out, func(x, y *Entry) int { return strings.Compare(x.Path(), y.Path()) })
	b.memo[allEntries{}] = memoized{value: out}
	return out
}

type allEntries struct{}

// Memo keeps what several rules share, worked out once a build.
func Memo[T any](b *Build, key any, work func() T) T { return memo(b, key, work) }

// memoized is a value, and what it took to work it out.
type memoized struct {
	value any
	reads *Reads // nil where nobody asked
}

func memo[T any](b *Build, key any, work func() T) T {
	m, ok := b.memo[key]
	switch {
	case b.reads == nil && !ok:
		m.value = work()
		b.memo[key] = m
	case b.reads == nil:
	case ok && m.reads != nil:
		b.reads.add(m.reads)
	default: // it was not asked yet what it takes
		m.reads = b.Reading(func() { m.value = work() })
		b.memo[key] = m
	}
	return m.value.(T)
}

type viewsOf struct{ s *schema.Kind }

// all lists the views of a kind, by id.
func all[T any](b *Build) []*T {
	s := kindOfView[reflect.TypeFor[T]()]
	b.reads.note(s)
	return memo(b, viewsOf{s}, func() []*T {
		if b.phantom {
			return []*T{b.phantomOf(s, s.Name+".*").(*T)}
		}
		var out []*T
		for _, e := range b.entries() {
			if e.schema == s {
				out = append(out, view[T](b, e))
			}
		}
		return out
	})
}

// view is the entry's view, with what it takes from the one it is like.
func view[T any](b *Build, e *Entry) *T {
	if _, to := e.like(); to == "" {
		return e.view.(*T)
	}
	return memo(b, e, func() *T { return b.alike(e, 0).Interface().(*T) })
}

// like is the key by which an entry takes from another what it does not say,
// and the other's name.
func (e *Entry) like() (key, to string) {
	if e.schema.Like == nil || e.node == nil {
		return "", ""
	}
	to, _ = stringOf(e.node.Child(e.schema.Like.Key))
	return e.schema.Like.Key, to
}

// alike is a view of an entry in which what it does not say is as in the entry
// that it is like.
func (b *Build) alike(e *Entry, depth int) reflect.Value {
	view := reflect.ValueOf(e.view)
	key, to := e.like()
	model, ok := b.Entry(to)
	if !ok || depth > deepest || model.schema != e.schema {
		return view
	}
	from := b.alike(model, depth+1).Elem()
	own := reflect.New(e.schema.View)
	own.Elem().Set(view.Elem())
	says := func(key string) bool { return key != "" && e.node.Child(key) != nil }
	for _, f := range e.schema.Fields {
		if f.Key != key && !says(f.Key) && !says(f.Unless) {
			own.Elem().Field(f.Index).Set(from.Field(f.Index))
		}
	}
	return own
}

// absence is what a phantom of a kind waits for.
type absence struct{ kind, need string }

// get is the view that a reference names. What is not there is a phantom that
// waits for the reference.
func get[T any](b *Build, r Ref, kind string) *T {
	s := kindNamed[kind]
	b.reads.note(s)
	if b.phantom {
		return memo(b, absence{kind, "*"}, func() *T { return b.phantomOf(s, kind+".*").(*T) })
	}
	if !r.Known() {
		needs := r.Needs()
		return memo(b, absence{kind, needs[0].Key}, func() *T {
			return phantomView(s, kind+".?", needs[0].Place, needs, false).(*T)
		})
	}
	if e, ok := b.Entry(r.String()); ok && e.schema == s {
		return view[T](b, e)
	}
	need := []q.Need{{Key: r.String(), Place: b.main}}
	if src := r.Source(); src != nil {
		need[0].Place = src.Place
	}
	if r.Kind() != kind {
		need[0].Key = fmt.Sprintf("%s (%s is not a %s)", src(r), r.String(), kind)
	}
	return memo(b, absence{kind, need[0].Key}, func() *T {
		return phantomView(s, r.String(), b.main, need, false).(*T)
	})
}

func src(r Ref) string {
	if r.Source() == nil {
		return "a reference"
	}
	return r.Source().Path()
}

// the is the view of a single entry.
func the[T any](b *Build, kind string) *T {
	s := kindNamed[kind]
	b.reads.note(s)
	return memo(b, s, func() *T {
		if e, ok := b.own(kind); ok {
			return e.view.(*T)
		}
		return b.phantomOf(s, kind).(*T)
	})
}

// Phantoms is a ledger in which there is one of everything and nothing is
// known: what a rule reads there is what it reads at all.
func Phantoms() *Build {
	b := newBuild("")
	b.phantom = true
	return b
}

// IsPhantom tells whether the build is the ledger of phantoms.
func (b *Build) IsPhantom() bool { return b.phantom }

// Info is [build].
func (b *Build) Info() *BuildInfo { return the[BuildInfo](b, "build") }

// Title is what the build is called; its folder where it has no title.
func (b *Build) Title() string {
	if t := b.Info().Title; t.Known() {
		return t.String()
	}
	return b.Folder
}

// Stage is how far the build has come; intake where it does not say.
func (b *Build) Stage() Stage {
	s, err := StageNamed(b.Info().Stage.Or("intake").String())
	if err != nil {
		return AtIntake
	}
	return s
}

// Style is how the build's values are shown.
func (b *Build) Style() q.Style {
	units := b.Info().Units
	if !units.Known() {
		units = the[ShopInfo](b, "shop").Units
	}
	return q.Style{SI: units.Or("us").Is("si").Holds()}
}
