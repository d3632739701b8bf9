package quantity

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A canonical spelling parses back to an identical reading: house rule of
// round trips.
func sameAgain(t require.TestingT, text string, r Reading, dim Dim, opt Options) {
	again, err := Parse(r.Spelling, dim, opt)
	require.NoError(t, err, "%q from %q", r.Spelling, text)
	require.Equal(t, r, again, "%q from %q", r.Spelling, text)
	require.True(t, r.Low <= r.Value && r.Value <= r.High, "%q", text)
	require.NoError(t, (&r).check())
}

func drawNumber(t *rapid.T, label string) string {
	switch rapid.IntRange(0, 3).Draw(t, label+" kind") {
	case 0:
		return fmt.Sprint(rapid.IntRange(0, 99999).Draw(t, label))
	case 1:
		return fmt.Sprintf("%.*f", rapid.IntRange(1, 6).Draw(t, label+" places"), rapid.Float64Range(0, 1e5).Draw(t, label))
	case 2:
		return fmt.Sprintf("%.3e", rapid.Float64Range(1e-20, 1e20).Draw(t, label))
	}
	den := 1 << rapid.IntRange(1, 6).Draw(t, label+" den")
	s := fmt.Sprintf("%d/%d", rapid.IntRange(1, den-1).Draw(t, label+" num"), den)
	if rapid.Bool().Draw(t, label+" whole") {
		s = fmt.Sprint(rapid.IntRange(1, 99).Draw(t, label)) + " " + s
	}
	return s
}

func allSpellings() []string {
	var out []string
	for _, u := range units {
		out = append(out, u.Symbol)
	}
	for s := range spellings {
		out = append(out, s)
	}
	return append(out, "lb/gal", "ohm/km", "W/K", "A2·s", "A²*s", "kJ/kg/K", "pulses/rev", "rev/mi", "1/K", "ft/s^2", "g/cm3", "mm4")
}

func TestSpellingParsesBack(t *testing.T) {
	names := allSpellings()
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom(names).Draw(t, "unit")
		u, ok := UnitNamed(unit)
		require.True(t, ok, unit)
		dim := u.Dim
		n, m := drawNumber(t, "n"), drawNumber(t, "m")
		if rapid.Bool().Draw(t, "negative") {
			n = "-" + n
		}
		forms := []string{
			n + " " + unit, n + " ± " + m + " " + unit, n + " " + unit + " +/- " + m + " " + unit, n + " " + unit + " ± " + m + " %", n + " ± " + m + " % " + unit,
			"~" + n + " " + unit, "~" + n + " ± " + m + " " + unit, n + " to " + m + " " + unit, n + " " + unit + " to " + m + " " + unit,
			"5 ft " + n + " in", "-5 ft " + n + " in ± " + m + " in", "5 ft 2 in to 9 ft " + m + " in",
		}
		for i, text := range forms {
			if i >= 9 {
				dim = Length
			}
			for _, opt := range []Options{{}, {Exact: true}, {Position: true}} {
				if r, err := Parse(text, dim, opt); err == nil {
					sameAgain(t, text, r, dim, opt)
				} else {
					require.NotContains(t, err.Error(), "unknown unit", text)
				}
			}
		}
	})
}

// Every unit in the table, every other spelling of it, in each plain form: none may fail.
func TestEveryUnitEveryForm(t *testing.T) {
	for _, unit := range allSpellings() {
		u, ok := UnitNamed(unit)
		require.True(t, ok, unit)
		for _, form := range []string{"612 X", "612 ± 5 X", "612 X ± 5 X", "~612 ± 80 X", "600 to 612 X", "3 1/2 X", "-0 X"} {
			text := strings.ReplaceAll(form, "X", unit)
			r, err := Parse(text, u.Dim, Options{})
			if u.Symbol == "%" && (form == "612 ± 5 X" || form == "~612 ± 80 X") {
				require.ErrorContains(t, err, "say what the % is of", text)
				continue
			}
			require.NoError(t, err, text)
			require.Equal(t, u.Symbol, r.Unit.Symbol)
			sameAgain(t, text, r, u.Dim, Options{})
		}
	}
}
