package quantity

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// patterns are those of every dimension that has a name, compiled once.
type patterns struct {
	form                map[Options]map[Sign]*regexp.Regexp
	unit                map[Dim]*regexp.Regexp
	joined, words, none *regexp.Regexp
}

func compiled() patterns {
	p := patterns{form: map[Options]map[Sign]*regexp.Regexp{}, unit: map[Dim]*regexp.Regexp{Any: regexp.MustCompile(UnitPattern(Any))}}
	for _, opt := range []Options{{}, {Exact: true}, {Position: true}} {
		p.form[opt] = map[Sign]*regexp.Regexp{}
		for _, sign := range []Sign{Signed, NotNegative, AboveZero} {
			p.form[opt][sign] = regexp.MustCompile(FormPattern(opt, sign))
		}
	}
	for _, n := range named {
		p.unit[n.dim] = regexp.MustCompile(UnitPattern(n.dim))
	}
	j, w, n := CompoundPatterns()
	p.joined, p.words, p.none = regexp.MustCompile(j), regexp.MustCompile(w), regexp.MustCompile(n)
	return p
}

func (p patterns) match(text string, dim Dim, opt Options, sign Sign) bool {
	compound := p.joined.MatchString(text) && p.words.MatchString(text) && !p.none.MatchString(text)
	return p.form[opt][sign].MatchString(text) && (p.unit[dim].MatchString(text) || compound)
}

// texts draws a quantity in one of the ways that people write one, or nearly.
func texts(t *rapid.T, names []string) string {
	unit := rapid.SampledFrom(names)
	gap := rapid.SampledFrom([]string{" ", "", "  ", "\t", "\u00a0"})
	num := func(label string) string {
		n := drawNumber(t, label)
		n = strings.ReplaceAll(n, " ", rapid.SampledFrom([]string{" ", "-", "  "}).Draw(t, "in a fraction"))
		n = rapid.SampledFrom([]string{n, n, n, "½", "3½", "3 ¼", strings.ReplaceAll(n, "/", "\u2044"), "0", "-0", "0.0", "5.", ".5", "1E3"}).Draw(t, "how")
		return rapid.SampledFrom([]string{"", "", "", "", "+", "-", "\u2212"}).Draw(t, "sign") + n
	}
	var b strings.Builder
	if rapid.IntRange(0, 3).Draw(t, "about") == 0 {
		b.WriteString("~")
	}
	one := func() {
		if rapid.IntRange(0, 4).Draw(t, "feet") == 0 {
			fmt.Fprintf(&b, "%s%s%s%s", num("feet"), rapid.SampledFrom([]string{" ft ", "'", "' ", "\u2032", " feet "}).Draw(t, "mark"), num("inches"), rapid.SampledFrom([]string{" in", "\"", " inches", "", "\u2033", "\u201d"}).Draw(t, "end"))
			return
		}
		b.WriteString(num("n"))
		if rapid.IntRange(0, 3).Draw(t, "unit there") > 0 {
			b.WriteString(gap.Draw(t, "gap") + unit.Draw(t, "unit"))
		}
	}
	one()
	switch rapid.IntRange(0, 4).Draw(t, "more") {
	case 0, 1:
		b.WriteString(gap.Draw(t, "gap") + rapid.SampledFrom([]string{"±", "+/-", "+-"}).Draw(t, "pm") + gap.Draw(t, "gap"))
		one()
		if rapid.IntRange(0, 4).Draw(t, "percent") == 0 {
			b.WriteString(" %")
		}
	case 2:
		b.WriteString(" to ")
		one()
	}
	return b.String()
}

