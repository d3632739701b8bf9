package edit

import (
	"reflect"
	"slices"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/syntax"
)

// Stand is where a key of an entry stands in a draft, or a header; false where
// it does not.
func (d *Draft) Stand(entry string, path []string) (s Standing, ok bool) {
	f, at, err := d.find(entry)
	if f == nil || err != nil {
		return s, false
	}
	full := append(slices.Clone(at), path...)
	n, depth := deepest(f.doc.Root, full)
	return Standing{f, n}, depth == len(full)
}

// Standing is a key or a header in a draft, until the draft changes again.
type Standing struct {
	file *file
	node *syntax.Node
}

// File is the name of the file, as the user would type it.
func (s Standing) File() string { return s.file.shown }

// Line is where it stands in the file.
func (s Standing) Line() int { return s.node.KeyAt.Line }

// Kind is what stands there.
func (s Standing) Kind() syntax.Kind { return s.node.Kind }

// Says tells whether it says the same as a value.
func (s Standing) Says(v Value) bool {
	said, err := v.tree()
	return err == nil && reflect.DeepEqual(treeOf(s.node), said)
}

// Has tells whether a place of a fault is that of the key, of its value or of
// something in it.
func (s Standing) Has(p q.Place) bool {
	if p.File != s.file.shown {
		return false
	}
	at := syntax.Position{Line: p.Line, Column: p.Column}
	var in func(n *syntax.Node) bool
	in = func(n *syntax.Node) bool {
		return n.KeyAt == at || n.ValueAt == at || slices.ContainsFunc(n.Children, in)
	}
	return in(s.node)
}
