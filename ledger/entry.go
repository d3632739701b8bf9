package ledger

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
	"fishplate/ledger/syntax"
)

// Entry is one entry of a ledger: a single one such as vehicle, or one of a
// kind with an id such as part.radiator. It is never changed once read.
type Entry struct {
	Kind, ID string
	Place    q.Place
	Shop     bool // it stands in the shop's file

	damaged bool     // something in it has a fault: what it does not say may have stood there
	also    []source // where keys come from that stand in another file
	path    string
	node    *syntax.Node
	schema  *schema.Kind
	view    any
	refs    []reference
	strange []Unheard
	system  q.Word // what it says; see Build.System
}

// source is a document by the name of the file that it was read from.
type source struct {
	doc  *syntax.Document
	file string
}

// Schema is the kind of the entry.
func (e *Entry) Schema() *schema.Kind { return e.schema }

// Path is the entry's name: "vehicle", "part.radiator".
func (e *Entry) Path() string { return e.path }

func join(kind, id string) string {
	if id == "" {
		return kind
	}
	return kind + "." + id
}

// Head is what every view has: the entry that it is a view of.
type Head struct {
	path  string
	place q.Place
	entry *Entry
	needs []q.Need
}

// Path is the entry's name.
func (h Head) Path() string { return h.path }

// Place is where the entry stands; for one that is not there, the top of the
// build's main file.
func (h Head) Place() q.Place { return h.place }

// Entry is the entry, or nil where the view is of something absent.
func (h Head) Entry() *Entry { return h.entry }

// Written tells whether the entry is in the ledger. Where it is not known
// which entry is meant, that is missing.
func (h Head) Written() q.Truth {
	if len(h.needs) > 0 && h.entry == nil {
		return q.Unknown(h.needs)
	}
	return q.Is(h.entry != nil)
}

// Subject is what a check is about.
type Subject interface {
	Path() string
	Place() q.Place
}

func (h *Head) setHead(v Head) { *h = v }

// Words is the entry's list under key, or, where the ledger has no such list
// or an empty one, a single word that is missing.
func (h Head) Words(list []q.Word, key string) []q.Word {
	switch {
	case len(list) > 0:
		return list
	case len(h.needs) > 0:
		return []q.Word{waitingWord(h.needs)}
	}
	return []q.Word{q.MissingWord(&q.Source{Entry: h.path, Key: key, Place: h.place})}
}

// Fault is something wrong in a ledger's files.
type Fault struct {
	Place   q.Place
	Message string
}

func (f Fault) String() string {
	if f.Place.Line == 0 {
		return fmt.Sprintf("%s: %s", f.Place.File, f.Message)
	}
	return fmt.Sprintf("%s:%d:%d: %s", f.Place.File, f.Place.Line, f.Place.Column, f.Message)
}

// SortFaults sorts by file, line and column, and drops repeats.
func SortFaults(faults []Fault) []Fault {
	slices.SortStableFunc(faults, func(a, b Fault) int {
		return cmp.Or(comparePlaces(a.Place, b.Place), cmp.Compare(a.Message, b.Message))
	})
	return slices.Compact(faults)
}

func comparePlaces(a, b q.Place) int {
	return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
}

// Ref names another entry, or holds free words where a key allows them.
type Ref struct{ q.Word }

// Kind is the kind of entry named; "" where it is missing or free words.
func (r Ref) Kind() string {
	k, _, ok := strings.Cut(r.String(), ".")
	if !ok || !isKind(k) {
		return ""
	}
	return k
}

// Names tells whether the reference names an entry of the kind.
func (r Ref) Names(kind string) q.Truth {
	if !r.Known() {
		return q.Unknown(r.Needs())
	}
	return q.Is(r.Kind() == kind)
}

// Date is a calendar date, traced like a word and spelt YYYY-MM-DD.
type Date struct{ q.Word }

// After tells whether the date is later than another.
func (d Date) After(e Date) q.Truth {
	if !d.Known() || !e.Known() {
		return d.Said().And(e.Said())
	}
	return q.Is(d.String() > e.String())
}

