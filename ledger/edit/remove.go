package edit

import (
	"fmt"
	"slices"
	"strings"

	"fishplate/ledger/syntax"
)

// Remove takes a key of an entry away, with the comments that stand directly
// above and behind it; without a path the whole entry. That nothing names it
// any more is for the plan to find.
func (d *Draft) Remove(entry string, path []string) error {
	f, at, err := d.find(entry)
	if err != nil {
		return err
	}
	full := append(slices.Clone(at), path...)
	n, depth := deepest(f.doc.Root, full)
	if depth < len(full) {
		return fmt.Errorf("%s: %s does not say %s", f.shown, entry, strings.Join(path, "."))
	}
	changes, err := f.drop(n, full)
	if err != nil {
		return fmt.Errorf("%s: %s: %w", f.shown, strings.Join(full, "."), err)
	}
	return f.apply(dropTree(f.tree, full), changes)
}

// drop finds what to change for a node to be gone.
func (f *file) drop(n *syntax.Node, full []string) ([]change, error) {
	parent, _ := deepest(f.doc.Root, full[:len(full)-1])
	if parent.Kind == syntax.Array && parent.Inline {
		return f.dropItem(parent, span{int(n.ValueRange.From), int(n.ValueRange.To)}), nil
	}
	all := statements(f.doc)
	if box, _ := f.inlineAbove(full, len(full)-1); box != nil {
		var members []span
		for _, s := range all {
			if s.inline && below(s.path, full) && slices.Contains(items(f.doc, box), span{s.from, s.to}) {
				members = append(members, span{s.from, s.to})
			}
		}
		if len(members) != 1 {
			return nil, fmt.Errorf("it is written in %d pieces; take them away one by one", len(members))
		}
		return f.dropItem(box, members[0]), nil
	}
	all = slices.DeleteFunc(all, func(s statement) bool { return s.inline })
	var out []change
	for i := 0; i < len(all); i++ {
		if !below(all[i].path, full) {
			continue
		}
		first := all[i]
		for i+1 < len(all) && below(all[i+1].path, full) {
			i++
		}
		out = append(out, f.dropLines(first, all[i].to))
	}
	return out, nil
}

// dropLines takes away the lines from a statement to a place, and one of the
// blank lines around them where there would be two together.
func (f *file) dropLines(first statement, to int) change {
	text := f.doc.Text
	from := lineStart(text, first.lead)
	if from == 0 && first.lead < first.from {
		from = lineStart(text, first.from) // what a file begins with is said of the file
	}
	to = nextLine(text, to)
	above := from == 0 || strings.TrimSpace(text[lineStart(text, from-1):from]) == ""
	if end := nextLine(text, to); above && to < len(text) && strings.TrimSpace(text[to:end]) == "" {
		to = end
	}
	return change{from, to, ""}
}
