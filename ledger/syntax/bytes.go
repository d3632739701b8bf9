package syntax

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// checkBytes makes the line table and refuses what no TOML file may hold
// (spec, "Preliminaries" and "Comment"; corpus: control/*, encoding/*).
func (r *reader) checkBytes() bool {
	if strings.HasPrefix(r.src, "\xff\xfe") || strings.HasPrefix(r.src, "\xfe\xff") {
		r.refuse(Position{1, 1}, "the file is in UTF-16, it must be in UTF-8")
		return false
	}
	clean := r.src
	if !utf8.ValidString(clean) {
		i := firstInvalid(clean)
		r.bad(i, "the byte 0x%02x is not valid UTF-8", clean[i])
		clean = validated(clean)
	}
	var scrubbed []byte
	for i := 0; i < len(clean); i++ {
		switch c := clean[i]; {
		case c == '\n':
			r.lines = append(r.lines, i+1)
			continue
		case c >= ' ' && c != 0x7f || c == '\t':
			continue
		case c == '\r' && i+1 < len(clean) && clean[i+1] == '\n':
			continue
		case c == '\r':
			r.bad(i, "a carriage return (U+000D) without a newline is not allowed in a TOML file")
		default:
			r.bad(i, "a control character (U+%04X) is not allowed in a TOML file", c)
		}
		if scrubbed == nil {
			scrubbed = []byte(clean)
		}
		scrubbed[i] = ' '
	}
	if r.src = clean; scrubbed != nil {
		r.src = string(scrubbed)
	}
	r.tellBad()
	return true
}

// badByte is one that no TOML file may hold. Its line and column are known when
// all lines are.
type badByte struct {
	at      int
	message string
}

func (r *reader) bad(at int, format string, args ...any) {
	if len(r.badBytes) <= maxFaults {
		r.badBytes = append(r.badBytes, badByte{at, fmt.Sprintf(format, args...)})
	}
}

func (r *reader) tellBad() {
	for _, b := range r.badBytes {
		r.refuse(r.at(b.at), "%s", b.message)
	}
	r.scrubbed = len(r.badBytes) > 0
}

// validated puts a question mark for each byte that is not UTF-8.
func validated(s string) string {
	out := []byte(s)
	for i, c := range s {
		if c == utf8.RuneError {
			if _, width := utf8.DecodeRuneInString(s[i:]); width == 1 {
				out[i] = '?'
			}
		}
	}
	return string(out)
}

func firstInvalid(s string) int {
	for i, c := range s {
		if c == utf8.RuneError {
			if _, width := utf8.DecodeRuneInString(s[i:]); width == 1 {
				return i
			}
		}
	}
	return len(s)
}

// nesting follows brackets, keys and strings, enough to know how deep a file
// nests before a recursive parser sees it. It never complains of syntax: where
// the file is wrong, the parsers stop at the same place.
type nesting struct {
	src     string
	levels  []int  // of each open bracket: the levels it stands for, its key's dots included
	opened  []int  // of each open bracket: its offset
	section int    // levels of the current header
	depth   int    // section plus all levels
	dots    int    // in the key being read
	key     bool   // in a key
	fresh   bool   // only blanks since the line began
	header  int    // levels that the header being read adds beside its dots, 0 outside
	open    int    // offset of the string that the file ends in, -1 if none
	inside  string // what the file ends in
}

// checkDepth refuses files nested too deeply and notes what the file ends in.
func (r *reader) checkDepth() bool {
	n := nesting{src: r.src, key: true, fresh: true, open: -1}
	for i := 0; i < len(r.src); {
		i = n.step(i)
		deep := n.depth
		if n.key {
			deep += n.dots
		}
		if deep > maxDepth {
			r.refuse(r.at(i-1), "nested deeper than %d levels", maxDepth)
			return false
		}
	}
	if last := len(n.opened) - 1; n.open < 0 && last >= 0 {
		n.open, n.inside = n.opened[last], "array"
		if r.src[n.open] == '{' {
			n.inside = "inline table"
		}
	}
	r.open, r.openKind = n.open, n.inside
	return true
}

// step reads what starts at i and returns where it ends.
func (n *nesting) step(i int) int {
	switch c := n.src[i]; c {
	case ' ', '\t', '\r':
		return i + 1
	case '#':
		return lineEnd(n.src, i)
	case '\n':
		if len(n.opened) == 0 {
			n.key, n.fresh, n.dots, n.header = true, true, 0, 0
		}
		return i + 1
	case '"', '\'':
		n.fresh = false
		return n.quoted(i)
	case '=':
		n.key = false
	case '.':
		if n.key {
			n.dots++
		}
	case ',':
		if last := len(n.opened) - 1; last >= 0 && n.src[n.opened[last]] == '{' {
			n.key, n.dots = true, 0
		}
	case '[', '{':
		n.bracket(i)
	case ']', '}':
		n.close()
	}
	n.fresh = false
	return i + 1
}

func (n *nesting) bracket(i int) {
	switch {
	case n.key && n.header == 1 && n.src[i-1] == '[':
		n.header = 2 // an array of tables: the array and its element
	case n.key && n.fresh && n.src[i] == '[':
		n.header, n.section, n.depth, n.dots = 1, 0, 0, 0
	case !n.key:
		level := 1 + n.dots
		n.levels, n.opened = append(n.levels, level), append(n.opened, i)
		n.depth += level
		n.key, n.dots = n.src[i] == '{', 0
	}
}

func (n *nesting) close() {
	if n.header > 0 {
		n.section = n.dots + n.header
		n.depth, n.dots, n.header, n.key = n.section, 0, 0, false
		return
	}
	if last := len(n.opened) - 1; last >= 0 {
		n.depth -= n.levels[last]
		n.levels, n.opened = n.levels[:last], n.opened[:last]
		n.key, n.dots = false, 0
	}
}

// quoted skips the string that starts at i.
func (n *nesting) quoted(i int) int {
	s, quote := n.src, n.src[i]
	width := 1
	if !n.key && i+2 < len(s) && s[i+1] == quote && s[i+2] == quote {
		width = 3
	}
	for j := i + width; j < len(s); j++ {
		switch {
		case s[j] == '\\' && quote == '"':
			j++
		case s[j] == '\n' && width == 1:
			return j
		case s[j] == quote && width == 1:
			return j + 1
		case s[j] == quote:
			k := j
			for k < len(s) && s[k] == quote {
				k++
			}
			if k-j >= 3 { // up to two more quotes belong to the string (spec, "String")
				return k
			}
			j = k - 1
		}
	}
	if width == 3 {
		n.open, n.inside = i, "string"
	}
	return len(s)
}

// lineEnd returns the offset of the newline that ends the line i stands in.
func lineEnd(s string, i int) int {
	if j := strings.IndexByte(s[i:], '\n'); j >= 0 {
		return i + j
	}
	return len(s)
}
