package ledger

import (
	"iter"
	"slices"
	"strings"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

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

// Refer tells whether one of the references is to an entry or a value, or to what
// stands within it: a document of part.engine.mass is one of part.engine. It does
// not hold the other way round. Who says that a document proves an engine, as its
// label does, has said nothing of its rated power; a figure that nobody believes
// waits for a document that names that figure.
func Refer(refs []Ref, path string) bool {
	return slices.ContainsFunc(refs, func(r Ref) bool {
		within, ok := strings.CutPrefix(r.String(), path)
		return ok && path != "" && (within == "" || within[0] == '.')
	})
}

// Outward gives a name, and then the names of what it stands in: of a value its
// entry, of a pin its plug.
func Outward(name string) iter.Seq[string] {
	return func(yield func(string) bool) {
		name, _, _ := strings.Cut(name, ":")
		for yield(name) {
			dot := strings.LastIndexByte(name, '.')
			if dot < 0 {
				return
			}
			name = name[:dot]
		}
	}
}

// EntryOf is the entry that a name is of, or is of a value or a pin of; nil where there
// is none.
func (b *Build) EntryOf(name string) *Entry {
	for name := range Outward(name) {
		if e, ok := b.Entry(name); ok {
			return e
		}
	}
	return nil
}

// Date is a calendar date, traced like a word and spelt YYYY-MM-DD.
type Date struct{ q.Word }

// After tells whether the date is later than another.
func (d Date) After(e Date) q.Truth {
	if !d.Known() || !e.Known() {
		return d.Required().And(e.Required())
	}
	return q.Is(d.String() > e.String())
}

// SchemaType is what a date is to the schema.
func (Date) SchemaType() schema.Type { return schema.Date }

// SchemaType is what a reference is to the schema.
func (Ref) SchemaType() schema.Type { return schema.Ref }
