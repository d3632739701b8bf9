package edit

import (
	"slices"
	"sort"
	"strconv"
	"strings"

	"fishplate/ledger/syntax"
)

// span is a range of bytes of a text.
type span struct{ from, to int }

// statement is a header, a key with its value, or a member of an inline table.
type statement struct {
	node   *syntax.Node
	path   []string // of the node from the root; a place in a list by its number
	keys   []span   // the parts of its key, as they are written
	parts  []int    // which part of the path each key is
	lead   int      // where the comments directly above begin
	from   int
	to     int // with the comment behind
	header bool
	inline bool
}

// statements are all of a file, in the order of the file.
func statements(d *syntax.Document) []statement {
	var out []statement
	var walk func(n *syntax.Node, path []string, inline bool)
	walk = func(n *syntax.Node, path []string, inline bool) {
		for i, c := range n.Children {
			name := c.Key
			if n.Kind == syntax.Array {
				name = strconv.Itoa(i)
			}
			at := append(slices.Clone(path), name)
			if !c.Whole.Empty() {
				out = append(out, statementOf(d.Text, c, at, inline))
			}
			walk(c, at, inline || c.Inline)
		}
	}
	walk(d.Root, nil, false)
	sort.SliceStable(out, func(i, j int) bool { return out[i].from < out[j].from })
	return out
}

func statementOf(text string, n *syntax.Node, path []string, inline bool) statement {
	s := statement{node: n, path: path, lead: int(n.Lead), from: int(n.Whole.From), to: int(n.Whole.To), inline: inline}
	s.header = n.Kind == syntax.Table && !n.Inline
	at := s.from
	for s.header && text[at] == '[' {
		at++
	}
	s.keys = keysAt(text, at)
	part := len(path) - 1
	for range s.keys {
		if _, err := strconv.Atoi(path[part]); err == nil && s.header && text[s.from+1] == '[' {
			part--
		}
		s.parts = append([]int{part}, s.parts...)
		part--
	}
	return s
}

// keysAt finds the parts of a dotted key.
func keysAt(text string, at int) []span {
	var out []span
	for {
		at = skipBlanks(text, at)
		from := at
		if quote := text[at]; quote == '"' || quote == '\'' {
			for at++; text[at] != quote; at++ {
				if text[at] == '\\' && quote == '"' {
					at++
				}
			}
			at++
		} else {
			for at < len(text) && isBare(text[at]) {
				at++
			}
		}
		out = append(out, span{from, at})
		if at = skipBlanks(text, at); at >= len(text) || text[at] != '.' {
			return out
		}
		at++
	}
}

func skipBlanks(s string, i int) int {
	for i < len(s) && (s[i] == ' ' || s[i] == '\t') {
		i++
	}
	return i
}

// below tells whether a path leads to another, or below it.
func below(path, to []string) bool {
	return len(path) >= len(to) && slices.Equal(path[:len(to)], to)
}

// deepest follows a path as far as it is there.
func deepest(root *syntax.Node, path []string) (n *syntax.Node, depth int) {
	n = root
	for depth < len(path) {
		c := childOf(n, path[depth])
		if c == nil {
			return n, depth
		}
		n = c
		depth++
	}
	return n, depth
}

func childOf(n *syntax.Node, name string) *syntax.Node {
	if n.Kind == syntax.Table {
		return n.Child(name)
	}
	if i, err := strconv.Atoi(name); n.Kind == syntax.Array && err == nil && i >= 0 && i < len(n.Children) {
		return n.Children[i]
	}
	return nil
}

func lineStart(s string, at int) int { return strings.LastIndexByte(s[:at], '\n') + 1 }

// lineEnd is where a line's text ends, before what ends the line.
func lineEnd(s string, at int) int {
	i := strings.IndexByte(s[at:], '\n')
	if i < 0 {
		return len(s)
	}
	if i += at; i > at && s[i-1] == '\r' {
		i--
	}
	return i
}

// nextLine is where the next line begins.
func nextLine(s string, at int) int {
	if i := strings.IndexByte(s[at:], '\n'); i >= 0 {
		return at + i + 1
	}
	return len(s)
}

// indentAt is what stands before a place on its line, if that is all blank.
func indentAt(s string, at int) (string, bool) {
	indent := s[lineStart(s, at):at]
	return indent, strings.Trim(indent, " \t") == ""
}
