package ledger

import (
	"fishplate/ledger/syntax"
)

// WithEntries is the build with the entries added that the text of a TOML file
// holds, and tells everything that is wrong with them. The file need not be
// there yet.
func (b *Build) WithEntries(file string, text []byte) (*Build, []Fault) {
	r := &reader{file: file, entries: map[string]*Entry{}, hookups: b.hookups, words: b.words}
	r.document(syntax.Read(text))
	for path, e := range r.entries {
		if old, ok := b.Entry(path); ok {
			r.faults = append(r.faults, e.twice(old))
		}
	}
	c := b.Overlay(r.entries)
	for _, e := range r.entries {
		for _, ref := range e.refs {
			if !r.unread {
				r.reference(c, ref)
			}
		}
	}
	if len(r.faults) > 0 {
		return nil, SortFaults(r.faults)
	}
	return c, nil
}
