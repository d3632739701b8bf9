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

	layers  []map[string]*Entry // entries by path; what stands in an earlier map counts
	behind  []*Build            // of a mix of two ledgers: where entries are looked up that it lacks
	main    q.Place
	hookups map[string]HookupRule
	words   words
	ofShop  *shop            // nil where there is none
	lacks   map[Fault]string // by fault, the name of the entry that is not there
	lost    []loss
	revised string // the later date of a revision; "" of a folder
	carried Carried
	phantom bool
	// supposed is the answer to every question of a phantom; nil leaves them open.
	supposed *bool

	files *files // what FileDigest looks at

	memo  map[any]memoized
	reads *Reads // what is being noted; nil where nobody asks
}

func newBuild(folder string, layers ...map[string]*Entry) *Build {
	main := q.Place{File: MainFile, Line: 1, Column: 1}
	return &Build{Folder: folder, layers: layers, main: main, hookups: hookups, memo: map[any]memoized{}}
}

// Main is the top of the build's main file, which is told as the place of what is
// not in the ledger.
func (b *Build) Main() q.Place { return b.main }

// Overlay is the build with other entries in place of its own. A nil entry takes
// the build's own away.
func (b *Build) Overlay(entries map[string]*Entry) *Build {
	c := *b
	c.layers = append([]map[string]*Entry{entries}, b.layers...)
	c.memo = map[any]memoized{}
	return &c
}

// Entry finds an entry by its path. In a mix of two ledgers, one that the mix lacks
// is taken from the ledger that has it.
func (b *Build) Entry(path string) (*Entry, bool) {
	if b.reads != nil {
		b.reads.note(KindOf(path))
	}
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
	most := 0
	for _, l := range b.layers {
		most += len(l)
	}
	out := make([]*Entry, 0, most)
	for i, l := range b.layers {
		for path, e := range l {
			if e != nil && !slices.ContainsFunc(b.layers[:i], func(above map[string]*Entry) bool { _, ok := above[path]; return ok }) {
				out = append(out, e)
			}
		}
	}
	slices.SortFunc(out, func(x, y *Entry) int { return strings.Compare(x.Path(), y.Path()) })
	b.memo[allEntries{}] = memoized{value: out}
	return out
}

type allEntries struct{}

// Memo keeps what several rules use, so that it is worked out once a build.
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

// view is the entry's view, with the values that it takes from the entry that it
// is like.
func view[T any](b *Build, e *Entry) *T { return b.View(e).(*T) }

// like is the key that names the entry from which this one takes the values that
// it does not give, and that entry's name; both "" where there is none.
func (e *Entry) like() (key, to string) {
	if e.schema.Like == nil || e.node == nil {
		return "", ""
	}
	to, _ = stringOf(e.node.Child(e.schema.Like.Key))
	return e.schema.Like.Key, to
}

// alike is the view of an entry with the values that it does not give taken from
// the entry that it is like.
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

// absence is by what the view of an entry that is not there is kept: its kind, and
// what it waits for.
type absence struct{ kind, entry, need string }

// get is the view of the entry that a reference names. For one that is not there it
// is a phantom, whose values all wait for the reference.
func get[T any](b *Build, r Ref, kind string) *T { return b.Named(r, kindNamed[kind]).(*T) }

// Named is the view of a kind that a reference names, a *Part or another. For one
// that is not there it is a phantom, whose values all wait for the reference.
func (b *Build) Named(r Ref, s *schema.Kind) any {
	kind := s.Name
	b.reads.note(s)
	if b.phantom {
		return memo(b, absence{kind: kind, need: "*"}, func() any { return b.phantomOf(s, kind+".*") })
	}
	if !r.Known() {
		at := absence{kind: kind}
		if src := r.Lacks(); src != nil {
			at.entry, at.need = src.Entry, src.Key
		} else {
			at.need = r.Needs()[0].Key
		}
		return memo(b, at, func() any {
			needs := r.Needs()
			return phantomView(s, kind+".?", needs[0].Place, needs, false)
		})
	}
	if e, ok := b.Entry(r.String()); ok && e.schema == s {
		return b.View(e)
	}
	need := []q.Need{{Key: r.String(), Place: b.main}}
	if src := r.Source(); src != nil {
		need[0].Place = src.Place
	}
	if r.Kind() != kind {
		need[0].Key = fmt.Sprintf("%s (%s is not a %s)", src(r), r.String(), kind)
	}
	return memo(b, absence{kind: kind, need: need[0].Key}, func() any {
		return phantomView(s, r.String(), b.main, need, false)
	})
}

func src(r Ref) string {
	if r.Source() == nil {
		return "a reference"
	}
	return r.Source().Path()
}

// the is the view of the entry of a kind of which there is one.
func the[T any](b *Build, kind string) *T {
	s := kindNamed[kind]
	return b.single(s).(*T)
}

func (b *Build) single(s *schema.Kind) any {
	b.reads.note(s)
	return memo(b, s, func() any {
		if e, ok := b.own(s.Name); ok {
			return e.view
		}
		return b.phantomOf(s, s.Name)
	})
}

// Views are those of all entries of a kind, by id, of whatever type; of a single
// kind the one, there or not.
func (b *Build) Views(s *schema.Kind) []any {
	b.reads.note(s)
	switch {
	case s.Single:
		return []any{b.single(s)}
	case b.phantom:
		return []any{b.phantomOf(s, s.Name+".*")}
	}
	var out []any
	for _, e := range b.Entries() {
		if e.schema == s {
			out = append(out, b.View(e))
		}
	}
	return out
}

// Phantoms is a ledger with one entry of each kind, of which nothing is known. It
// shows which keys a rule reads.
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
