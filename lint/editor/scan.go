package editor

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// What stands at a place of a file is found in its text and not in its tree: while
// someone types, the line is broken more often than not, and it is that line which
// is asked about.

// part is what a token is a part of.
type part uint8

const (
	noPart   part = iota // a comment, or behind a value
	inHeader             // of [a.b]
	inKey                // before an equals sign
	inValue              // behind it
)

// token is a name or a value as it is written, or the empty place where one would
// stand.
type token struct {
	part
	path     []string // from the root down to it; a place in a list by its number
	from, to int      // bytes, without quotes
	quote    string   // what it is quoted with, "" of a bare one
	closed   bool     // the quote behind is there
}

// text is the token as it is written.
func (t token) text(src string) string { return src[t.from:t.to] }

// whole is the range of the token with its quotes.
func (t token) whole() (from, to int) {
	to = t.to
	if t.closed {
		to += len(t.quote)
	}
	return t.from - len(t.quote), to
}

// tokenAt is what stands at a byte of a text, or would if it were written.
func tokenAt(src string, at int) token {
	var found token
	s := scanner{src: src, stop: at}
	s.run(func(t token) bool {
		found = t
		return !found.holds(at)
	})
	if !found.holds(at) {
		return s.gap(at)
	}
	return found
}

// holds tells that a place is in the token, or on the quote before it.
func (t token) holds(at int) bool {
	from, _ := t.whole()
	return t.part != noPart && from <= at && at <= t.to
}

// tokens are all of a text, in their order.
func tokens(src string) []token {
	var out []token
	s := scanner{src: src, stop: len(src) + 1}
	s.run(func(t token) bool {
		out = append(out, t)
		return true
	})
	return out
}

// box is a list or an inline table that is open.
type box struct {
	list  bool
	path  []string
	index int
}

type scanner struct {
	src     string
	i       int
	stop    int // tokens that begin behind it are not read
	header  []string
	boxes   []box
	keys    []string // of the statement, or the item of an inline table
	now     part
	comment bool // it stopped in one
}

// run hands over the tokens until that says no, or one would begin behind the stop.
func (s *scanner) run(each func(token) bool) {
	s.now = inKey
	for s.i < len(s.src) && s.i <= s.stop {
		switch c := s.src[s.i]; {
		case c == ' ' || c == '\t' || c == '\r':
			s.i++
		case c == '\n':
			s.i++
			s.newLine()
		case c == '#':
			end := lineEnd(s.src, s.i)
			if s.comment = s.stop > s.i && s.stop <= end; s.comment {
				return
			}
			s.i = end
		case s.now == inKey && len(s.boxes) == 0 && len(s.keys) == 0 && c == '[':
			if !s.readHeader(each) {
				return
			}
		case strings.IndexByte("=,.[]{}", c) >= 0 && !(s.now == inValue && c == '.'):
			s.mark(c)
		default:
			if !each(s.read()) {
				return
			}
		}
	}
}

// newLine ends a statement, unless a box is open that goes on below.
func (s *scanner) newLine() {
	line := s.src[s.i:lineEnd(s.src, s.i)]
	if n := len(s.boxes); n > 0 && !headerLine().MatchString(line) && !(s.boxes[n-1].list && keyLine().MatchString(line)) {
		return
	}
	s.boxes, s.keys, s.now = nil, nil, inKey
}

var (
	headerLine = pattern(`^[ \t]*\[\[?[ \t]*[A-Za-z][A-Za-z0-9_-]*[ \t]*[.\]]`)
	keyLine    = pattern(`^[ \t]*[A-Za-z0-9_-]+[ \t]*=`)
)

// pattern is a pattern that is made ready when it is first used.
func pattern(p string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(p) })
}

