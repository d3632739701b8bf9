package lint_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
)

// leverPacks judge a part, a wire and a gap.
var leverPacks = []*lint.Pack{{Name: "toy", Rules: []*lint.Rule{
	{Name: "toy/mass", Due: ledger.AtPlan, Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, p := range b.Parts() {
			s.On(p, "").AtMost(p.Mass, q.Cited("most", "100 lb", "practice"))
		}
	}},
	{Name: "toy/wire", Due: ledger.AtPlan, Check: func(b *ledger.Build, s *lint.Sheet) {
		carries := map[string]string{"10 AWG": "40 A", "8 AWG": "55 A", "6 AWG": "80 A"}
		for _, c := range b.Circuits() {
			most := carries[c.Gauge.String()]
			if most == "" {
				most = "200 A"
			}
			s.On(c, "").AtMost(c.Load, q.Cited("allowed", most, "practice"))
		}
	}},
	{Name: "toy/gap", Due: ledger.AtPlan, Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, g := range b.Gaps() {
			s.On(g, "").AtLeast(g.Measured.Add(g.Relief), q.Cited("least", "1 in", "practice"))
		}
	}},
}}}

func proposals(t *testing.T, text, rule, entry string) (out []string) {
	t.Helper()
	b, _ := judgeGaps(t, "[build]\nstage = \"plan\"\n"+text)
	rep := lint.Check(b, leverPacks, lint.Options{})
	for _, p := range lint.Propose(b, leverPacks, rep, checkOn(t, rep, rule, entry), 4) {
		require.Equal(t, lint.Pass, p.After.Verdict)
		out = append(out, p.Source.Path()+" "+p.Text)
	}
	return out
}

// A part may be chosen lighter, down to half of what it weighs.
func TestNoPartIsMadeOfAir(t *testing.T) {
	assert.Equal(t, []string{"part.a.mass 99 ± 1 lb"}, proposals(t, "[part.a]\nmass = \"150 ± 1 lb\"\n", "toy/mass", "part.a"))
	assert.Empty(t, proposals(t, "[part.a]\nmass = \"250 lb\"\n", "toy/mass", "part.a"))
}

// The next size that is heavy enough, also for a circuit that takes its size
// from another.
func TestAHeavierGauge(t *testing.T) {
	const wires = "[circuit.a]\ngauge = \"10 AWG\"\nload = \"70 ± 1 A\"\n[circuit.b]\nlike = \"circuit.a\"\nload = \"50 ± 1 A\"\n"
	assert.Equal(t, []string{"circuit.a.gauge 6 AWG"}, proposals(t, wires, "toy/wire", "circuit.a"))
	assert.Equal(t, []string{"circuit.b.gauge 8 AWG"}, proposals(t, wires, "toy/wire", "circuit.b"))
}

// A reading of the tape is no lever; room that is cut is, also where none is
// said.
func TestReliefIsALever(t *testing.T) {
	assert.Equal(t, []string{"gap.a.relief 0.27 in"}, proposals(t, "[gap.a]\nmeasured = \"0.75 ± 0.01 in\"\n", "toy/gap", "gap.a"))
	assert.Equal(t, []string{"gap.a.relief 0.27 ± 0.001 in"}, proposals(t, "[gap.a]\nmeasured = \"0.75 ± 0.01 in\"\nrelief = \"0.1 ± 0.001 in\"\n", "toy/gap", "gap.a"))
}
