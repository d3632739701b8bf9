package quantity

import (
	"regexp"
	"slices"
	"strings"
)

// Sign is which numbers a key takes.
type Sign uint8

// Any number, none below zero, or none but above it.
const (
	Signed Sign = iota
	NotNegative
	AboveZero
)

// The patterns here are what regular expressions can say of the texts that Parse
// takes, in what RE2 and ECMA 262 have in common. All that Parse takes matches them,
// save a number so small that it is read as zero. What they cannot say is left to
// Parse: how numbers compare, that value and tolerance have one unit, what the
// dimension of a compound comes to.
const (
	space    = "\\t-\\r \\x85\\xa0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000" // as package unicode has it
	blank    = "[" + space + "]"
	blanks   = blank + "*"
	stroke   = "[/\u2044]"
	minus    = "[\\-\u2212]"
	vulgar   = "[½¼¾⅛⅜⅝⅞]"
	about    = "(?:±|\\+/-|\\+-)"
	exponent = "(?:[eE][+\\-\u2212]?[0-9]+)?"
	over     = stroke + "0*[1-9][0-9]*"
	mixed    = "[0-9]+(?:(?:" + blank + "+|" + minus + ")[0-9]+" + over + "|" + blanks + vulgar + ")"
	plainly  = "(?:" + mixed + "|[0-9]+" + over + "|(?:[0-9]+\\.?[0-9]*|\\.[0-9]+)" + exponent + ")"
	nought   = minus + "(?:0+(?:" + blank + "+0+)?" + over + "|(?:0+\\.?0*|\\.0+)" + exponent + ")"
	letters  = "A-Za-z%\"\u2033\u201d°µμΩ" // that a unit begins with
	anyUnit  = "(?:1?" + blanks + stroke + blanks + ")?[" + letters + "][^±~" + space + "]*(?:" + blank + "+[" + letters + "(/\u2044·*][^±~" + space + "]*)*"
	inches   = "(?:inches|inch|in|[\"\u2033\u201d])"
)

// Spoken is the pattern of text that is not blank.
const Spoken = "[^" + space + "]"

// Blanks is the pattern of blanks, or of none.
const Blanks = blanks

// numbers are the figures of a sign.
func (s Sign) numbers() string {
	switch s {
	case NotNegative:
		return "(?:\\+?" + plainly + "|" + nought + "|" + vulgar + ")"
	case AboveZero:
		return "(?:\\+?(?:" + mixed + "|0*[1-9][0-9]*" + over + "|(?:0*[1-9][0-9]*\\.?[0-9]*|0*\\.0*[1-9][0-9]*)" + exponent + ")|" + vulgar + ")"
	}
	return "(?:(?:\\+|" + minus + ")?" + plainly + "|" + vulgar + ")"
}

// figures are numbers with a unit, whatever it is, or without one.
func (s Sign) figures() string {
	feet := s
	if s == AboveZero { // "0 ft 6 in"
		feet = NotNegative
	}
	return "(?:" + s.numbers() + "(?:" + blanks + anyUnit + ")?|" + feet.numbers() + andInches(NotNegative.numbers()) + ")"
}

// andInches is what follows the number of feet.
func andInches(in string) string {
	return blanks + "(?:(?:feet|foot|ft)(?:" + blank + "+" + in + "|" + blanks + vulgar + ")|['\u2032]" + blanks + in + ")" + blanks + inches
}

// FormPattern is the form of a quantity of any dimension, by the sign that its
// value must have.
func FormPattern(opt Options, sign Sign) string {
	if opt.Exact {
		return "^" + blanks + sign.figures() + blanks + "$"
	}
	size := "(?:\\+?" + plainly + "|" + vulgar + ")"
	margin := blanks + about + blanks + size + "(?:" + blanks + anyUnit + "|" + andInches(NotNegative.numbers()) + ")?"
	around := "(?:~" + blanks + ")?" + sign.figures() + "(?:" + margin + ")?"
	if opt.Position {
		around = sign.figures() + "|(?:~" + blanks + ")?" + sign.figures() + margin
	}
	low := sign
	if sign == AboveZero {
		low = NotNegative
	}
	return "^" + blanks + "(?:" + around + "|" + low.figures() + blank + "+to" + blank + "+" + sign.figures() + ")" + blanks + "$"
}

