package quantity

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Slopes against central differences of plain arithmetic, where two widths of
// the difference agree that there is one (W. H. Press et al., Numerical
// Recipes, 5.7).
func TestSlopesAgainstDifferences(t *testing.T) {
	compared := 0
	rapid.Check(t, func(t *rapid.T) {
		for range 20 {
			e := drawExpr(t, bentOps)
			for i := range e.mids { // off the bends, where there is a slope
				by := 0.0137 * float64(i+1)
				e.mids[i] += by
				e.leaves[i] = interval{e.leaves[i].lo + by, e.leaves[i].hi + by}
			}
			_, q := e.quantities()
			if singular(q) {
				continue
			}
			for _, d := range q.Doubts() {
				i := int(d.Source.Entry[len("part.")] - 'a')
				wide, narrow, up, down := e.difference(i, -1e-4, 1e-4), e.difference(i, -1e-5, 1e-5), e.difference(i, 0, 1e-5), e.difference(i, -1e-5, 0)
				near := 1e-3 * (1 + math.Abs(narrow))
				smooth := math.Abs(wide-narrow) < near && math.Abs(up-down) < near // not at a bend, nor lost in rounding
				if _, size := e.at(e.mids); !smooth || size > 1e4 || math.Abs(narrow) > 1e4 {
					continue
				}
				compared++
				require.InDelta(t, narrow, d.Slope, 2*near, "leaf %d of %+v", i, e)
			}
		}
	})
	t.Logf("%d slopes compared", compared)
	assert.Greater(t, compared, atLeast(1000))
}

// singular tells that some slope has no end at the nominal values, as that of
// a root at zero has none.
func singular(q Quantity) bool {
	t := q.tape()
	points := make([]interval, len(t.nodes))
	for i, n := range t.nodes {
		points[i] = at(n.val)
	}
	return slices.ContainsFunc(t.reverse(nil, points), func(s interval) bool { return !s.finite() })
}

// difference is the slope of the chord from one point to another beside the
// nominal one, along a leaf.
func (e *expr) difference(leaf int, from, to float64) float64 {
	x := append([]float64{}, e.mids...)
	x[leaf] = e.mids[leaf] + to
	up, _ := e.at(x)
	x[leaf] = e.mids[leaf] + from
	down, _ := e.at(x)
	return (up - down) / (to - from)
}

// With gives what the same formula gives on a ledger that says so.
func TestWithAgreesWithRebuilding(t *testing.T) {
	known, missing := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		for range 20 {
			e := drawExpr(t, bentOps)
			leaves, q := e.quantities()
			i := rapid.IntRange(0, len(leaves)-1).Draw(t, "moved")
			to := rapid.Float64Range(-8, 8).Draw(t, "to")
			mid, lo, hi := q.With(leaves[i].Source(), to)

			again := &expr{mids: append([]float64{}, e.mids...), leaves: append([]interval{}, e.leaves...), steps: e.steps}
			again.mids[i] = to
			again.leaves[i] = interval{to - (e.mids[i] - e.leaves[i].lo), to + (e.leaves[i].hi - e.mids[i])}
			_, p := again.quantities()
			if !p.Known() {
				missing++
				// A step that the result does not need may be what is missing.
				if !math.IsNaN(mid) {
					require.Less(t, len(q.tape().nodes), len(e.steps)+len(e.leaves)+20)
				}
				continue
			}
			known++
			plo, phi := p.Bounds()
			require.True(t, same(p.Value(), mid) && same(plo, lo) && same(phi, hi), "%v [%v, %v], rebuilt %v [%v, %v]", mid, lo, hi, p.Value(), plo, phi)
		}
	})
	t.Logf("%d known, %d missing", known, missing)
	assert.Greater(t, known, atLeast(100))
	assert.Greater(t, missing, atLeast(10))
}

func same(a, b float64) bool { return a == b || math.Abs(a-b) <= 1e-9*(math.Abs(a)+math.Abs(b)) }

