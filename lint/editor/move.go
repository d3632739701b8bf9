package editor

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/syntax"
)

// moves take the entry whose header the cursor is on to another file of the build,
// with its comments: to those that have most of its kind and system.
func (s *server) moves(a asked) []codeAction {
	e, ok := a.build.b.Entry(a.entry)
	f := a.build.files[a.doc.path]
	if a.part != inHeader || !ok || e.Shop || f == nil || len(a.build.b.Faults) > 0 {
		return nil
	}
	from, to, ok := f.lines(strings.Split(a.entry, "."))
	if !ok {
		return nil
	}
	var out []codeAction
	for _, target := range a.build.homes(e, f) {
		if len(out) == mostMoves {
			break
		}
		var c changes
		c.add(f, from, to, "")
		c.add(target, len(target.text.s), len(target.text.s), target.addition(f.text.s[from:to]))
		if !a.build.same(c) {
			continue
		}
		edit, err := s.workspaceEdit(c)
		name, _ := a.build.nameOf(target.path)
		out = append(out, s.action(refactor, fmt.Sprintf("Move %s to %s", a.entry, name), edit, err)...)
	}
	return out
}

// homes are the other files of the build, those first that have most entries of the
// kind, then of the system.
func (b *build) homes(e *ledger.Entry, not *file) []*file {
	score := map[*file]int{}
	for _, o := range b.b.Entries() {
		f := b.fileAt(o.Place)
		if f == nil || f == not || o.Shop {
			continue
		}
		if o.Kind == e.Kind {
			score[f] += 1000
		}
		if b.b.System(o) == b.b.System(e) {
			score[f]++
		}
	}
	var out []*file
	for f := range score {
		out = append(out, f)
	}
	slices.SortFunc(out, func(x, y *file) int { return cmp.Or(score[y]-score[x], strings.Compare(x.path, y.path)) })
	return out
}

// lines are those of an entry that stands under headers of its own, one behind the
// other, with the comments above and one blank line; false where it does not.
func (f *file) lines(path []string) (from, to int, ok bool) {
	n, depth := follow(f.doc.Root, path)
	if depth < len(path) || n.Inline || n.Kind != syntax.Table || n.Whole.Empty() || n.Until == 0 {
		return 0, 0, false
	}
	start, end := n.Lead, max(n.Until, n.Whole.To)
	var below func(n *syntax.Node)
	below = func(n *syntax.Node) {
		for _, c := range n.Children {
			if start = min(start, lead(c, start)); !c.Inline {
				end = max(end, c.Until)
			}
			end = max(end, c.Whole.To)
			below(c)
		}
	}
	below(n)
	shift := f.text.shift()
	from = strings.LastIndexByte(f.text.s[:int(start)+shift], '\n') + 1
	to = lineEnd(f.text.s, int(end)+shift)
	for _, t := range tokens(f.text.s) {
		if t.from < from || t.from > to || t.part != inHeader || len(t.path) < len(path) {
			continue
		}
		if !slices.Equal(t.path[:len(path)], path) {
			return 0, 0, false // others stand between
		}
	}
	if to < len(f.text.s) {
		to++
	}
	if end := lineEnd(f.text.s, to); end < len(f.text.s) && strings.TrimSpace(f.text.s[to:end]) == "" {
		to = end + 1
	}
	return from, to, true
}

// lead is where a statement with its comments begins; not before other where it has
// none of its own.
func lead(n *syntax.Node, other int32) int32 {
	if n.Whole.Empty() {
		return other
	}
	return n.Lead
}

// addition is a text as it stands at the end of the file, behind a blank line.
func (f *file) addition(text string) string {
	text = strings.TrimRight(strings.ReplaceAll(text, "\r\n", "\n"), "\n") + "\n"
	switch old := strings.TrimPrefix(f.text.s, byteOrderMark); {
	case old == "":
	case !strings.HasSuffix(old, "\n"):
		text = "\n\n" + text
	default:
		text = "\n" + text
	}
	if strings.Contains(f.text.s, "\r\n") {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	return text
}

// same tells that a build says the same after changes of its files.
func (b *build) same(c changes) bool {
	contents := map[string][]byte{}
	for _, f := range c.files {
		if name, in := b.nameOf(f.path); in {
			contents[name] = []byte(c.changed(f))
		}
	}
	after := ledger.NewLoader().Read(b.src.With(contents))
	return len(after.Faults) == 0 && after.Digest() == b.b.Digest()
}
