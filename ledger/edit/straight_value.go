package edit

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/schema"
	"fishplate/ledger/syntax"
)

// values spells the values of a file.
type values struct {
	doc    *syntax.Document
	lines  []statement // headers, and keys with their values
	inline []statement // members of inline tables; both in the order of the file
}

func valuesOf(d *syntax.Document) *values {
	v := &values{doc: d}
	for _, s := range statements(d) {
		if s.inline {
			v.inline = append(v.inline, s)
		} else {
			v.lines = append(v.lines, s)
		}
	}
	return v
}

// lay lays out a header, or a key with its value, and the comment behind it,
// which stays as far out as it stood.
func (v *values) lay(b *block) {
	s, text, end := b.statement, v.doc.Text, int(b.node.ValueRange.To)
	b.key = straightKey(s)
	if s.header {
		b.key, end = "["+b.key+"]", s.keys[len(s.keys)-1].to
		if strings.HasPrefix(text[s.from:], "[[") {
			b.key = "[" + b.key + "]"
		}
	} else {
		b.value = v.value(s.node, s.path)
		b.set = b.value
		if s.node.Kind == syntax.Table {
			b.set = v.respelled(s.node, s.path)
		}
		b.equals = strings.IndexByte(text[s.keys[len(s.keys)-1].to:], '=') + s.keys[len(s.keys)-1].to - s.from
	}
	behind := text[end:lineEnd(text, end)]
	if before, comment, ok := strings.Cut(behind, "#"); ok {
		gap := before[len(strings.TrimRight(before, " \t")):]
		b.behind = cmp.Or(gap, " ") + "#" + strings.TrimRight(comment, " \t")
	}
}

func straightKey(s statement) string {
	var out []string
	for _, part := range s.parts {
		out = append(out, s.path[part])
	}
	return dotted(out)
}

// value is a value, laid out where it stands on one line. In one of several
// lines only its words and quantities are spelled anew.
func (v *values) value(n *syntax.Node, path []string) string {
	switch {
	case n.Kind != syntax.Table && n.Kind != syntax.Array:
		return straightLeaf(n, path)
	case strings.Contains(n.Text, "\n"):
		return v.respelled(n, path)
	case len(n.Children) == 0:
		return n.Text[:1] + n.Text[len(n.Text)-1:]
	case n.Kind == syntax.Array:
		var parts []string
		for i, c := range n.Children {
			parts = append(parts, v.value(c, join(path, fmt.Sprint(i))))
		}
		return "[" + strings.Join(parts, ", ") + "]"
	}
	var parts []string
	for _, s := range inOrder(v.members(n), path, func(s statement) []string { return s.path }) {
		parts = append(parts, straightKey(s)+" = "+v.value(s.node, s.path))
	}
	return "{ " + strings.Join(parts, ", ") + " }"
}

// members are those of an inline table, without what is inside them.
func (v *values) members(n *syntax.Node) []statement {
	at, to := int(n.ValueRange.From), int(n.ValueRange.To)
	first, _ := slices.BinarySearchFunc(v.inline, at+1, func(s statement, at int) int { return s.from - at })
	var out []statement
	for _, s := range v.inline[first:] {
		if s.from >= to {
			break
		}
		if s.from >= at {
			out, at = append(out, s), s.to
		}
	}
	return out
}

// respelled is a value of several lines, with the words and quantities in it
// spelled anew.
func (v *values) respelled(n *syntax.Node, path []string) string {
	var leaves []change
	var walk func(n *syntax.Node, path []string)
	walk = func(n *syntax.Node, path []string) {
		for i, c := range n.Children {
			name := c.Key
			if n.Kind == syntax.Array {
				name = fmt.Sprint(i)
			}
			if walk(c, join(path, name)); c.Kind != syntax.Table && c.Kind != syntax.Array {
				leaves = append(leaves, change{int(c.ValueRange.From), int(c.ValueRange.To), straightLeaf(c, join(path, name))})
			}
		}
	}
	walk(n, path)
	slices.SortFunc(leaves, func(a, b change) int { return a.from - b.from })
	var b strings.Builder
	at := int(n.ValueRange.From)
	for _, c := range leaves {
		b.WriteString(v.doc.Text[at:c.from] + c.text)
		at = c.to
	}
	return b.String() + v.doc.Text[at:n.ValueRange.To]
}

// straightLeaf is a string in plain quotes, where it can stand in them; any
// other value as it is.
func straightLeaf(n *syntax.Node, path []string) string {
	if n.Kind != syntax.String {
		return n.Text
	}
	if text := straightText(n, path); isPlain(text) && !strings.Contains(n.Text, "\n") {
		return `"` + text + `"`
	}
	return n.Text
}

// isPlain tells text that can stand in quotes as it is, and be seen.
func isPlain(text string) bool {
	return !strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) || r == '"' || r == '\\' })
}

// straightText is what a string says once it is laid out: a quantity or a
// conductor size as it is printed, if that is the very same; else as it is.
func straightText(n *syntax.Node, path []string) string {
	text, _ := n.Value.(string)
	_, f := schemaAt(path)
	if f == nil || strings.Contains(n.Text, "\n") {
		return text
	}
	_, spelled := ledger.Canonical(f, n)
	same := f.TakesQuantity() && sameReading(f, text, spelled) || f.Size && numerals(text) == numerals(spelled)
	if !same || !isPlain(spelled) {
		return text
	}
	return spelled
}

// sameReading tells that two spellings are one quantity to the last digit, as
// good as each other and in the same unit.
func sameReading(f *schema.Field, a, b string) bool {
	opt := quantity.Options{Exact: f.Exact}
	x, err1 := quantity.Parse(a, f.Dim, opt)
	y, err2 := quantity.Parse(b, f.Dim, opt)
	if err1 != nil || err2 != nil || *x.Unit != *y.Unit {
		return false
	}
	x.Unit = y.Unit
	return x == y
}

func numerals(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsDigit(r) || r == '.' || r == '/' {
			return r
		}
		return -1
	}, s)
}
