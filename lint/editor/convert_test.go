package editor

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"fishplate/ledger/quantity"
)

// The factors are those of NIST Special Publication 811, 2008, appendix B.8: 1 in is
// 25.4 mm and 1 lb is 0.453 592 37 kg, both exact; t/degC = (t/degF - 32)/1.8.
func TestInUnit(t *testing.T) {
	for _, c := range []struct {
		text, unit, want string
		exact            bool
	}{
		{"612 ± 5 lb", "kg", "277.6 ± 2.3 kg", false},
		{"4450 lb", "kg", "2018.486 kg", true},
		{"~600 lb", "kg", "~272 ± 28 kg", false},
		{"10 to 12 lb", "kg", "4.53 to 5.45 kg", false},
		{"3 1/2 in", "mm", "~88.90 ± 0.80 mm", false},
		{"212 ± 2 degF", "degC", "100.0 ± 1.2 degC", false},
		{"25.4 ± 0.1 mm", "in", "1.0000 ± 0.0040 in", false},
		{"12 in", "in", "", false},
	} {
		r, err := quantity.Parse(c.text, quantity.Any, quantity.Options{Exact: c.exact})
		require.NoError(t, err)
		u, ok := quantity.UnitNamed(c.unit)
		require.True(t, ok)
		got := inUnit(r, u)
		if c.want == "" {
			assert.Empty(t, got)
			continue
		}
		same(t, c.want, got)
	}
}

// same holds two quantities against each other by what they say.
func same(t *testing.T, want, got string) {
	t.Helper()
	x, err := quantity.Parse(want, quantity.Any, quantity.Options{})
	require.NoError(t, err)
	y, err := quantity.Parse(got, quantity.Any, quantity.Options{})
	require.NoError(t, err, got)
	assert.InEpsilon(t, x.Value, y.Value, 1e-6, "%s is not %s", got, want)
	assert.InDelta(t, x.Low, y.Low, 1e-3*(x.High-x.Low)+1e-9*x.Value, "%s is not %s", got, want)
	assert.Equal(t, x.Grade, y.Grade, got)
}

// TestInUnitEncloses: what is written in the other unit leaves out nothing that the
// value may be.
func TestInUnitEncloses(t *testing.T) {
	pairs := [][2]string{{"lb", "kg"}, {"in", "mm"}, {"degF", "degC"}, {"psi", "kPa"}, {"gal", "L"}, {"lb-ft", "N·m"}, {"hp", "kW"}}
	rapid.Check(t, func(t *rapid.T) {
		pair := rapid.SampledFrom(pairs).Draw(t, "units")
		value := rapid.IntRange(1, 99_999).Draw(t, "value")
		half := rapid.IntRange(1, value).Draw(t, "half")
		form := rapid.SampledFrom([]string{"%d.%02d ± %d.%02d %s", "~%d.%02d ± %d.%02d %s"}).Draw(t, "form")
		text := fmt.Sprintf(form, value/100, value%100, half/100, half%100, pair[0])
		r, err := quantity.Parse(text, quantity.Any, quantity.Options{})
		if err != nil {
			t.Skip(err)
		}
		u, _ := quantity.UnitNamed(pair[1])
		got := inUnit(r, u)
		back, err := quantity.Parse(got, quantity.Any, quantity.Options{})
		if err != nil {
			t.Fatalf("%s became %s: %v", text, got, err)
		}
		slack := 1e-9 * (r.High - r.Low + r.High)
		if back.Low > r.Low+slack || back.High < r.High-slack || back.High-back.Low > 1.25*(r.High-r.Low) {
			t.Fatalf("%s became %s", text, got)
		}
	})
}

// TestPages: what stands in a ledger is fenced, whatever it holds, and the program's
// own sentences mean nothing to Markdown (CommonMark 0.31, sections 4.5 and 2.4).
func TestPages(t *testing.T) {
	var p page
	p.say("a [key](x) of *part* <b>")
	p.show("```", "````text", "[x](command:run)\x1b[31m\n# y")
	text := p.markup(true).Value
	sentence, block, ok := strings.Cut(text, "\n\n")
	require.True(t, ok)
	assert.Equal(t, `a \[key\](x) of \*part\* \<b\>`, sentence)
	lines := strings.Split(block, "\n")
	assert.Equal(t, "`````text", lines[0])
	assert.Equal(t, "`````", lines[len(lines)-1])
	assert.NotContains(t, strings.Join(lines[1:len(lines)-1], "\n"), "`````")
	assert.NotContains(t, text, "\x1b")
	assert.NotContains(t, block, "\n# y")
	assert.Equal(t, "plaintext", p.markup(false).Kind)
}
