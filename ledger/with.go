package ledger

import (
	"fmt"
	"strings"
)

// WithValue is the build with one value of one entry written anew, all else as
// it is: what a change would do, before anyone makes it. The key is a value's,
// such as "mass" or "at.behind". A key that the entry could have and leaves out is
// put in.
func (b *Build) WithValue(entryPath, key, text string) (*Build, []Fault) {
	old, ok := b.Entry(entryPath)
	if !ok || old.node == nil {
		return nil, []Fault{{b.main, fmt.Sprintf("there is no %s", entryPath)}}
	}
	node, ok := old.node.With(strings.Split(key, "."), text)
	if !ok && old.schema.Has(key) && old.node.Child(key) == nil {
		node, ok = old.node.WithNew(key, text), true
	}
	if !ok {
		return nil, []Fault{{old.Place, fmt.Sprintf("%s does not say %s", entryPath, key)}}
	}
	e := &Entry{Kind: old.Kind, ID: old.ID, Place: old.Place, Shop: old.Shop, path: old.path, node: node, schema: old.schema}
	var faults []Fault
	bindEntry(e, b.hookups, b.words, &room{}, &faults)
	if len(faults) > 0 {
		return nil, SortFaults(faults)
	}
	return b.Overlay(map[string]*Entry{entryPath: e}), nil
}

// Value finds a value of an entry by its path ("part.engine", "at.behind") as
// it was written.
func (b *Build) Value(entryPath, key string) (Value, bool) {
	if e, ok := b.Entry(entryPath); ok {
		for _, v := range e.Values() {
			if v.Key == key {
				return v, true
			}
		}
	}
	return Value{}, false
}