func TestWithByHand(t *testing.T) {
	x, y := leafOf(t, "part.x", "612 ± 5 lb", Mass), leafOf(t, "part.y", "40 ± 2 lb", Mass)
	const lb = 0.45359237
	mid, lo, hi := x.Add(y).With(x.Source(), 600*lb)
	assert.InDelta(t, 640*lb, mid, 1e-9)
	assert.InDelta(t, 633*lb, lo, 1e-9)
	assert.InDelta(t, 647*lb, hi, 1e-9)

	mid, lo, hi = x.Add(y).With(&Source{}, 1)
	assert.InDelta(t, 652*lb, mid, 1e-9, "a leaf that it does not rest on")
	assert.InDelta(t, 14*lb, hi-lo, 1e-9)

	for name, q := range map[string]Quantity{
		"missing":           x.Add(Missing(Mass, &Source{Entry: "part.z", Key: "mass"})),
		"past the table":    (&Table{Name: "t", X: []float64{0, 300}, Y: []float64{0, 1}, XDim: Mass}).At(x),
		"root of less":      Sqrt(x.Div(y).Sub(Number(1))),
		"nothing times nan": Number(0).Mul(Sqrt(x.Div(y).Sub(Number(1)))),
		"an infinity":       Max(Number(1), Log(x.Div(y))),
	} {
		mid, lo, hi = q.With(x.Source(), map[bool]float64{true: 0, false: 400}[name != "past the table"])
		assert.True(t, math.IsNaN(mid) && math.IsNaN(lo) && math.IsNaN(hi), "%s: %v [%v, %v]", name, mid, lo, hi)
	}
}

// What to measure next: the leaf that contributes most stands first, also
// where the result has no slope to tell by.
func TestDoubts(t *testing.T) {
	x, y := leafOf(t, "part.x", "612 ± 5 lb", Mass), leafOf(t, "part.y", "~40 lb", Mass)
	d := x.Sub(y.Times(3)).Doubts()
	require.Len(t, d, 2, "plain numbers of the formula are not listed")
	assert.Equal(t, "part.y", d[0].Source.Entry)
	assert.InDelta(t, -3, d[0].Slope, 1e-12)
	assert.InDelta(t, 12*0.45359237, d[0].Doubt, 1e-9)
	assert.Equal(t, Estimate, x.Sub(y.Times(3)).Grade())

	jump := Below(x, leafOf(t, "part.l", "610 lb", Mass), Number(1), Number(5)).Doubts()
	assert.Equal(t, "part.x", jump[0].Source.Entry)
	assert.InDelta(t, 4, 2*jump[0].Doubt, 1e-12, "the height of the jump")

	root := Sqrt(span(0, 0, 4)).Doubts()
	assert.InDelta(t, 1, root[0].Doubt, 1e-12, "half of the way from 0 to 2")
	assert.False(t, math.IsNaN(root[0].Slope))
	assert.Empty(t, Quantity{}.Doubts())
}

// The worst grade that contributes more than a hundredth of the doubt.
func TestGrade(t *testing.T) {
	x, faint := leafOf(t, "part.x", "612 ± 50 lb", Mass), leafOf(t, "part.y", "0 to 0.5 lb", Mass)
	assert.Equal(t, Measured, x.Add(faint).Grade(), "0.25 of 50.25 is too little to count")
	assert.Equal(t, Assumed, x.Add(AssumedValue("allowance", "0 to 20 lb", "a guess")).Grade())
	assert.Equal(t, Stated, Number(2).Mul(Number(3)).Grade())
	assert.Equal(t, Estimate, faint.Grade())
	assert.Equal(t, "measured", Measured.String())
}

// What the leaves contribute adds up to half the width, of any expression.
func TestDoubtsAddUp(t *testing.T) {
	summed := 0
	rapid.Check(t, func(t *rapid.T) {
		for range 20 {
			_, q := drawExpr(t, bentOps).quantities()
			a := Analyze(q)
			lo, hi := a.Bounds()
			doubts, shares := 0.0, 0.0
			for _, d := range a.Doubts() {
				doubts += d.Doubt
			}
			for _, s := range a.Shares() {
				shares += s.OfDoubt
			}
			if half := (hi - lo) / 2; !math.IsInf(half+doubts, 0) && !math.IsNaN(doubts) {
				summed++
				require.InDelta(t, half, doubts, 1e-9*(1+half))
				require.InDelta(t, half, shares, 1e-9*(1+half))
			}
		}
	})
	assert.Greater(t, summed, atLeast(1000))
}