// run is what stands between units: all but letters, and a number's exponent.
const run = "(?:[^" + letters + "'\u2032]|[0-9.][eE][+\\-\u2212]?[0-9])*"

// after is what may follow a unit: no power, and nothing that joins another to it.
const after = "[^" + letters + "'\u20320-9^²³*·/\u2044\\-]" + run

// UnitPattern is what a text may say of units where its dimension is dim and none
// of them is a compound; CompoundPatterns are for the others. It is "" where all
// units of the dimension are compounds.
func UnitPattern(dim Dim) string {
	atom := alternatives(func(s string, u *Unit) bool {
		// Where any unit will do, two words match one by one, and three capitals as a
		// currency: a second way to match them would be tried against the first.
		return takes(u, dim) && !(dim.any && (twoUnits(s) || code.MatchString(s)))
	})
	if dim == Money || dim.any {
		atom += "|[A-Z][A-Z][A-Z]"
	}
	if dim == Length || dim.any {
		atom += "|['\u2032]" + run + inches
	}
	atom = strings.TrimPrefix(atom, "|") // no alternative is empty: it would match in no end of ways
	if atom == "" {
		return ""
	}
	words := "(?:to|%|percent)"
	more := func(next string) string { return "(?:" + after + "(?:" + next + "))*(?:" + after + ")?" }
	if dim == Ratio || dim.any { // % is one of its units
		return "^" + run + "(?:(?:" + atom + "|to)" + more(atom+"|to") + ")?$"
	}
	return "^" + run + "(?:" + words + after + ")*(?:" + atom + ")" + more(atom+"|to|%|percent") + "$"
}

// takes tells that a key of the dimension takes the unit.
func takes(u *Unit, dim Dim) bool {
	if u.Symbol == "" {
		return false
	}
	got, err := unitFor(u.Symbol, dim)
	return err == nil && (dim.any || got.Dim == dim)
}

// code is the form of a currency's code (ISO 4217), which some units have too.
var code = regexp.MustCompile("^[A-Z][A-Z][A-Z]$")

// twoUnits tells a spelling whose words, more than one, are units themselves.
func twoUnits(symbol string) bool {
	words := strings.Fields(symbol)
	return len(words) > 1 && !slices.ContainsFunc(words, func(s string) bool { return unitBySymbol[s] == nil })
}

// alternatives are the spellings of some units, the longest first.
func alternatives(is func(string, *Unit) bool) string {
	var out []string
	for s, u := range unitBySymbol {
		if s != "" && is(s, u) {
			out = append(out, spelt(s))
		}
	}
	slices.SortFunc(out, longestFirst)
	return strings.Join(slices.Compact(out), "|")
}

func longestFirst(a, b string) int {
	if d := len(b) - len(a); d != 0 {
		return d
	}
	return strings.Compare(a, b)
}

// spelt is a unit's spelling with the signs that people type in more than one way.
func spelt(s string) string {
	return strings.NewReplacer(" ", blank+"+", "/", stroke, "-", minus, "\"", "[\"\u2033\u201d]").Replace(regexp.QuoteMeta(s))
}

// CompoundPatterns are what a text says where a unit of it may be a compound: the
// first two it matches, the third it does not. The first finds what joins units or
// raises them, the second goes through the words, the third finds a unit that is
// written like a compound and is none, such as in2 or lb/in.
func CompoundPatterns() (joined, words, none string) {
	joined = "(?:1" + blanks + ")?" + stroke + blanks + "[" + letters + "]|[" + letters + "]\\^?[234²³]|[·*]"
	letter := "A-Za-zµμΩ"
	runs := regexp.MustCompile("[" + letter + "]+")
	known := []string{"to", "e", "E", "[A-Z][A-Z][A-Z]"}
	for s := range unitBySymbol {
		for _, word := range runs.FindAllString(s, -1) {
			if !code.MatchString(word) {
				known = append(known, word)
			}
		}
	}
	slices.SortFunc(known, longestFirst)
	words = "^[^" + letter + "]*(?:(?:" + strings.Join(slices.Compact(known), "|") + ")(?:[^" + letter + "]+|$))*$"
	none = "[0-9.½¼¾⅛⅜⅝⅞]" + blanks + "(?:" + alternatives(func(_ string, u *Unit) bool {
		return strings.ContainsAny(u.Symbol, "/·234-")
	}) + ")" + blanks + "$"
	return joined, words, none
}