// Hookup is one thing that a part needs or gives.
type Hookup struct {
	Kind    string
	Least   q.Quantity // needs
	Exactly q.Quantity // needs
	Takes   q.Quantity // needs, of what adds up
	Level   q.Quantity // gives
	From    Ref        // needs
	place   q.Place
}

// Place is where it is written.
func (h Hookup) Place() q.Place { return h.place }

// Value is one value of an entry as authored, its spelling made canonical.
type Value struct {
	Key     string        // "mass", "at.behind", "to.0"
	Field   *schema.Field // what the schema knows of it; nil where it knows nothing
	Type    string        // "quantity", "word", "number", "truth", "date"; "nothing" of an empty list or table
	Text    string
	Place   q.Place
	Private bool
}

// Values lists the entry's values in the order of their keys.
func (e *Entry) Values() []Value {
	var out []Value
	if e.node != nil {
		out = make([]Value, 0, 2*len(e.node.Children))
		for _, c := range e.node.Children {
			if e.schema.Inside[c.Key] == nil { // else it is an entry of its own
				e.flatten(&out, e.schema.Field(c.Key), c, c.Key, false)
			}
		}
	}
	slices.SortFunc(out, func(a, b Value) int { return strings.Compare(a.Key, b.Key) })
	return out
}

// flatten lists the values of a node under the name of its key. The field is nil
// where the schema has none.
func (e *Entry) flatten(out *[]Value, f *schema.Field, n *syntax.Node, name string, private bool) {
	private = private || f != nil && f.Private
	if (n.Kind == syntax.Table || n.Kind == syntax.Array) && len(n.Children) > 0 {
		for i, c := range n.Children {
			key := c.Key
			if n.Kind == syntax.Array {
				key = strconv.Itoa(i)
			}
			e.flatten(out, f.Below(key), c, name+"."+key, private)
		}
		return
	}
	v := Value{Key: name, Field: f, Place: e.place(n, n.KeyAt), Private: private}
	v.Type, v.Text = canonicalValue(f, n)
	*out = append(*out, v)
}

// canonicalValue spells a value: a quantity by its reading, anything else as it is.
func canonicalValue(f *schema.Field, n *syntax.Node) (kind, text string) {
	switch n.Kind {
	case syntax.Table, syntax.Array:
		return "nothing", ""
	case syntax.String:
		return canonicalString(f, n.Value.(string))
	case syntax.Bool:
		return "truth", fmt.Sprint(n.Value)
	case syntax.Date:
		return "date", dateText(n)
	}
	return "number", plainNumber(n.Value)
}

func canonicalString(f *schema.Field, text string) (kind, spelled string) {
	switch {
	case f == nil:
	case f.TakesQuantity():
		if r, err := q.Parse(text, f.Dim, q.Options{Exact: f.Exact}); err == nil {
			return "quantity", r.Spelling
		}
	case f.Size:
		if size, err := conductorSize(text); err == nil {
			return "word", size
		}
	case f.Type == schema.Date:
		return "date", text
	}
	return "word", strings.ReplaceAll(text, "\r\n", "\n")
}

// plainNumber spells a TOML number by its value: 4 and 4.0 are one number.
func plainNumber(v any) string {
	f, ok := v.(float64)
	switch {
	case !ok:
		return fmt.Sprint(v)
	case f == 0:
		return "0"
	case math.Abs(f) < 1e18:
		return strconv.FormatFloat(f, 'f', -1, 64)
	}
	return strconv.FormatFloat(f, 'g', -1, 64)
}

// place is a position in the file that a node of the entry stands in.
func (e *Entry) place(n *syntax.Node, p syntax.Position) q.Place {
	file := e.Place.File
	for _, s := range e.also {
		if s.doc == n.In {
			file = s.file
		}
	}
	return q.Place{File: file, Line: p.Line, Column: p.Column}
}

// sources are the files that the entry's keys stand in.
func (e *Entry) sources() []source {
	return append([]source{{e.node.In, e.Place.File}}, e.also...)
}
