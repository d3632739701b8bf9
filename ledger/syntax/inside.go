package syntax

import (
	"strings"
	"unicode/utf8"
)

// Inside gives the place in the file of a character of a string, counted from 0
// in what the string says; one past the last is where the string ends. It
// steps through the string as the file spells it: escapes, the line break that
// a multi-line string may begin with, breaks that a backslash takes away.
func (n *Node) Inside(character int) Position {
	text, at := n.Text, n.ValueAt
	if n.Kind != String || len(text) < 2 {
		return at
	}
	quote := text[:1]
	long := len(text) >= 6 && strings.HasPrefix(text, strings.Repeat(quote, 3))
	if long {
		quote = text[:3]
	}
	s := spelled{rest: text[len(quote) : len(text)-len(quote)], at: Position{at.Line, at.Column + len(quote)}, escapes: quote[0] == '"'}
	if long {
		s.lineBreak()
	}
	for s.skipped(); character > 0 && s.rest != ""; character-- {
		s.step()
		s.skipped()
	}
	return s.at
}

// spelled is what is left of a string as a file spells it, and where that begins.
type spelled struct {
	rest    string
	at      Position
	escapes bool
}

// take goes over so many bytes.
func (s *spelled) take(n int) {
	for _, c := range s.rest[:n] {
		s.at.Column++
		if c == '\n' {
			s.at = Position{s.at.Line + 1, 1}
		}
	}
	s.rest = s.rest[n:]
}

func (s *spelled) lineBreak() bool {
	for _, end := range []string{"\n", "\r\n"} {
		if strings.HasPrefix(s.rest, end) {
			s.take(len(end))
			return true
		}
	}
	return false
}

// skipped goes over a backslash at the end of a line, with all blanks behind it.
func (s *spelled) skipped() {
	for s.escapes && strings.HasPrefix(s.rest, `\`) {
		behind := strings.TrimLeft(s.rest[1:], " \t")
		if !strings.HasPrefix(behind, "\n") && !strings.HasPrefix(behind, "\r\n") {
			return
		}
		s.take(len(s.rest) - len(strings.TrimLeft(behind, " \t\r\n")))
	}
}

// step goes over one character of what the string says.
func (s *spelled) step() {
	n := 1
	if s.escapes && s.rest[0] == '\\' && len(s.rest) > 1 {
		n = 2 + map[byte]int{'x': 2, 'u': 4, 'U': 8}[s.rest[1]]
	} else {
		_, n = utf8.DecodeRuneInString(s.rest)
	}
	s.take(min(n, len(s.rest)))
}
