package ledger

import (
	q "fishplate/ledger/quantity"
)

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

// Given tells whether the entry is in the ledger, as Given does of a value. Where
// it is not known which entry is meant, that is missing.
func (h Head) Given() q.Truth {
	if len(h.needs) > 0 && h.entry == nil {
		return q.Unknown(h.needs)
	}
	return q.Is(h.entry != nil)
}

// Damaged tells that something is wrong with the entry in its file, so that what it
// does not say may only be hidden.
func (h Head) Damaged() bool { return h.entry != nil && len(h.needs) > 0 }

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

// Quantities is the entry's list under key, or, where the ledger has no such
// list or an empty one, a single value that is missing.
func (h Head) Quantities(list []q.Quantity, key string, dim q.Dim) []q.Quantity {
	switch {
	case len(list) > 0:
		return list
	case len(h.needs) > 0:
		return []q.Quantity{q.WaitsFor(dim, h.needs)}
	}
	return []q.Quantity{q.Missing(dim, &q.Source{Entry: h.path, Key: key, Place: h.place})}
}
