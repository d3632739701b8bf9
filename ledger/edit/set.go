package edit

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/schema"
	"fishplate/ledger/syntax"
)

// Set gives a value to a key of an entry: in the place of the one that is
// there, or at the place that the key has in the order of its kind. The path
// is that below the entry, part by part; a place in a list is its number, and
// the one behind the last adds to the list.
func (d *Draft) Set(entry string, path []string, v Value) error {
	f, at, err := d.find(entry)
	if err != nil {
		return err
	}
	said, err := v.tree()
	if err != nil {
		return fmt.Errorf("%s.%s: %w", entry, strings.Join(path, "."), err)
	}
	full := append(slices.Clone(at), path...)
	want, err := putTree(f.tree, full, said)
	if err != nil {
		return fmt.Errorf("%s.%s: %w", entry, strings.Join(path, "."), err)
	}
	changes, err := f.put(full, len(at), v)
	if err != nil {
		return fmt.Errorf("%s: %s.%s: %w", f.shown, entry, strings.Join(path, "."), err)
	}
	return f.apply(want, changes)
}

// put finds what to change for a value to stand at a path, of which the first
// parts name the entry.
func (f *file) put(full []string, entry int, v Value) ([]change, error) {
	n, depth := deepest(f.doc.Root, full)
	rest := full[depth:]
	if len(rest) == 0 {
		if n.ValueRange.Empty() {
			return nil, fmt.Errorf("it is laid out over lines of its own; change the keys in it one by one")
		}
		return []change{{int(n.ValueRange.From), int(n.ValueRange.To), v.spelled}}, nil
	}
	if box, at := f.inlineAbove(full, depth); box != nil && n.Kind == syntax.Table {
		return f.addItem(box, dotted(full[at:depth+1])+" = "+nested(rest[1:], v)), nil
	}
	switch {
	case n.Kind == syntax.Array && n.Inline:
		return f.addItem(n, nested(rest[1:], v)), nil
	case n.Kind == syntax.Array:
		return nil, fmt.Errorf("it is a list of tables with headers, to which nothing is added here")
	case n.Kind != syntax.Table:
		return nil, fmt.Errorf("there is a value where a table is needed")
	}
	return f.addKey(n, full[:depth], depth == entry, rest[0], nested(rest[1:], v))
}

// inlineAbove is the innermost inline table on the way to a path, and how much
// of the path leads to it.
func (f *file) inlineAbove(full []string, depth int) (box *syntax.Node, at int) {
	n := f.doc.Root
	for i := range depth {
		if n = childOf(n, full[i]); n.Inline {
			box, at = nil, 0
			if n.Kind == syntax.Table {
				box, at = n, i+1
			}
		}
	}
	return box, at
}

// nested spells a value below keys that are not there yet.
func nested(path []string, v Value) string {
	for i := len(path) - 1; i >= 0; i-- {
		if _, err := strconv.Atoi(path[i]); err == nil && path[i] == "0" {
			v = List(v)
			continue
		}
		v = Table(Pair{path[i], v})
	}
	return v.spelled
}

func dotted(path []string) string {
	var out []string
	for _, p := range path {
		out = append(out, spellKey(p))
	}
	return strings.Join(out, ".")
}

// addKey finds where a new key of a table goes that is no inline one.
func (f *file) addKey(n *syntax.Node, path []string, ordered bool, key, value string) ([]change, error) {
	text, all := f.doc.Text, statements(f.doc)
	head := slices.IndexFunc(all, func(s statement) bool { return s.header && s.node == n })
	if head >= 0 {
		after, model := all[head], (*statement)(nil)
		var kind *schema.Kind
		if ordered {
			kind = ledger.KindOf(strings.Join(path, "."))
		}
		for i := head + 1; i < len(all) && !all[i].header; i++ {
			if s := all[i]; !s.inline {
				if model == nil || kind.Rank(s.path[len(path)]) <= kind.Rank(key) {
					model = &s
				}
				if kind.Rank(s.path[len(path)]) <= kind.Rank(key) {
					after = s
				}
			}
		}
		return []change{{after.to, after.to, "\n" + styled(text, after, model, spellKey(key)) + value}}, nil
	}
	var last *statement
	for i := range all {
		if s := &all[i]; !s.inline && below(s.path, path) && len(s.path) > len(path) {
			if s.header && last == nil { // only tables below it have headers
				at := lineStart(text, s.lead)
				return []change{{at, at, "[" + dotted(path) + "]\n" + spellKey(key) + " = " + value + "\n\n"}}, nil
			}
			if !s.header {
				last = s
			}
		}
	}
	if last == nil {
		return nil, fmt.Errorf("there is no place for it")
	}
	first := last.parts[0]
	if first >= len(path) {
		return nil, fmt.Errorf("there is no place for it")
	}
	prefix := text[last.keys[0].from:last.keys[len(path)-1-first].to]
	return []change{{last.to, last.to, "\n" + styled(text, *last, last, prefix+"."+spellKey(key)) + value}}, nil
}

// styled spells a key and its equals sign as a neighbor does: indented as it
// is, and with the equals sign below its own where that was lined up.
func styled(text string, after statement, model *statement, key string) string {
	indent, _ := indentAt(text, after.from)
	if model == nil {
		return indent + key + " = "
	}
	indent, _ = indentAt(text, model.from)
	end := model.keys[len(model.keys)-1].to
	gap := text[end:model.node.ValueRange.From]
	blanks := strings.IndexByte(gap, '=')
	if blanks > 1 {
		width := end - model.from + blanks
		gap = strings.Repeat(" ", max(1, width-len(key))) + gap[blanks:]
	}
	return indent + key + gap
}
