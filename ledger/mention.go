package ledger

import (
	"strings"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
	"fishplate/ledger/syntax"
)

// Mentions are the places in a build's own files that name an entry, or one of
// its values: the place of the text, or of the key where a key is the name.
func (b *Build) Mentions(path string) []q.Place {
	var out []q.Place
	for _, e := range b.Entries() {
		if e.Shop {
			continue
		}
		for _, r := range e.refs {
			if r.to == path || strings.HasPrefix(r.to, path+".") {
				out = append(out, r.place)
			}
		}
		e.wordsNaming(path, &out)
	}
	return out
}

// wordsNaming adds the places of words that name an entry where they need not, as
// a waiver's entry does.
func (e *Entry) wordsNaming(path string, out *[]q.Place) {
	var walk func(n *syntax.Node, f *schema.Field)
	walk = func(n *syntax.Node, f *schema.Field) {
		if f == nil || f.Free || e.schema.Inside[n.Key] != nil {
			return
		}
		text, is := n.Value.(string)
		if is && f.Type == schema.Word && (text == path || strings.HasPrefix(text, path+".")) {
			*out = append(*out, e.place(n, n.ValueAt))
		}
		for _, c := range n.Children {
			walk(c, f.Below(c.Key))
		}
	}
	if e.node != nil {
		for _, c := range e.node.Children {
			walk(c, e.schema.Field(c.Key))
		}
	}
}
