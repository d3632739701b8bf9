package ledger

import (
	"reflect"
	"strings"

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
	var out strings.Builder
	letter := func(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' }
	for i := 0; i < len(word); {
		j := i
		for j < len(word) && letter(word[j]) {
			j++
		}
		if part := word[i:j]; part != "" {
			if r := other(part); r != "" {
				part = r
			}
			out.WriteString(part)
		}
		if j < len(word) {
			out.WriteByte(word[j])
			j++
		}
		i = j
	}
	return out.String()
}

// americanize respells the keys of an entry that its schema has only under the
// American name, and the words that are picked from a list.
func (s *schema) americanize(n *syntax.Node) {
	for _, c := range n.Children {
		f := s.byKey[c.Key]
		if f == nil {
			if f = s.byKey[American(c.Key)]; f == nil {
				continue
			}
			if n.Child(f.key) == nil { // written both ways it stays, and is told as unknown
				c.Key = f.key
			}
		}
		f.americanize(c)
	}
}

func (f *field) americanize(n *syntax.Node) {
	switch {
	case n.Kind == syntax.String:
		if text, ok := n.Value.(string); ok && f.listed() {
			n.Value = American(text)
		}
	case n.Kind == syntax.Array:
		for _, c := range n.Children {
			f.americanize(c)
		}
	case f.nested == nil:
	case f.typ.Kind() == reflect.Map:
		for _, c := range n.Children {
			f.nested.americanize(c)
		}
	default:
		f.nested.americanize(n)
	}
}

// listed tells that the word is one of a list, or a color, which are compared.
func (f *field) listed() bool {
	return len(f.oneof) > 0 || f.known != "" || f.color
}
