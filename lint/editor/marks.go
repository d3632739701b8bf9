package editor

import (
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/syntax"
)

// mark names a place in a file by what stands there, so that it is found again when
// lines have moved.
type mark struct {
	file  string   // its path
	keys  []string // from the root down; a place in a list by its number
	value bool     // the value, and not the key
	place quantity.Place
}

// markOf is the mark of a place in the build as it was read.
func (b *build) markOf(p quantity.Place) mark {
	f := b.fileAt(p)
	if f == nil {
		return mark{file: filepath.Join(b.dir, ledger.MainFile), place: p}
	}
	if f.at == nil {
		f.at = map[syntax.Position]mark{}
		if f.doc.Root != nil {
			f.note(f.doc.Root, nil)
		}
	}
	m := f.at[syntax.Position{Line: p.Line, Column: p.Column}]
	m.file, m.place = f.path, p
	return m
}

// note notes where the nodes below one stand. The outer of two that begin at one
// place has it.
func (f *file) note(n *syntax.Node, path []string) {
	for i, c := range n.Children {
		name := c.Key
		if n.Kind == syntax.Array {
			name = strconv.Itoa(i)
		}
		here := append(slices.Clone(path), name)
		if _, taken := f.at[c.KeyAt]; !taken {
			f.at[c.KeyAt] = mark{keys: here, value: n.Kind == syntax.Array}
		}
		if _, taken := f.at[c.ValueAt]; !taken {
			f.at[c.ValueAt] = mark{keys: here, value: true}
		}
		f.note(c, here)
	}
}

// rangeOf is where a mark is now: at its key or value; where that is gone, at what
// it stood in.
func (b *build) rangeOf(m mark, e Encoding) Range {
	f := b.files[m.file]
	if f == nil {
		return Range{}
	}
	n, depth := follow(f.doc.Root, m.keys)
	if len(m.keys) == 0 || depth == 0 {
		return f.wordAt(m.place, e)
	}
	r := n.KeyRange
	if (m.value && depth == len(m.keys) || r.Empty()) && !n.ValueRange.Empty() {
		r = n.ValueRange
	}
	if r.Empty() {
		return f.wordAt(quantity.Place{Line: n.KeyAt.Line, Column: n.KeyAt.Column}, e)
	}
	shift := f.text.shift()
	from, to := int(r.From)+shift, int(r.To)+shift
	if end := lineEnd(f.text.s, from); to > end { // of a value over many lines the first
		to = end
	}
	return f.text.span(from, to, e)
}

// wordAt is the range of the word that begins at a place.
func (f *file) wordAt(p quantity.Place, e Encoding) Range {
	from := f.text.at(max(p.Line, 1), max(p.Column, 1))
	line := f.text.s[from:lineEnd(f.text.s, from)]
	n := strings.IndexAny(line, " \t\r,=")
	if n < 0 {
		n = len(line)
	}
	return f.text.span(from, from+n, e)
}

// follow follows keys down a tree as far as they are there.
func follow(n *syntax.Node, keys []string) (*syntax.Node, int) {
	for i, key := range keys {
		if n == nil {
			return nil, 0
		}
		c := n.Child(key)
		if at, err := strconv.Atoi(key); n.Kind == syntax.Array && err == nil && at >= 0 && at < len(n.Children) {
			c = n.Children[at]
		}
		if c == nil {
			return n, i
		}
		n = c
	}
	return n, len(keys)
}
