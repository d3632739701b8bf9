package quantity

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Which side of a bound a value may be on is what its range says.
func TestSideAgreesWithBounds(t *testing.T) {
	told := 0
	rapid.Check(t, func(t *rapid.T) {
		for range 20 {
			_, q := drawExpr(t, bentOps).quantities()
			if !q.Known() {
				continue
			}
			lo, hi := q.Bounds()
			if w := hi - lo; w > 1e6 || w < 1e-9*max(1, math.Abs(lo), math.Abs(hi)) {
				continue // what is no wider than rounding makes it has no sides to tell
			}
			of := lo + rapid.Float64Range(-0.5, 1.5).Draw(t, "of")*(hi-lo)
			if near := 0.01 * (hi - lo); math.Abs(of-lo) < near || math.Abs(of-hi) < near {
				continue // a range may be a hundredth wider than is true
			}
			less, atLeast := new(Kept).Side(q, of)
			require.Equal(t, []bool{lo < of, hi >= of}, []bool{less, atLeast}, "%v of [%v, %v]", of, lo, hi)
			told++
		}
	})
	assert.Greater(t, told, atLeast(100))
	t.Logf("%d told", told)
}

// asin a² where b is below asin of something that has a value for some a only:
// what decides between the two must not take values of a from the range.
func TestDomainOfWhatDecides(t *testing.T) {
	a, b, c := leafOf(t, "part.a", "0 to 2", Ratio), leafOf(t, "part.b", "-1.5 to 0", Ratio), leafOf(t, "part.c", "-6.75 to -3.93", Ratio)
	square := a.Mul(a)
	up := Radians(Asin(square))
	decides := Radians(Asin(Sum(Ratio, b, square, a, b)))
	low, high := Below(c, decides, up, decides).Bounds()
	assert.InDelta(t, 0, low, 1e-12, "at a = 0, b = 0 the first is 0")
	assert.GreaterOrEqual(t, high, 1.0, "at a = 0.95, b = -0.5 it is asin(0.9025) = 1.125")
}

// A factor that the ledger gives exactly is another where the ledger gives
// another: 3 x - x is 2 x, and 5 x - x is 4 x.
func TestWithAnotherFactor(t *testing.T) {
	exact, err := Parse("3", Ratio, Options{Exact: true})
	require.NoError(t, err)
	x, three := leafOf(t, "part.x", "8 to 10", Ratio), Leaf(exact, &Source{Entry: "part.three", Key: "count"})
	mid, low, high := x.Mul(three).Sub(x).With(three.Source(), 5)
	assert.InDelta(t, 36, mid, 1e-9)
	assert.InDelta(t, 32, low, 1e-9)
	assert.InDelta(t, 40, high, 1e-9)
}

// x y + c + c with c exact rises twice as fast as c does: what stands beside the
// one operand with a width may stand there twice.
func TestSlopeOfWhatStandsTwice(t *testing.T) {
	exact, err := Parse("3", Ratio, Options{Exact: true})
	require.NoError(t, err)
	x, y, c := leafOf(t, "part.x", "8 to 10", Ratio), leafOf(t, "part.y", "1 to 2", Ratio), Leaf(exact, &Source{Entry: "part.c", Key: "count"})
	for _, d := range Sum(Ratio, x.Mul(y), c, c).Doubts() {
		if d.Source.Entry == "part.c" {
			assert.Equal(t, 2.0, d.Slope)
			return
		}
	}
	t.Fatal("c is not listed")
}
