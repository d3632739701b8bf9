package report

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/width"

	"fishplate/ledger/quantity"
)

// The widths that a screen may have, in columns.
const (
	usualWidth  = 100 // where nothing says how wide it is
	leastWidth  = 40
	deepestHang = 44 // what hangs deeper leaves too little room on a narrow screen
)

// fold breaks a line to a width between words; what follows the first line
// stands under below. A number and its unit stay together. A word that is too
// long for a line by itself is broken at a mark, or where it has to be.
func fold(line string, wide int, below string) []string {
	if columns(line) <= wide {
		return []string{strings.TrimRight(line, " ")}
	}
	if len(below) > min(deepestHang, wide*9/20) {
		below = strings.Repeat(" ", min(deepestHang, wide*9/20))
	}
	var out []string
	now, fresh := "", true
	flush := func() {
		out = append(out, strings.TrimRight(now, " "))
		now, fresh = below, true
	}
	for _, a := range atoms(line) {
		gap := a.gap
		if fresh && len(out) > 0 {
			gap = ""
		}
		if !fresh && columns(now)+len(gap)+columns(a.text) > wide {
			flush()
			gap = ""
		}
		now += gap
		for text := a.text; ; {
			head, rest := text, ""
			if room := wide - columns(now); columns(text) > room {
				head, rest = cutAt(text, max(room, 1))
			}
			now, fresh = now+head, false
			if rest == "" {
				break
			}
			flush()
			text = rest
		}
	}
	return append(out, strings.TrimRight(now, " "))
}

// atom is a word, or several that belong on one line, and the blanks before it.
type atom struct{ gap, text string }

var wordAfterBlanks = regexp.MustCompile(`( *)([^ ]+)`)

// atoms cuts a line into words, a number with its tolerance and its unit as
// one.
func atoms(line string) []atom {
	var out []atom
	before := ""
	for _, m := range wordAfterBlanks.FindAllStringSubmatch(line, -1) {
		gap, word := m[1], m[2]
		if len(out) > 0 && gap == " " && belongs(before, word) {
			out[len(out)-1].text += gap + word
		} else {
			out = append(out, atom{gap, word})
		}
		before = word
	}
	return out
}

var (
	isNumber   = regexp.MustCompile(`^[(\[~+±-]*\d(?:[\d.,/]*\d)?$`)
	isFraction = regexp.MustCompile(`^\d+/\d+$`)
)

// belongs tells that two words may not be parted: a number and its unit, its
// fraction or its tolerance.
func belongs(before, word string) bool {
	bare := strings.Trim(word, "().,;:]")
	number := isNumber.MatchString(before)
	switch {
	case before == "±" || number && strings.HasPrefix(before, "("):
		return true
	case word == "±":
		_, unit := quantity.UnitNamed(before)
		return number || unit || before == "%" || isFraction.MatchString(before)
	case !number:
		return false
	case isFraction.MatchString(bare) || strings.HasPrefix(bare, "°") || bare == "%":
		return true
	}
	_, ok := quantity.UnitNamed(bare)
	return ok
}

// cutAt parts a word that is too long behind a mark within the room there is,
// or where the room ends.
func cutAt(text string, room int) (head, rest string) {
	used, hard, soft := 0, 0, 0
	for i, r := range text {
		if used += runeColumns(r); used > room && i > 0 {
			break
		}
		hard = i + utf8.RuneLen(max(r, 0))
		if r == utf8.RuneError {
			hard = i + 1
		}
		if strings.ContainsRune("/.,:;-_=", r) {
			soft = hard
		}
	}
	if soft > hard/2 {
		hard = soft
	}
	return text[:hard], text[hard:]
}

var painted = regexp.MustCompile("\x1b\\[[0-9;]*m")

// columns is how many columns a text takes on a terminal.
func columns(s string) int {
	n := 0
	for _, r := range painted.ReplaceAllString(s, "") {
		n += runeColumns(r)
	}
	return n
}

func runeColumns(r rune) int {
	switch {
	case r < 0x300:
		return 1
	case unicode.In(r, unicode.Mn, unicode.Me):
		return 0
	}
	switch width.LookupRune(r).Kind() {
	case width.EastAsianWide, width.EastAsianFullwidth:
		return 2
	}
	return 1
}
