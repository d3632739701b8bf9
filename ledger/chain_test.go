package ledger_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Two parts that changed places depend on each other at different times.
func TestPartsThatChangedPlaces(t *testing.T) {
	write(t, map[string]string{"build.toml": `[part.battery]
at = { behind = "10 in", right = "0 in", above = "3 in" }
was-at = "part.bottle"
[part.bottle]
at = "part.battery"
was-at = { behind = "-8 in", right = "0 in", above = "3 in" }
`})
	b, faults := load(t, ".")
	require.Empty(t, faultLines(faults))
	p := b.Parts()[0]
	assert.InDelta(t, -8*0.0254, b.Before(p.At, p.WasAt).X.Value(), 1e-12)
	assert.InDelta(t, 18*0.0254, b.MovedSinceWork(p).By.X.Value(), 1e-12)
}

// What is followed is followed to its end, or told.
func TestLongChains(t *testing.T) {
	chain := func(n int, first, next string) string {
		text := first
		for i := 1; i <= n; i++ {
			text += fmt.Sprintf(next, i, i-1)
		}
		return text
	}
	part, circuit := "[part.p0]\nat = { behind = \"7 in\" }\n", "[circuit.c0]\ngauge = \"4 AWG\"\n"
	write(t, map[string]string{"build.toml": chain(50, part, "[part.p%d]\nat = \"part.p%d\"\n") + chain(50, circuit, "[circuit.c%d]\nlike = \"circuit.c%d\"\n")})
	b, faults := load(t, ".")
	require.Empty(t, faultLines(faults))
	for _, p := range b.Parts() {
		assert.InDelta(t, 7*0.0254, b.Now(p.At).X.Value(), 1e-12, p.Path())
	}
	for _, c := range b.Circuits() {
		assert.Equal(t, "4 AWG", c.Gauge.String(), c.Path())
	}
	write(t, map[string]string{"build.toml": chain(1500, part, "[part.p%d]\nat = \"part.p%d\"\n") + chain(1500, circuit, "[circuit.c%d]\nlike = \"circuit.c%d\"\n")})
	_, faults = load(t, ".")
	assert.Equal(t, []string{
		"build.toml:104:6: part.p51.at rests on more than 50 others, one behind another",
		"build.toml:3106:8: circuit.c51.like rests on more than 50 others, one behind another",
	}, faultLines(faults))
}

// Thousands of unknown names are all told, and not each held against thousands.
func TestManyUnknownNames(t *testing.T) {
	var text strings.Builder
	for i := range 2000 {
		fmt.Fprintf(&text, "[part.a-part-%05d]\n[zone.z%d]\n[relay.r%d]\n[circuit.c%d]\nfrom = \"part.b-part-%05d\"\n", i, i, i, i, i)
	}
	write(t, map[string]string{"build.toml": text.String()})
	_, faults := load(t, ".")
	require.Len(t, faults, 2000)
	guesses := 0
	for _, f := range faults {
		if strings.Contains(f.Message, "did you mean") {
			guesses++
		}
	}
	assert.Equal(t, 100, guesses)
}

// A shop's entry is taken where a value of it is named.
func TestSharedByAValue(t *testing.T) {
	write(t, map[string]string{"shop.toml": "[tire.x]\nload-rating = \"3000 lb\"\n[tire.y]\n", "build.toml": "[answer.a]\nquestion = \"q\"\nentries = [\"tire.x.load-rating\"]\n"})
	b, faults := load(t, ".")
	require.Empty(t, faultLines(faults))
	_, taken := b.Entry("tire.x")
	_, left := b.Entry("tire.y")
	assert.True(t, taken)
	assert.False(t, left)
}
