package ledger

import (
	"slices"
	"strings"

	"fishplate/ledger/schema"
	"fishplate/ledger/syntax"
)

// British spellings load as the American ones, which are the only ones from
// there on: in checks, comparisons, digests and screens.
var british = map[string]string{
	"aluminium": "aluminum", "colour": "color", "centre": "center", "grey": "gray", "fibre": "fiber",
	"galvanised": "galvanized", "moulded": "molded", "licence": "license", "tyre": "tire", "carburettor": "carburetor", "vapour": "vapor",
}

// American is a word of a list in its American spelling, part by part:
// "aluminium-bare" is "aluminum-bare".
func American(word string) string {
	return rewrite(word, func(part string) string { return british[strings.ToLower(part)] })
}

// rewrite replaces the runs of letters in a word for which there is another.
func rewrite(word string, other func(string) string) string {
	letter := func(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' }
	var out []byte
	done := 0 // up to here the word is in out
	for i := 0; i < len(word); i++ {
		j := i
		for j < len(word) && letter(word[j]) {
			j++
		}
		if r := other(word[i:j]); r != "" {
			out = append(append(out, word[done:i]...), r...)
			done = j
		}
		i = j
	}
	if done == 0 {
		return word
	}
	return string(append(out, word[done:]...))
}

// american is the node of an entry with the keys respelled that its schema has
// only under the American name, and the words that are picked from a list. The
// node itself stays as it is: it may be shared.
func american(s *schema.Kind, n *syntax.Node) *syntax.Node {
	return respelled(n, func(c *syntax.Node) *syntax.Node {
		f, key := s.Field(c.Key), c.Key
		if f == nil {
			if f = s.Field(American(c.Key)); f == nil {
				return c
			}
			if n.Child(f.Key) == nil { // written both ways it stays, and is told as unknown
				key = f.Key
			}
		}
		d := americanWords(f, c)
		if d.Key != key {
			again := *d
			again.Key, d = key, &again
		}
		return d
	})
}

func americanWords(f *schema.Field, n *syntax.Node) *syntax.Node {
	switch {
	case n.Kind == syntax.String:
		if text, ok := n.Value.(string); ok && f.Picked() && American(text) != text {
			c := *n
			c.Value = American(text)
			return &c
		}
	case n.Kind == syntax.Array:
		return respelled(n, func(c *syntax.Node) *syntax.Node { return americanWords(f, c) })
	case f.Nested == nil || f.Type != schema.Table:
	case f.Many == schema.Named:
		return respelled(n, func(c *syntax.Node) *syntax.Node { return american(f.Nested, c) })
	default:
		return american(f.Nested, n)
	}
	return n
}

// respelled is the node with other children, or itself where none is another.
func respelled(n *syntax.Node, child func(*syntax.Node) *syntax.Node) *syntax.Node {
	var children []*syntax.Node
	for i, c := range n.Children {
		if d := child(c); d != c {
			if children == nil {
				children = slices.Clone(n.Children)
			}
			children[i] = d
		}
	}
	if children == nil {
		return n
	}
	return n.WithChildren(children)
}
