package shoprules

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

// kindFunction is what the function is called that lists all entries of a kind.
func kindFunction(k *schema.Kind) string {
	plural := spelled(strings.ReplaceAll(k.Plural, " ", "-"))
	if strings.Count(k.Plural, " ") > 1 {
		plural = spelled(k.Name) + "s"
	}
	return plural
}

// lists and singles are the hidden names of all entries of a kind that has ids, and
// the names of those that there is one of.
var lists, singles = sync.OnceValue(func() map[string]*fields { return kindsBy(false) }), sync.OnceValue(func() map[string]*fields { return kindsBy(true) })

func kindsBy(single bool) map[string]*fields {
	out := map[string]*fields{}
	for _, k := range ledger.Judged() {
		switch {
		case k.Single != single, strings.Contains(k.Name, "."):
		case single:
			out[spelled(k.Name)] = fieldsOf(k)
		default:
			out["@"+kindFunction(k)] = fieldsOf(k)
		}
	}
	return out
}

// KindOf is what an expression reads of a kind of entry, and how it comes by it. A
// table that stands in entries is one too, without a way of its own.
type KindOf struct {
	Name     string
	All, One string // what gives all of them, and one; "" where nothing does
	Keys     []Key
}

// Key is one that an expression reads, and of what type it is.
type Key struct{ Name, Type string }

// Kinds lists what expressions read: the kinds of entry in their order, then the
// tables that stand in entries, by name.
func Kinds() (out []KindOf) {
	inner := maps.Clone(tables())
	for _, k := range ledger.Judged() {
		f := fieldsOf(k)
		delete(inner, typeName(k.Name))
		of := KindOf{Name: k.Name, One: k.Name, Keys: f.keys()}
		if !k.Single {
			of.All, of.One = kindFunction(k)+"()", fmt.Sprintf("%s('%s.x')", spelled(k.Name), k.Name)
		} else if !strings.Contains(k.Name, ".") {
			of.One = spelled(k.Name)
		}
		out = append(out, of)
	}
	for _, name := range slices.Sorted(maps.Keys(inner)) {
		out = append(out, KindOf{Name: inner[name].name, Keys: inner[name].keys()})
	}
	return out
}

func (f *fields) keys() (out []Key) {
	for _, name := range f.names {
		out = append(out, Key{name, f.of[name].shape.typed()})
	}
	return out
}

// typed is the type of a value in words.
func (s *shape) typed() string {
	switch s.sort {
	case aTruth:
		return "yes or no"
	case aText:
		return "text"
	case anAmount:
		if s.q.Dim() == quantity.Any {
			return "a quantity"
		}
		return Noun(s.q.Dim())
	case anEntry:
		return s.of.name
	case aList:
		return "list of " + s.elem.typed()
	}
	return s.noun()
}
