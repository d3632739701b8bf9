package ledger

import (
	"slices"
	"strings"

	"fishplate/ledger/schema"
	"fishplate/ledger/syntax"
)

// Free tells whether the value is sentences for people, in which a name is no
// reference.
func (v Value) Free() bool { return v.Field != nil && v.Field.Free }

// Renamed is the value with the entries that it names under other names, which
// to gives; a name that to does not know stays.
func (v Value) Renamed(to func(path string) (string, bool)) Value {
	if v.Free() {
		return v
	}
	if v.Field != nil && v.Field.Keys != "" {
		if table, id, ok := strings.Cut(v.Key, "."); ok {
			v.Key = table + "." + renamed(id, to)
		}
	}
	if v.Type == "word" {
		v.Text = renamed(v.Text, to)
	}
	return v
}

// renamed gives the name of an entry, of one of its values or of a plug's pin
// ("part.a", "part.a.mass", "plug.a:4") with the entry under another name.
func renamed(text string, to func(string) (string, bool)) string {
	kind, rest, ok := strings.Cut(text, ".")
	if !ok || !isKind(kind) {
		return text
	}
	end := strings.IndexAny(rest, ".:")
	if end < 0 {
		end = len(rest)
	}
	if name, ok := to(kind + "." + rest[:end]); ok {
		return name + rest[end:]
	}
	return text
}

// Renamed is the build with entries under other names, wherever they are
// named. Entries keep their places.
func (b *Build) Renamed(names map[string]string) *Build {
	if len(names) == 0 {
		return b
	}
	to := func(path string) (string, bool) { name, ok := names[path]; return name, ok }
	layer := map[string]*Entry{}
	for _, e := range b.Entries() {
		e = e.renamed(to, b.hookups, b.words)
		layer[e.Path()] = e
	}
	c := *b
	c.layers, c.memo = []map[string]*Entry{layer}, map[any]memoized{}
	c.memo[digestKey{}] = memoized{value: b.Digest()} // it was signed under the names that it had
	return &c
}

func (e *Entry) renamed(to func(string) (string, bool), hookups map[string]HookupRule, words words) *Entry {
	path, mine := to(e.Path())
	node, touched := copyNode(e.node), false
	for i, c := range node.Children {
		if f := e.schema.Field(c.Key); f == nil || !f.Free {
			d, t := renamedNode(c, f, false, to)
			node.Children[i], touched = d, touched || t
		}
	}
	if !mine && !touched {
		return e
	}
	out := *e
	out.node = node
	if mine {
		out.path = path
		_, out.ID, _ = strings.Cut(path, ".")
	}
	var faults []Fault // none: the entry was sound, and a name more or less is not the binder's concern
	bindEntry(&out, hookups, words, &room{}, &faults)
	return &out
}

// renamedNode is the node with other names in it, and whether there was any.
func renamedNode(n *syntax.Node, f *schema.Field, isName bool, to func(string) (string, bool)) (*syntax.Node, bool) {
	c, touched := copyNode(n), false
	if isName {
		c.Key = renamed(n.Key, to)
		touched = c.Key != n.Key
	}
	if text, ok := n.Value.(string); ok && n.Kind == syntax.String {
		name := renamed(text, to)
		c.Value, touched = name, touched || name != text
	}
	for i, child := range c.Children {
		d, t := renamedNode(child, f.Below(child.Key), f != nil && f.Keys != "" && f.Many == schema.Named, to)
		c.Children[i], touched = d, touched || t
	}
	if !touched {
		return n, false
	}
	return c, true
}

// copyNode is a copy that can be given other children.
func copyNode(n *syntax.Node) *syntax.Node {
	return &syntax.Node{Kind: n.Kind, Key: n.Key, Value: n.Value, Text: n.Text, KeyAt: n.KeyAt, ValueAt: n.ValueAt, In: n.In,
		Children: slices.Clone(n.Children), Inline: n.Inline, Comment: n.Comment}
}
