package syntax

import (
	"math"
	"strings"
	"unicode"
	"unicode/utf8"
)

// checkTable tells what TOML allows and a ledger does not, below n.
func (r *reader) checkTable(n *Node) {
	r.checkCase(n)
	for _, c := range n.Children {
		if n.Kind == Table {
			if bad := controlCharacter(c.Key); bad >= 0 {
				r.fault(c.KeyAt, "a control character (U+%04X) is not allowed in a key", bad)
			}
		}
		switch v := c.Value.(type) {
		case nil:
			r.checkTable(c)
		case string:
			if bad := controlCharacter(v); bad >= 0 {
				r.fault(r.inside(c, bad), "a control character (U+%04X) is not allowed in a string", bad)
			}
		case float64:
			if math.IsInf(v, 0) || math.IsNaN(v) {
				r.fault(c.ValueAt, "the number %s is not allowed: it must be finite", c.Text)
			}
		}
	}
}

// inside gives the place of a character in a string, or of the string if the
// character is written as an escape.
func (r *reader) inside(n *Node, c rune) Position {
	before, _, found := strings.Cut(n.Text, string(c))
	if !found || c == '\r' {
		return n.ValueAt
	}
	at := n.ValueAt
	if i := strings.LastIndexByte(before, '\n'); i >= 0 {
		at.Line += strings.Count(before, "\n")
		at.Column, before = 1, before[i+1:]
	}
	at.Column += utf8.RuneCountInString(before)
	return at
}

// controlCharacter returns the first character of s that could hide or turn
// text: C0 save tab and newline, DEL, C1, and Unicode's Bidi_Control. It
// returns -1 if there is none. A carriage return before a newline is the file's
// line ending and passes.
func controlCharacter(s string) rune {
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c >= ' ' && c < 0x7f || c == '\n' || c == '\t':
		case c == '\r' && i+1 < len(s) && s[i+1] == '\n':
		case c < utf8.RuneSelf:
			return rune(c)
		default:
			wide, width := utf8.DecodeRuneInString(s[i:])
			if wide < 0xa0 || unicode.Is(unicode.Bidi_Control, wide) {
				return wide
			}
			i += width - 1
		}
	}
	return -1
}

// checkCase tells keys of one table that differ only in case.
func (r *reader) checkCase(n *Node) {
	if n.Kind != Table || len(n.Children) < 2 {
		return
	}
	if len(n.Children) > fewKeys {
		seen := make(map[string]*Node, len(n.Children))
		for _, c := range n.Children {
			folded := foldCase(c.Key)
			if first := seen[folded]; first != nil {
				r.sameButCase(first, c)
			} else {
				seen[folded] = c
			}
		}
		return
	}
	for i, c := range n.Children {
		for _, first := range n.Children[:i] {
			if strings.EqualFold(first.Key, c.Key) {
				r.sameButCase(first, c)
				break
			}
		}
	}
}

func (r *reader) sameButCase(first, second *Node) {
	if second.KeyAt.compare(first.KeyAt) < 0 {
		first, second = second, first
	}
	r.fault(second.KeyAt, "the keys %s at %s and %s at %s differ only in case",
		quoteKey(first.Key), first.KeyAt, quoteKey(second.Key), second.KeyAt)
}

// foldCase maps all keys that strings.EqualFold calls equal to one.
func foldCase(key string) string {
	plain := true
	for i := 0; i < len(key); i++ {
		if c := key[i]; c >= utf8.RuneSelf || 'A' <= c && c <= 'Z' {
			plain = false
			break
		}
	}
	if plain {
		return key
	}
	return strings.Map(func(c rune) rune {
		least := c
		for f := unicode.SimpleFold(c); f != c; f = unicode.SimpleFold(f) {
			least = min(least, f)
		}
		if 'A' <= least && least <= 'Z' {
			return least + 'a' - 'A'
		}
		return least
	}, key)
}
