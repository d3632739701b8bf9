package lint_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/ledger/revision"
	"fishplate/lint"
)

// gapPacks judge each gap, and the sum of all gaps, against an inch and five.
var gapPacks = []*lint.Pack{{Name: "toy", Rules: []*lint.Rule{
	{Name: "toy/gap", Due: ledger.AtPlan, Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, g := range b.Hoses() {
			s.On(g, "").AtLeast(g.Bore.Sub(g.BoreFrom), q.Cited("least", "1 in", "practice"))
		}
	}},
	{Name: "toy/sum", Due: ledger.AtPlan, Check: func(b *ledger.Build, s *lint.Sheet) {
		var all []q.Quantity
		for _, g := range b.Hoses() {
			all = append(all, g.Bore)
		}
		s.On(b.Front(), "").AtMost(q.Sum(q.Length, all...), q.Cited("most", "5 in", "practice"))
	}},
}}}

// judgeGaps loads a ledger of one file and checks it.
func judgeGaps(t *testing.T, text string) (*ledger.Build, *lint.Report) {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), []byte(text), 0o644))
	place, err := revision.Open(dir)
	require.NoError(t, err)
	t.Cleanup(func() { place.Close() })
	builds, err := place.Builds()
	require.NoError(t, err)
	b, faults := ledger.NewLoader().Load(builds[0])
	require.Empty(t, faults)
	rep := lint.Check(b, gapPacks, lint.Options{AsOf: "2026-03-01"})
	require.Empty(t, rep.Faults)
	return b, rep
}

func checkOn(t *testing.T, rep *lint.Report, rule, entry string) *lint.Result {
	t.Helper()
	for _, r := range rep.Results {
		if r.Rule.Name == rule && r.Entry == entry {
			return r
		}
	}
	t.Fatalf("no %s on %s", rule, entry)
	return nil
}

const threeGaps = `
[build]
title = "x"
stage = "plan"
[hose.a]
bore = "1.5 ± 0.4 in"
bore-from = "0.3 ± 0.1 in"
[hose.b]
bore = "1.2 ± 0.01 in"
bore-from = "0.5 ± 0.01 in"
[hose.c]
bore = "2 ± 0.01 in"
bore-from = "0.2 ± 0.01 in"
`

func TestNextNamesTheLargestDoubt(t *testing.T) {
	_, rep := judgeGaps(t, threeGaps)
	open := checkOn(t, rep, "toy/gap", "hose.a")
	require.Equal(t, lint.Unproven, open.Verdict)
	next := lint.Next(rep.Results)
	require.NotEmpty(t, next)
	assert.Equal(t, "hose.a.bore", next[0].Key)
	assert.Equal(t, 2, next[0].Alone, "the sum of all gaps is left open by it as well, and asks less of it")
	// 1.5 - 0.3 - 1 leaves 0.2 in, of which the motion takes 0.1.
	assert.InDelta(t, 0.1, next[0].Half/0.0254, 1e-6)

	// Measured that well, it is settled; a little worse, it is not.
	for tol, want := range map[string]lint.Verdict{"1.5 ± 0.0999 in": lint.Pass, "1.5 ± 0.101 in": lint.Unproven} {
		b, _ := judgeGaps(t, threeGaps)
		b, faults := b.WithValue("hose.a", "bore", tol)
		require.Empty(t, faults)
		rep := lint.Check(b, gapPacks, lint.Options{})
		assert.Equal(t, want, checkOn(t, rep, "toy/gap", "hose.a").Verdict, tol)
	}
}

func TestNextCountsWhatWaits(t *testing.T) {
	_, rep := judgeGaps(t, "[build]\nstage = \"plan\"\n[hose.a]\nbore = \"2 in\"\n[hose.b]\nbore-from = \"1 in\"\n")
	next := lint.Next(rep.Results)
	require.Len(t, next, 2)
	assert.Equal(t, "hose.b.bore", next[0].Key, "two checks wait for it")
	assert.Len(t, next[0].Checks, 2)
	assert.Equal(t, 2, next[0].Alone)
	assert.Equal(t, "hose.a.bore-from", next[1].Key)
}

