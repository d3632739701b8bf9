package edit

import (
	"strings"

	"fishplate/ledger/syntax"
)

// items are the ranges of the elements of an array or the members of an inline
// table, each without the comma behind it.
func items(d *syntax.Document, n *syntax.Node) []span {
	var out []span
	if n.Kind == syntax.Array {
		for _, c := range n.Children {
			out = append(out, span{int(c.ValueRange.From), int(c.ValueRange.To)})
		}
		return out
	}
	from, to := int(n.ValueRange.From), int(n.ValueRange.To)
	for _, s := range statements(d) {
		if !s.inline || s.from < from || s.to > to {
			continue
		}
		if len(out) == 0 || s.from >= out[len(out)-1].to { // not one inside the last
			out = append(out, span{s.from, s.to})
		}
	}
	return out
}

// addItem finds what to change for an item to stand last in an array or an
// inline table.
func (f *file) addItem(n *syntax.Node, item string) []change {
	text, all := f.doc.Text, items(f.doc, n)
	from, end := int(n.ValueRange.From), int(n.ValueRange.To)-1 // the bracket that closes it
	if len(all) == 0 {
		if strings.Contains(text[from:end], "\n") { // nothing but comments
			indent, _ := indentAt(text, skipBlanks(text, lineStart(text, end)))
			return []change{{lineStart(text, end), lineStart(text, end), indent + "  " + item + ",\n"}}
		}
		if n.Kind == syntax.Table {
			item = " " + item + " "
		}
		return []change{{from + 1, end, item}}
	}
	last := all[len(all)-1]
	comma := commaBehind(text, last.to, end)
	indent, alone := indentAt(text, firstOnLine(text, last.from))
	if !strings.Contains(text[from:last.from], "\n") || !alone {
		if comma < 0 {
			return []change{{last.to, last.to, ", " + item}}
		}
		return []change{{comma + 1, comma + 1, " " + item + ","}}
	}
	if comma >= 0 {
		at := comma + 1
		if lineEnd(text, at) < end { // behind a comment on that line
			at = lineEnd(text, at)
		}
		return []change{{at, at, "\n" + indent + item + ","}}
	}
	at := last.to
	if lineEnd(text, at) < end {
		at = lineEnd(text, at)
	}
	if at == last.to || strings.TrimSpace(text[last.to:at]) == "" {
		return []change{{last.to, last.to, ",\n" + indent + item}}
	}
	return []change{{last.to, last.to, ","}, {at, at, "\n" + indent + item}}
}

// firstOnLine is the first thing on the line that a place stands in.
func firstOnLine(text string, at int) int {
	return skipBlanks(text, lineStart(text, at))
}

// commaBehind is where the comma stands behind an item, -1 if there is none.
func commaBehind(text string, at, end int) int {
	for at < end {
		switch text[at] {
		case ',':
			return at
		case '#':
			at = lineEnd(text, at)
		case ' ', '\t', '\r', '\n':
			at++
		default:
			return -1
		}
	}
	return -1
}

// dropItem finds what to change for an item to be gone from an array or an
// inline table.
func (f *file) dropItem(n *syntax.Node, which span) []change {
	text, all := f.doc.Text, items(f.doc, n)
	end := int(n.ValueRange.To) - 1
	i := 0
	for all[i] != which {
		i++
	}
	comma := commaBehind(text, which.to, end)
	behind := which.to
	if comma >= 0 {
		behind = comma + 1
	}
	first := firstOnLine(text, which.from) == which.from
	rest := strings.TrimSpace(text[behind:max(behind, min(lineEnd(text, behind), end))])
	if lone := first && lineEnd(text, behind) < end && (rest == "" || rest[0] == '#'); lone {
		return []change{{lineStart(text, which.from), nextLine(text, behind), ""}}
	}
	switch {
	case i+1 < len(all) && !strings.Contains(text[behind:all[i+1].from], "\n"):
		return []change{{which.from, all[i+1].from, ""}}
	case i > 0 && !strings.Contains(text[all[i-1].to:which.from], "\n"):
		return []change{{all[i-1].to, which.to, ""}}
	}
	return []change{{which.from, behind, ""}}
}
