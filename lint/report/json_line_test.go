package report

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"fishplate/lint"
)

// A check is written as the package encoding/json writes it.
func TestLineIsJSON(t *testing.T) {
	text := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"", "part.engine", `a "b" \`, "<&>", "\u200b\u202e", "\x7f\x1b", "\xff"}))
	rapid.Check(t, func(t *rapid.T) {
		number := func() decimal {
			v := rapid.OneOf(rapid.Float64(), rapid.SampledFrom([]float64{0, 1e-7, 1e-6, 9.99e-7, 1e21, 1e20, 1.5e-10, math.Copysign(0, -1), math.Inf(1), math.NaN()})).Draw(t, "number")
			return decimal(v)
		}
		figure := func() *jsonNumber {
			if !rapid.Bool().Draw(t, "there") {
				return nil
			}
			return &jsonNumber{number(), number(), number(), text.Draw(t, "unit"), rapid.SampledFrom([]string{"", "stated"}).Draw(t, "grade")}
		}
		truth := func() bool { return rapid.Bool().Draw(t, "truth") }
		c := &jsonCheck{
			Rule: text.Draw(t, "rule"), Entry: text.Draw(t, "entry"), Aspect: text.Draw(t, "aspect"), Verdict: "pass", Underlying: text.Draw(t, "underlying"),
			ToDo: truth(), Counts: truth(), Must: truth(), Due: text.Draw(t, "due"), Sense: lint.Sense(text.Draw(t, "sense")),
			Value: figure(), Limit: figure(), Upper: figure(), Within: figure(), Margin: figure(),
			Missing: rapid.SliceOfN(text, 0, 3).Draw(t, "missing"), Reason: text.Draw(t, "reason"), Settled: text.Draw(t, "settled"),
			Sources: []jsonCite{{text.Draw(t, "source"), "looked up", truth()}},
			File:    text.Draw(t, "file"), Line: rapid.Int().Draw(t, "line"), Column: rapid.Int().Draw(t, "column"), Shares: []jsonShare{},
		}
		for range rapid.IntRange(0, 3).Draw(t, "shares") {
			c.Shares = append(c.Shares, jsonShare{text.Draw(t, "entry"), number(), number()})
		}
		if truth() {
			c.Room = &jsonRoom{}
		}
		var out line
		out.check(c, encode(c.Sources))
		require.Equal(t, string(encode(c)), string(out))
	})
}
