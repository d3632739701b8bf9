package lint_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/lint"
)

// By hand: a bore less 0.5 ± 0.1 in is to be an inch, so 1.6 in will do; two bores
// beside one of 2 in may come to 3 in of the 5 together.
func TestRoomOfAMissingCheck(t *testing.T) {
	_, rep := judgeGaps(t, `
[build]
stage = "plan"
[hose.a]
bore-from = "0.5 ± 0.1 in"
[hose.b]
bore = "2 ± 0 in"
[hose.c]
bore-from = "0.2 ± 0 in"
`)
	gap := checkOn(t, rep, "toy/gap", "hose.a")
	require.Equal(t, lint.Missing, gap.Verdict)
	r, ok := gap.Room()
	require.True(t, ok)
	assert.False(t, r.AtMost)
	assert.InEpsilon(t, 1.6*0.0254, r.Each, 1e-5)

	r, ok = checkOn(t, rep, "toy/sum", "vehicle.front").Room()
	require.True(t, ok)
	assert.True(t, r.AtMost)
	require.Len(t, r.Leaves, 2)
	assert.InEpsilon(t, 1.5*0.0254, r.Each, 1e-5)
	assert.InEpsilon(t, 3*0.0254, r.All(), 1e-5)
	// What it says is so: at the bound the check passes, and past it no more.
	for bore, want := range map[string]lint.Verdict{"1.4999 ± 0 in": lint.Pass, "1.5001 ± 0 in": lint.Fail} {
		_, rep := judgeGaps(t, "[build]\nstage = \"plan\"\n[hose.a]\nbore = \""+bore+"\"\n[hose.b]\nbore = \"2 ± 0 in\"\n[hose.c]\nbore = \""+bore+"\"\n")
		assert.Equal(t, want, checkOn(t, rep, "toy/sum", "vehicle.front").Verdict, bore)
	}
	_, ok = checkOn(t, rep, "toy/gap", "hose.b").Room()
	assert.True(t, ok, "2 in less a bore that is at most 1 in")
	_, rep = judgeGaps(t, threeGaps)
	_, ok = checkOn(t, rep, "toy/gap", "hose.a").Room()
	assert.False(t, ok, "nothing is lacking")
}
