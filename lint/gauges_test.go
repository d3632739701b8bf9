package lint_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	q "fishplate/ledger/quantity"
	"fishplate/lint"
)

// By hand: 2.01 - 1 - 1 leaves 0.01 in, less than a tape's thirty-second, and
// nothing else has a doubt. Four bores of 1.2 ± 0.2 leave 0.2 of 5 in: one read
// exactly would still leave 0.6 of doubt; each read to 1/32 saves 0.169, so that
// only all four make up for the 0.6 that lack.
func TestNextAsksForNoFinerThanAGauge(t *testing.T) {
	_, rep := judgeGaps(t, "[build]\nstage = \"plan\"\n[hose.a]\nbore = \"2.01 ± 0.05 in\"\nbore-from = \"1 ± 0 in\"\n")
	next := lint.Next(rep.Results)
	require.Len(t, next, 1)
	assert.True(t, next[0].TooFine)
	assert.Zero(t, next[0].Half)
	assert.Zero(t, next[0].Alone)
	assert.Empty(t, next[0].With, "nothing would settle it")

	four := "[build]\nstage = \"plan\"\n"
	for _, id := range []string{"a", "b", "c", "d"} {
		four += "[hose." + id + "]\nbore = \"1.2 ± 0.2 in\"\nbore-from = \"0.01 ± 0 in\"\n"
	}
	_, rep = judgeGaps(t, four)
	for _, w := range lint.Next(rep.Results) {
		if len(w.Checks) > 0 && w.Checks[0].Rule.Name == "toy/sum" {
			assert.False(t, w.TooFine)
			assert.Zero(t, w.Half)
			assert.Len(t, w.With, 3)
		}
	}
	margin := q.Analyze(checkOn(t, rep, "toy/sum", "vehicle.front").Margin)
	assert.Len(t, lint.Together(margin), 4)
}

// Common practice, no source: what a tape, an angle finder, a scale and a meter
// read.
func TestFinest(t *testing.T) {
	for text, want := range map[string]string{"24 in": "0.03125 in", "3 deg": "0.1 deg", "4200 lb": "5 lb", "12 V": "0.12 V", "200 degF": "2 degF", "-40 psi": "0.4 psi"} {
		r, err := q.Parse(text, q.Any, q.Options{})
		require.NoError(t, err)
		w, err := q.Parse(want, q.Any, q.Options{})
		require.NoError(t, err)
		assert.InEpsilon(t, w.Value-w.Unit.Offset, lint.Finest(q.Leaf(r, &q.Source{})), 1e-9, text)
	}
}
