package lint_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
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

// A bound that whatever is written keeps, or that of where a thing is, tells nobody
// anything; one within reach is told.
func TestRoomSaysNothingUseless(t *testing.T) {
	limit := ""
	pack := &lint.Pack{Name: "toy", Title: "made-up rules", Rules: []*lint.Rule{
		{Name: "toy/seat", Title: "the seats are not too far back", Check: func(b *ledger.Build, s *lint.Sheet) {
			s.On(b.Vehicle(), "").AtMost(b.Now(b.Vehicle().SeatsAt).X, quantity.Cited("far", "60 in", "made up"))
		}},
		{Name: "toy/hose", Title: "a hose is not too long", Check: func(b *ledger.Build, s *lint.Sheet) {
			for _, h := range b.Hoses() {
				s.On(h, "").AtMost(h.Length, quantity.Cited("long", limit, "made up"))
			}
		}},
		{Name: "toy/cooler", Title: "a cooler does enough", Check: func(b *ledger.Build, s *lint.Sheet) {
			for _, r := range b.Radiators() {
				s.On(r, "").AtMost(r.Effectiveness, quantity.Cited("most", strings.TrimSuffix(limit, " in"), "made up"))
			}
		}},
	}}
	for _, c := range []struct {
		limit        string
		hose, cooler bool
	}{{"0.9 in", true, true}, {"90 in", true, false}, {"9000 in", false, false}} {
		limit = c.limit
		b := lay(t, map[string]string{"build.toml": "[vehicle]\nseats = 2\n[hose.a]\n[radiator.a]\n"})
		rep := lint.Check(b, []*lint.Pack{pack}, lint.Options{AsOf: asOf})
		seat := checkOn(t, rep, "toy/seat", "vehicle")
		require.Equal(t, lint.Missing, seat.Verdict)
		_, ok := seat.Room()
		assert.False(t, ok, "where the seats are nobody chooses for a check's sake")
		_, ok = checkOn(t, rep, "toy/hose", "hose.a").Room()
		assert.Equal(t, c.hose, ok, "hose "+c.limit)
		_, ok = checkOn(t, rep, "toy/cooler", "radiator.a").Room()
		assert.Equal(t, c.cooler, ok, "cooler "+c.limit)
	}
}
