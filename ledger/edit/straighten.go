package edit

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/syntax"
)

// Straighten lays files of the build out by the schema; all of them where none
// is named. Keys come in the order of their kind, one to a line, entries one
// blank line apart; quantities are spelled as they are printed and words stand
// in plain quotes. Entries stay where they are, comments with what they stand
// at, and line ends as the file has them. Nothing that the build says changes;
// to do it twice changes nothing more.
func (d *Draft) Straighten(names ...string) error {
	if len(names) == 0 {
		names = d.names()
	}
	before := d.After()
	for _, name := range names {
		f := d.files[name]
		if f == nil {
			return fmt.Errorf("%s: is no file of the build", d.src.Name(name))
		}
		if err := f.sound(); err != nil {
			return err
		}
		text := f.text.replace(0, len(f.doc.Text), straight(f.doc))
		if err := f.become(straightTree(f.doc.Root, nil), text); err != nil {
			return err
		}
	}
	if before.Digest() != d.After().Digest() || !maps.Equal(said(before), said(d.After())) {
		return errors.New("internal error: the build would say something else")
	}
	return nil
}

// said is every value that a build holds, what is not signed for too.
func said(b *ledger.Build) map[string]string {
	out := map[string]string{}
	for _, e := range b.Entries() {
		out[e.Path()] = ""
		for _, v := range e.Values() {
			out[e.Path()+" "+v.Key] = v.Type + " " + v.Text
		}
	}
	return out
}

// straightTree is what a file says once it is laid out: the same, save how
// quantities are spelled.
func straightTree(n *syntax.Node, path []string) any {
	switch n.Kind {
	case syntax.Table:
		out := map[string]any{}
		for _, c := range n.Children {
			out[c.Key] = straightTree(c, join(path, c.Key))
		}
		return out
	case syntax.Array:
		out := []any{}
		for i, c := range n.Children {
			out = append(out, straightTree(c, join(path, fmt.Sprint(i))))
		}
		return out
	case syntax.String:
		return leaf{syntax.String, straightText(n, path)}
	}
	return treeOf(n)
}

func join(path []string, key string) []string { return append(slices.Clone(path), key) }

// block is a header or a key with its value, laid out, with the comments that
// stay with it.
type block struct {
	statement
	above  []string // the comments directly above
	below  []string // those directly below, where nothing else follows at once
	key    string   // or the header
	value  string   // as it is laid out
	set    string   // as it was set by hand, in columns
	behind string   // the comment behind
	equals int      // how far the equals sign stood from where the key began
	spaced bool     // a blank line stood before it
	alone  []string // or no statement at all: comments between blank lines
}

// straight is a file laid out.
func straight(d *syntax.Document) string {
	w := &layout{end: lineEndOf(d.Text)}
	blocks := valuesOf(d).blocks()
	for len(blocks) > 0 {
		n := 1 // a header and what is below it
		for n < len(blocks) && !blocks[n].header {
			n++
		}
		w.section(blocks[:n])
		blocks = blocks[n:]
	}
	return w.String()
}

// blocks takes a file apart.
func (v *values) blocks() []block {
	d, all := v.doc, v.lines
	var out []block
	at := 0
	for i := range len(all) + 1 {
		next, first, last := len(d.Text), i == 0, i == len(all)
		if !last {
			next = all[i].from
		}
		notes := commentsIn(d.Text[at:next], first, last)
		b := block{spaced: notes.blank}
		if !last {
			b.statement, b.above, at = all[i], notes.last(), all[i].to
			v.lay(&b)
		}
		if !first {
			out[len(out)-1].below = notes.first()
		}
		for _, alone := range notes.paragraphs {
			out = append(out, block{alone: alone})
		}
		if !last {
			out = append(out, b)
		}
	}
	return out
}

// notes are the comments between two statements.
type notes struct {
	paragraphs [][]string
	blank      bool // there is a blank line among them
	below      bool // the first stand directly below a statement
	above      bool // the last stand directly above one
}

// commentsIn reads what stands between two statements, or at either end of a
// file.
func commentsIn(text string, first, last bool) *notes {
	lines := strings.Split(text, "\n")
	if !first { // the rest of the statement's line
		lines = lines[1:]
	}
	if !last && len(lines) > 0 { // what the next is indented by
		lines = lines[:len(lines)-1]
	}
	n := &notes{}
	var run []string
	for i, l := range append(lines, "") {
		if l = strings.TrimSpace(l); l != "" {
			run = append(run, l)
			n.below = n.below || i == 0 && !first
			n.above = i == len(lines)-1 && !last
			continue
		}
		n.blank = n.blank || i < len(lines)
		if len(run) > 0 {
			n.paragraphs = append(n.paragraphs, run)
		}
		run = nil
	}
	return n
}

// last takes the comments directly above the next statement.
func (n *notes) last() []string {
	if !n.above {
		return nil
	}
	at := len(n.paragraphs) - 1
	out := n.paragraphs[at]
	n.paragraphs = n.paragraphs[:at]
	return out
}

// first takes those directly below a statement, if they are not the next one's.
func (n *notes) first() []string {
	if !n.below || len(n.paragraphs) == 0 {
		return nil
	}
	out := n.paragraphs[0]
	n.paragraphs = n.paragraphs[1:]
	return out
}
