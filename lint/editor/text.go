package editor

import (
	"sort"
	"strings"
	"unicode/utf8"
)

// Encoding is the code units that positions count.
type Encoding string

// The encodings that are spoken. Every editor knows UTF-16.
const (
	UTF16 Encoding = "utf-16"
	UTF8  Encoding = "utf-8"
)

// text is what a file holds, with the table of its lines. Lines end as the
// protocol has it, with \n, \r\n or a lone \r. It is never changed.
type text struct {
	s      string
	lines  []int   // the offset of each line's first byte
	counts []count // at the beginning, and a stride on each
}

// count is how many code units of UTF-16 stand before a character.
type count struct{ at, units int }

// stride is how many bytes at most are counted for a position: a whole file may
// stand in one line, and have a position at every word.
const stride = 256

func textOf(s string) *text {
	t := &text{s: s, lines: make([]int, 1, 16+len(s)/32), counts: make([]count, 1, 1+len(s)/stride)}
	for i, n := 0, 0; i < len(s); {
		if i >= t.counts[len(t.counts)-1].at+stride {
			t.counts = append(t.counts, count{i, n})
		}
		if s[i] == '\n' || s[i] == '\r' && (i+1 == len(s) || s[i+1] != '\n') {
			t.lines = append(t.lines, i+1)
		}
		r, size := utf8.DecodeRuneInString(s[i:])
		i, n = i+size, n+units(r, size, UTF16)
	}
	return t
}

// offset is the byte that a position is before. Past the end of a line it is the
// line's end, past the last line the text's; within a character its beginning.
func (t *text) offset(p Position, e Encoding) int {
	switch {
	case p.Line < 0:
		return 0
	case p.Line >= len(t.lines):
		return len(t.s)
	}
	at, end := t.lines[p.Line], t.lineEnd(p.Line)
	for left := p.Character; left > 0 && at < end; {
		r, size := utf8.DecodeRuneInString(t.s[at:end])
		if left -= units(r, size, e); left < 0 {
			break
		}
		at += size
	}
	return at
}

// lineEnd is where a line's text ends, before what ends the line.
func (t *text) lineEnd(line int) int {
	end := len(t.s)
	if line+1 < len(t.lines) {
		end = t.lines[line+1]
	}
	for end > t.lines[line] && (t.s[end-1] == '\n' || t.s[end-1] == '\r') {
		end--
	}
	return end
}

// position is that of a byte.
func (t *text) position(at int, e Encoding) Position {
	at = max(0, min(at, len(t.s)))
	line := sort.SearchInts(t.lines, at+1) - 1
	return Position{line, t.before(at, e) - t.before(t.lines[line], e)}
}

// before is how many code units of whole characters stand before a byte.
func (t *text) before(at int, e Encoding) int {
	from := t.counts[sort.Search(len(t.counts), func(i int) bool { return t.counts[i].at > at })-1]
	i, n := from.at, from.units
	if e == UTF8 {
		n = i
	}
	for i < at {
		r, size := utf8.DecodeRuneInString(t.s[i:])
		if i += size; i <= at {
			n += units(r, size, e)
		}
	}
	return n
}

func (t *text) span(from, to int, e Encoding) Range {
	return Range{t.position(from, e), t.position(to, e)}
}

// units are how many code units a character takes. A byte that is no text counts
// as the one character that editors show for it.
func units(r rune, size int, e Encoding) int {
	switch {
	case e == UTF8:
		return size
	case r > 0xffff:
		return 2
	}
	return 1
}

// changed is the text after a change.
func (t *text) changed(c contentChange, e Encoding) *text {
	if c.Range == nil {
		return textOf(c.Text)
	}
	from, to := t.offset(c.Range.Start, e), t.offset(c.Range.End, e)
	to = max(from, to)
	return textOf(t.s[:from] + c.Text + t.s[to:])
}

const byteOrderMark = "\ufeff"

// shift is how many bytes of the text stand before what a ledger's places count.
func (t *text) shift() int {
	if strings.HasPrefix(t.s, byteOrderMark) {
		return len(byteOrderMark)
	}
	return 0
}

// at is the byte of a place in a ledger: lines end with \n there, columns count
// characters, and both begin with 1.
func (t *text) at(line, column int) int {
	i := t.shift()
	for ; line > 1; line-- {
		next := strings.IndexByte(t.s[i:], '\n')
		if next < 0 {
			return len(t.s)
		}
		i += next + 1
	}
	for ; column > 1 && i < len(t.s) && t.s[i] != '\n'; column-- {
		_, size := utf8.DecodeRuneInString(t.s[i:])
		i += size
	}
	return i
}
