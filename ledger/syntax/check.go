package syntax

import (
	"math"
	"slices"
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
				r.fault(c.KeyAt, "%s (U+%04X) is not allowed in a key", hiddenName(bad), bad)
			}
		}
		switch v := c.Value.(type) {
		case nil:
			r.checkTable(c)
		case string:
			if bad := controlCharacter(v); bad >= 0 {
				r.fault(r.inside(c, bad), "%s (U+%04X) is not allowed in a string", hiddenName(bad), bad)
			}
		case int64:
			r.checkDigits(c)
		case float64:
			if math.IsInf(v, 0) || math.IsNaN(v) {
				r.fault(c.ValueAt, "the number %s is not allowed: it must be finite", c.Text)
			} else if math.Abs(v) > maxNumber {
				r.fault(c.ValueAt, "the number %s is not allowed: it is beyond 1e30", short(c.Text))
			} else {
				r.checkDigits(c)
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

// checkDigits refuses a number that is written longer than anyone can mean.
func (r *reader) checkDigits(n *Node) {
	if len(n.Text) > maxDigits && digits(n.Text) > maxDigits {
		r.fault(n.ValueAt, "the number %s is not allowed: it has more than %d digits", short(n.Text), maxDigits)
	}
}

func digits(s string) int {
	n := 0
	for i := 0; i < len(s); i++ {
		if '0' <= s[i] && s[i] <= '9' {
			n++
		}
	}
	return n
}

// short is the beginning of a text that is too long to be told whole.
func short(s string) string {
	if len(s) > maxDigits {
		return s[:maxDigits/2] + "..."
	}
	return s
}

// controlCharacter returns the first character of s that could hide or turn
// text: C0 save tab and newline, DEL, C1, Unicode's Bidi_Control, and what a
// screen shows nothing of (Default_Ignorable_Code_Point: zero-width letters,
// soft hyphens, fillers, tags). It returns -1 if there is none. A carriage
// return before a newline is the file's line ending and passes; so do a
// variation selector and a zero-width joiner behind a character that is no
// letter, as emoji have them.
func controlCharacter(s string) rune {
	before := rune(-1)
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c >= ' ' && c < 0x7f || c == '\n' || c == '\t':
			before = rune(c)
		case c == '\r' && i+1 < len(s) && s[i+1] == '\n':
		case c < utf8.RuneSelf:
			return rune(c)
		default:
			wide, width := utf8.DecodeRuneInString(s[i:])
			if wide < 0xa0 || unicode.Is(unicode.Bidi_Control, wide) || invisible(wide) && !partOfEmoji(before, wide) {
				return wide
			}
			before = wide
			i += width - 1
		}
	}
	return -1
}

// invisible tells the characters of Default_Ignorable_Code_Point (Unicode
// DerivedCoreProperties): those of Cf that are shown only by what they do, and
// fillers that are letters or marks by their category.
func invisible(c rune) bool {
	switch {
	case c == 0x34f, c == 0x115f, c == 0x1160, c == 0x17b4, c == 0x17b5, c == 0x3164, c == 0xffa0:
		return true
	case 0x180b <= c && c <= 0x180f, 0xfe00 <= c && c <= 0xfe0f, 0xe0000 <= c && c <= 0xe0fff:
		return true
	case c == 0xad, c == 0x61c, 0x200b <= c && c <= 0x200f, 0x202a <= c && c <= 0x202e, 0x2060 <= c && c <= 0x206f:
		return true
	}
	return c == 0xfeff || 0xfff0 <= c && c <= 0xfff8 || 0x1bca0 <= c && c <= 0x1bca3 || 0x1d173 <= c && c <= 0x1d17a
}

// partOfEmoji tells a selector or joiner behind a symbol.
func partOfEmoji(before, c rune) bool {
	return (c == 0xfe0f || c == 0x200d) && (unicode.Is(unicode.So, before) || unicode.Is(unicode.Sk, before) || before == 0xfe0f)
}

// hiddenName is what messages call such a character.
func hiddenName(c rune) string {
	if invisible(c) && !unicode.Is(unicode.Bidi_Control, c) {
		return "an invisible character"
	}
	return "a control character"
}

// checkCase tells keys of one table that differ only in case.
func (r *reader) checkCase(n *Node) {
	if n.Kind != Table || !slices.ContainsFunc(n.Children, func(c *Node) bool { return foldCase(c.Key) != c.Key }) {
		return
	}
	seen := make(map[string]*Node, len(n.Children))
	for _, c := range n.Children {
		folded := foldCase(c.Key)
		if first := seen[folded]; first != nil {
			r.sameButCase(first, c)
		} else {
			seen[folded] = c
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