// readHeader reads [a.b], of which the end may not be written yet.
func (s *scanner) readHeader(each func(token) bool) bool {
	s.header, s.now = nil, inHeader
	end := lineEnd(s.src, s.i)
	for s.i < end && s.src[s.i] == '[' {
		s.i++
	}
	for s.i < end && s.i <= s.stop && s.src[s.i] != ']' && s.src[s.i] != '#' {
		switch s.src[s.i] {
		case ' ', '\t', '\r', '.':
			s.i++
			continue
		}
		t := s.read()
		s.header = append(s.header, t.text(s.src))
		if !each(t) {
			return false
		}
	}
	if s.i > s.stop || s.i == s.stop && s.i == end {
		return false
	}
	if s.i < end && s.src[s.i] == ']' {
		if s.i == s.stop {
			return false
		}
		for s.i < end && s.src[s.i] == ']' {
			s.i++
		}
	}
	s.now = noPart
	return true
}

// mark reads a sign that orders others.
func (s *scanner) mark(c byte) {
	n := len(s.boxes)
	switch c {
	case '=':
		if s.now == inKey {
			s.now = inValue
		}
	case '[', '{':
		if s.now == inValue {
			s.boxes = append(s.boxes, box{list: c == '[', path: s.here()})
			s.keys = nil
			if c == '{' {
				s.now = inKey
			}
		}
	case ',':
		switch {
		case n > 0 && s.boxes[n-1].list:
			s.boxes[n-1].index++
			s.now = inValue
		case n > 0:
			s.keys, s.now = nil, inKey
		}
	case ']', '}':
		if n > 0 {
			s.boxes, s.now = s.boxes[:n-1], noPart
		}
	}
	s.i++
}

// here is the path of the value, or of the key so far, that is being read.
func (s *scanner) here() []string {
	if n := len(s.boxes); n > 0 {
		b := s.boxes[n-1]
		if b.list {
			return append(slices.Clone(b.path), strconv.Itoa(b.index))
		}
		return append(slices.Clone(b.path), s.keys...)
	}
	return append(slices.Clone(s.header), s.keys...)
}

// read reads a name or a value.
func (s *scanner) read() token {
	t := token{part: s.now, from: s.i}
	if c := s.src[s.i]; c == '"' || c == '\'' {
		t.quote = s.src[s.i : s.i+1]
		if triple := strings.Repeat(t.quote, 3); s.now == inValue && strings.HasPrefix(s.src[s.i:], triple) {
			t.quote = triple
		}
		t.from += len(t.quote)
		t.to, t.closed = quoteEnd(s.src, t.from, t.quote)
		if s.i = t.to; t.closed {
			s.i += len(t.quote)
		}
	} else {
		ends := " \t\r\n#,]}"
		if s.now != inValue {
			ends = " \t\r\n#=.[]{},\"'"
		}
		if n := strings.IndexAny(s.src[s.i:], ends); n >= 0 {
			s.i += max(n, 1)
		} else {
			s.i = len(s.src)
		}
		t.to = s.i
	}
	switch t.part {
	case inHeader:
		t.path = append(slices.Clone(s.header), t.text(s.src))
	case inKey:
		s.keys = append(s.keys, t.text(s.src))
		t.path = s.here()
	case inValue:
		t.path = s.here()
		s.now = noPart
	}
	return t
}

// quoteEnd is where a quoted text ends: at its quote, or where its line does.
func quoteEnd(src string, i int, quote string) (end int, closed bool) {
	for ; i < len(src); i++ {
		switch {
		case src[i] == '\\' && quote[0] == '"':
			i++
		case len(quote) == 1 && src[i] == '\n':
			return i, false
		case strings.HasPrefix(src[i:], quote):
			return i, true
		}
	}
	return len(src), false
}

// gap is the empty place that the scanner stopped before.
func (s *scanner) gap(at int) token {
	t := token{part: s.now, from: at, to: at}
	switch {
	case s.comment:
		t.part = noPart
	case s.now == inHeader:
		t.path = append(slices.Clone(s.header), "")
	case s.now == inKey:
		t.path = append(s.here(), "")
	case s.now == inValue:
		t.path = s.here()
	}
	return t
}

// lineEnd is the newline that ends the line that i stands in, or the text's end.
func lineEnd(s string, i int) int {
	if n := strings.IndexByte(s[i:], '\n'); n >= 0 {
		return i + n
	}
	return len(s)
}
