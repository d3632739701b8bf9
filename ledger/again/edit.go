package again

import (
	"slices"
	"strconv"
	"strings"

	"fishplate/ledger/syntax"
)

// copier makes the changes of one file.
type copier struct {
	origin Origin
	left   map[string]bool // entries that are left out
	own    map[string]bool // parts that came with the vehicle
	out    *Copied
	text   string
	edits  []edit
}

// edit puts a text in place of a range of bytes.
type edit struct {
	from, to int
	text     string
}

func (c *copier) put(r syntax.Range, text string) {
	c.edits = append(c.edits, edit{int(r.From), int(r.To), text})
}

func (c *copier) insert(at int, text string) { c.edits = append(c.edits, edit{at, at, text}) }

// cut takes whole lines away.
func (c *copier) cut(from, to int) {
	c.edits = append(c.edits, edit{c.lineStart(from), c.lineEnd(to), ""})
}

func (c *copier) lineStart(at int) int { return strings.LastIndexByte(c.text[:at], '\n') + 1 }

// lineEnd is behind the line's end.
func (c *copier) lineEnd(at int) int {
	if at > 0 && c.text[at-1] == '\n' {
		return at
	}
	if i := strings.IndexByte(c.text[at:], '\n'); i >= 0 {
		return at + i + 1
	}
	return len(c.text)
}

// remove takes an entry away, with the comments directly above it, all that
// stands below its headers and the blank lines behind it.
func (c *copier) remove(n *syntax.Node) {
	if !n.Whole.Empty() {
		end := c.lineEnd(max(int(n.Whole.To), int(n.Until)))
		for end < len(c.text) && (c.text[end] == '\n' || strings.HasPrefix(c.text[end:], "\r\n")) {
			end = c.lineEnd(end + 1)
		}
		c.cut(int(n.Lead), end)
	}
	if n.Inline {
		return
	}
	for _, m := range n.Children {
		c.remove(m)
	}
}

// lines takes the lines of a value away, however its key is spelled.
func (c *copier) lines(n *syntax.Node) {
	if !n.Whole.Empty() {
		c.cut(int(n.Whole.From), max(int(n.Whole.To), int(n.Until)))
	}
	for _, m := range n.Children {
		if !n.Inline {
			c.lines(m)
		}
	}
}

// drop takes a value away: its statement, or its place in what stands on one
// line.
func (c *copier) drop(a at, n *syntax.Node) {
	if a.stmt == n || a.stmt.Whole.Empty() {
		c.lines(n)
		return
	}
	from, to := int(n.ValueRange.From), int(n.ValueRange.To)
	if !n.KeyRange.Empty() {
		from = int(n.KeyRange.From)
	}
	rest := c.text[to:]
	if trimmed := strings.TrimLeft(rest, " \t\r\n"); strings.HasPrefix(trimmed, ",") {
		to += len(rest) - len(strings.TrimLeft(trimmed[1:], " \t"))
	} else if before := strings.TrimRight(c.text[:from], " \t\r\n"); strings.HasSuffix(before, ",") {
		from = len(before) - 1
	}
	c.edits = append(c.edits, edit{from, to, ""})
}

// say adds a comment behind a statement, before one that is there.
func (c *copier) say(stmt *syntax.Node, text string) {
	if at := int(stmt.ValueRange.To); at > 0 && !stmt.Whole.Empty() {
		c.insert(at, " # "+text)
	}
}

// apply makes the changes. Of two that meet, the one that takes more away
// stands; two at one place stand in their order.
func (c *copier) apply() string {
	slices.SortStableFunc(c.edits, func(a, b edit) int {
		if a.from != b.from {
			return a.from - b.from
		}
		return b.to - a.to
	})
	var out strings.Builder
	at := 0
	for _, e := range c.edits {
		if e.from < at {
			if e.to > at && e.text == "" {
				at = e.to
			}
			continue
		}
		out.WriteString(c.text[at:e.from])
		out.WriteString(e.text)
		at = e.to
	}
	out.WriteString(c.text[at:])
	return strings.TrimRight(out.String(), "\n") + "\n"
}

// quoted is a text as TOML writes it; no control character is in it.
func quoted(text string) string { return strconv.Quote(text) }
