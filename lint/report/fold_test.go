package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"fishplate/lint"
)

// TestFoldKeepsNumbersWhole: a number, its tolerance and its unit are one word.
func TestFoldKeepsNumbersWhole(t *testing.T) {
	for _, whole := range []string{"4.25 ± 0.42 in", "1 1/8 in", "4.18 % ± 0.77 %", "5.4 ± 0.2 deg", "± 0.037 °", "10,000 lb", "160 °F", "~11 A", "(4 checks)", "8500 lb-ft", "4000 pulses/mi"} {
		for width := 40; width < 60; width++ {
			for lead := range 40 {
				lines := fold(strings.Repeat("x", lead)+" "+whole+" and the rest of what there is to say", width, "  ")
				found := false
				for _, l := range lines {
					found = found || strings.Contains(l, whole)
				}
				assert.True(t, found, "%q at %d after %d: %q", whole, width, lead, lines)
			}
		}
	}
}

// TestFoldFits: no line is too long, and no letter is lost.
func TestFoldFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := rapid.StringMatching(`( {0,6}[a-z0-9/.±é車\-]{1,60}){0,12}`).Draw(t, "line")
		width := rapid.IntRange(40, 120).Draw(t, "width")
		below := strings.Repeat(" ", rapid.IntRange(0, 60).Draw(t, "below"))
		lines := fold(line, width, below)
		for _, l := range lines {
			if columns(l) > width && strings.TrimSpace(l) != "" {
				t.Fatalf("%d columns at %d: %q", columns(l), width, l)
			}
		}
		if bare := strings.NewReplacer(" ", ""); bare.Replace(strings.Join(lines, "")) != bare.Replace(line) {
			t.Fatalf("%q became %q", line, lines)
		}
	})
}

// TestColumns: letters of the East take two columns, marks above a letter and
// colors none.
func TestColumns(t *testing.T) {
	assert.Equal(t, 2, columns("車"))
	assert.Equal(t, 1, columns("é"))
	assert.Equal(t, 4, columns("\x1b[1;31mfail\x1b[0m"))
}

// TestPinsOfAPlugAreOneRow: with their numbers in order, and a row for each
// verdict and end.
func TestPinsOfAPlugAreOneRow(t *testing.T) {
	rule := &lint.Rule{Name: "harness/pins"}
	cut := func(pin, end string) *lint.Result {
		return &lint.Result{Rule: rule, Entry: "plug.cowl", Aspect: "pin " + pin + end, Verdict: lint.Fail, Reason: "cut off at plug.cowl:" + pin}
	}
	var got []string
	for _, g := range together(InOrderOfHarm([]*lint.Result{cut("12", ""), cut("2", ""), cut("10", ""), cut("10", ", other end"), cut("4", " to plug.dash"), cut("3", " to plug.dash")})) {
		got = append(got, g.subject+": "+g.say)
	}
	assert.Equal(t, []string{"plug.cowl (pins 2, 10, 12): cut off at plug.cowl", "plug.cowl (pins 3, 4 to plug.dash): cut off at plug.cowl", "plug.cowl (pin 10, other end): "}, got)
	assert.Equal(t, "1, 2, 4-6, 8, A", inRuns([]string{"2", "1", "4", "6", "5", "A", "8"}))
}

// TestOrderOfHarm: what is due first, then what can hurt someone, then names;
// never the order of the packs.
func TestOrderOfHarm(t *testing.T) {
	danger, plain := &lint.Rule{Name: "z/a", Caution: "it burns"}, &lint.Rule{Name: "a/a"}
	rs := []*lint.Result{
		{Rule: plain, Entry: "e", Verdict: lint.Missing, Due: 2},
		{Rule: plain, Entry: "d10", Verdict: lint.Missing, Due: 1},
		{Rule: plain, Entry: "d9", Verdict: lint.Missing, Due: 1},
		{Rule: danger, Entry: "c", Verdict: lint.Missing, Due: 1, Should: true},
		{Rule: danger, Entry: "b", Verdict: lint.Missing, Due: 1},
		{Rule: danger, Entry: "a", Verdict: lint.Fail, Due: 1},
	}
	var got string
	for _, r := range InOrderOfHarm(rs) {
		got += r.Entry + " "
	}
	assert.Equal(t, "a b d9 d10 c e ", got)
}