func TestLeversReachTheLimit(t *testing.T) {
	b, rep := judgeGaps(t, threeGaps)
	fails := checkOn(t, rep, "toy/gap", "hose.b")
	require.Equal(t, lint.Fail, fails.Verdict)
	levers := lint.Levers(fails)
	require.Len(t, levers, 1, "what it joins is not a shop's to change")
	l := levers[0]
	assert.Equal(t, "bore", l.Source.Key)
	assert.Equal(t, "1.52 ± 0.01 in", l.Text)

	list := lint.Propose(b, gapPacks, rep, fails, 4)
	require.Len(t, list, 1)
	assert.Equal(t, lint.Pass, list[0].After.Verdict)
	low, _ := list[0].After.Margin.Bounds()
	assert.InDelta(t, 0, low, 1e-12)
	assert.Equal(t, "1.2 ± 0.01 in", fails.Value.Leaves()[0].Spelling(), "the ledger itself is as it was")
}

func TestProposalsTellWhatElseChanges(t *testing.T) {
	b, rep := judgeGaps(t, `
[build]
stage = "plan"
[hose.a]
bore = "2.5 ± 0.01 in"
bore-from = "0.1 ± 0.01 in"
[hose.b]
bore = "2.4 ± 0.01 in"
bore-from = "2 ± 0.01 in"
`)
	list := lint.Propose(b, gapPacks, rep, checkOn(t, rep, "toy/gap", "hose.b"), 4)
	require.Len(t, list, 1)
	require.Len(t, list[0].Breaks, 1)
	assert.Equal(t, "toy/sum", list[0].Breaks[0].Rule.Name)
	assert.Empty(t, list[0].Mends)
}

func TestLeversSayHowMuchRoomIsLeft(t *testing.T) {
	_, rep := judgeGaps(t, threeGaps)
	passes := checkOn(t, rep, "toy/gap", "hose.c")
	require.Equal(t, lint.Pass, passes.Verdict)
	levers := lint.Levers(passes)
	require.Len(t, levers, 1)
	// 1 in and what moves, 0.2 in, and both tolerances.
	assert.InDelta(t, 1.22, levers[0].To/0.0254, 1e-9)
	_, low, _ := passes.Margin.With(levers[0].Source, levers[0].To)
	assert.GreaterOrEqual(t, low, 0.0)
}

// A value that is written in one way is proposed in a way that the ledger
// reads back to the same place, with the same tolerance.
func TestProposalsReadBack(t *testing.T) {
	for _, text := range []string{"1 1/8 in", "1.2 ± 0.01 in", "~1.2 in", "1.0 to 1.2 in", "30 mm", "0 ft 1 1/8 in", "30 mm ± 5 %"} {
		b, _ := judgeGaps(t, "[build]\nstage = \"plan\"\n[hose.a]\nbore-from = \"0.5 in\"\nbore = \"1 in\"\n")
		b, faults := b.WithValue("hose.a", "bore", text)
		require.Empty(t, faults, text)
		rep := lint.Check(b, gapPacks, lint.Options{})
		r := checkOn(t, rep, "toy/gap", "hose.a")
		list := lint.Propose(b, gapPacks, rep, r, 4)
		require.Len(t, list, 1, text)
		_, want, _ := r.Margin.With(list[0].Source, list[0].To)
		low, _ := list[0].After.Margin.Bounds()
		assert.InDelta(t, want, low, 1e-9, text)
	}
}

func TestWithValueTellsFaults(t *testing.T) {
	b, _ := judgeGaps(t, threeGaps)
	for _, c := range [][3]string{{"hose.z", "bore", "1 in"}, {"hose.a", "boar", "1 in"}, {"hose.a", "rated-pressure", "1 in"}, {"hose.a", "bore", "1 lb"}} {
		changed, faults := b.WithValue(c[0], c[1], c[2])
		assert.Nil(t, changed, c)
		assert.NotEmpty(t, faults, c)
	}
}