// What Parse takes matches the pattern of its dimension, by the sign that it
// has. The unit is often right: its neighbors in the text are of its dimension.
func TestPatternsTakeWhatParseTakes(t *testing.T) {
	p, taken := compiled(), 0
	names := allSpellings()
	byDim := map[Dim][]string{}
	for _, s := range names {
		if u, ok := UnitNamed(s); ok {
			byDim[u.Dim] = append(byDim[u.Dim], s)
		}
	}
	byDim[Money] = []string{"USD", "EUR", "SEK"}
	rapid.Check(t, func(t *rapid.T) {
		dim := rapid.SampledFrom(named).Draw(t, "dim").dim
		mine := byDim[dim]
		if len(mine) == 0 || rapid.IntRange(0, 9).Draw(t, "any") == 0 {
			mine = names
		}
		text := texts(t, mine)
		for _, d := range []Dim{dim, Any} {
			for opt := range p.form {
				r, err := Parse(text, d, opt)
				if err != nil {
					continue
				}
				taken++
				require.True(t, p.match(text, d, opt, Signed), "%q as %s", text, d)
				ends := strings.Contains(r.Spelling, " to ")
				if r.Value >= 0 && (!ends || r.Low >= 0) && r.Unit.Offset == 0 {
					require.True(t, p.match(text, d, opt, NotNegative), "%q as %s, not negative", text, d)
				}
				if r.Value > 0 && (!ends || r.Low >= 0) && r.Unit.Offset == 0 {
					require.True(t, p.match(text, d, opt, AboveZero), "%q as %s, above zero", text, d)
				}
			}
		}
	})
	assert.Greater(t, taken, atLeast(30))
}

// What Parse refuses and a pattern can say does not match; each with what is wrong.
func TestPatternsRefuse(t *testing.T) {
	p := compiled()
	for _, c := range []struct {
		text string
		dim  Dim
		opt  Options
	}{
		{"", Mass, Options{}}, {" ", Mass, Options{}}, {"12", Mass, Options{}}, {"heavy", Mass, Options{}}, {"12 in", Mass, Options{}}, {"12 lbz", Mass, Options{}},
		{"1,200 lb", Mass, Options{}}, {"3 1/0 in", Length, Options{}}, {"inf lb", Mass, Options{}}, {"12 ± -1 lb", Mass, Options{}}, {"12 ± 1 ± 2 lb", Mass, Options{}},
		{"12 lb ± 1 in", Mass, Options{}}, {"~3 in", Length, Options{Position: true}}, {"7000 ± 10 lb", Mass, Options{Exact: true}}, {"~7 lb", Mass, Options{Exact: true}},
		{"1 to 2 lb", Mass, Options{Exact: true}}, {"30 psia", Pressure, Options{}}, {"250 F", Temperature, Options{}}, {"575 #", Mass, Options{}}, {"800 CCA", Current, Options{}},
		{"1//2 in", Length, Options{}}, {"12 lb/fot", Mass, Options{}}, {"12 in2", Length, Options{}}, {"12 lb/in", Mass, Options{}}, {"~1 to 2 lb", Mass, Options{}},
		{"1 to 2 to 3 lb", Mass, Options{}}, {"~~3 lb", Mass, Options{}}, {"3 lb 4", Mass, Options{}}, {"? lb", Mass, Options{}}, {"5 A", Ratio, Options{}}, {"120 usd", Money, Options{}},
	} {
		_, err := Parse(c.text, c.dim, c.opt)
		require.Error(t, err, c.text)
		assert.False(t, p.match(c.text, c.dim, c.opt, Signed), "%q as %s", c.text, c.dim)
	}
	for _, text := range []string{"-5 lb", "-1 to 2 lb", "\u22123 lb", "-1/2 lb", "-3 1/2 lb"} {
		assert.True(t, p.match(text, Mass, Options{}, Signed), text)
		assert.False(t, p.match(text, Mass, Options{}, NotNegative), text)
	}
	for _, text := range []string{"0 lb", "0.0 lb", "-0 lb", "0/3 lb", "0e5 lb"} {
		assert.True(t, p.match(text, Mass, Options{}, NotNegative), text)
		assert.False(t, p.match(text, Mass, Options{}, AboveZero), text)
	}
}
