package quantity

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// No sample of the leaves escapes: the inclusion property, R. E. Moore, R. B.
// Kearfott and M. J. Cloud, Introduction to Interval Analysis, SIAM 2009.
func TestNoSampleEscapes(t *testing.T) {
	samples, exprs := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		rnd := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		for range 20 {
			e := drawExpr(t, bentOps)
			if len(e.steps) == 0 {
				continue
			}
			_, q := e.quantities()
			lo, hi := q.Bounds()
			flo, fhi := q.Forward()
			require.True(t, flo <= lo && lo <= hi && hi <= fhi, "bounds [%v, %v] in forward [%v, %v]", lo, hi, flo, fhi)
			require.True(t, lo <= q.Value() && q.Value() <= hi, "value %v in [%v, %v]", q.Value(), lo, hi)
			exprs++
			_, scale := e.at(e.mids)
			scale = max(scale, 8) // of the tables' rows
			for _, l := range e.leaves {
				scale = max(scale, math.Abs(l.lo), math.Abs(l.hi))
			}
			for range 100 {
				x := e.sample(rnd)
				v, size := e.at(x)
				if math.IsNaN(v) || size > 1e6 { // next to a pole rounding decides
					continue
				}
				samples++
				slack := 1e-9 * max(size, scale)
				require.True(t, v >= lo-slack && v <= hi+slack, "%v outside [%v, %v] at %v of %+v", v, lo, hi, x, e)
			}
		}
	})
	t.Logf("%d samples of %d expressions", samples, exprs)
	assert.Greater(t, samples, atLeast(100_000))
}

func leafOf(t require.TestingT, entry, text string, dim Dim) Quantity {
	r, err := Parse(text, dim, Options{})
	require.NoError(t, err, text)
	return Leaf(r, &Source{Entry: entry, Key: "mass", Place: Place{File: entry + ".toml", Line: 1}})
}

// A linear sum's doubt is the first-order stack-up, the sum of |c| tol
// (JCGM 100, 5.1.3 for the sensitivities), of each leaf once however often it
// is in the sum.
func TestLinearStackUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "leaves")
		leaves, c, tol := make([]Quantity, n), make([]float64, n), make([]float64, n)
		for i := range leaves {
			mid := rapid.Float64Range(-1e3, 1e3).Draw(t, "mid")
			tol[i] = rapid.Float64Range(0.1, 50).Draw(t, "tol")
			leaves[i] = Leaf(Reading{Value: mid, Low: mid - tol[i], High: mid + tol[i], Unit: unitBySymbol[""]}, &Source{Entry: "e", Key: "k"})
		}
		terms := []Quantity{}
		size := 0.0
		for range rapid.IntRange(1, 12).Draw(t, "terms") {
			i, k := rapid.IntRange(0, n-1).Draw(t, "leaf"), float64(rapid.IntRange(-8, 8).Draw(t, "c"))
			c[i] += k
			size += math.Abs(k) * 1e3
			terms = append(terms, leaves[i].Times(k))
		}
		q := Sum(Ratio, terms...)
		want := 0.0
		for i := range c {
			want += math.Abs(c[i]) * tol[i]
		}
		lo, hi := q.Bounds()
		require.InDelta(t, want, q.Value()-lo, 1e-12*(size+want))
		require.InDelta(t, want, hi-q.Value(), 1e-12*(size+want))
	})
}

func TestSharedLeavesCancel(t *testing.T) {
	x, y := leafOf(t, "part.x", "612 ± 5 lb", Mass), leafOf(t, "part.y", "40 ± 2 lb", Mass)
	for name, q := range map[string]Quantity{
		"x - x": x.Sub(x), "(x + y) - (y + x)": x.Add(y).Sub(y.Add(x)), "x - named x": x.Sub(x.As("received", "m")), "sum": Sum(Mass, x, x.Neg(), y, y.Neg()),
	} {
		lo, hi := q.Bounds()
		assert.True(t, lo == 0 && hi == 0 && q.Value() == 0, "%s: [%v, %v]", name, lo, hi)
	}
}

// A product of positive leaves takes its ends at the corners.
func TestProductCorners(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q, lo, hi := Number(1), 1.0, 1.0
		for range rapid.IntRange(1, 6).Draw(t, "factors") {
			l := rapid.Float64Range(0.1, 10).Draw(t, "low")
			h := l + rapid.Float64Range(0, 10).Draw(t, "width")
			q = q.Mul(Leaf(Reading{Value: (l + h) / 2, Low: l, High: h, Unit: unitBySymbol[""]}, &Source{Entry: "e"}))
			lo, hi = lo*l, hi*h
		}
		gotLo, gotHi := q.Bounds()
		require.InEpsilon(t, lo, gotLo, 1e-12)
		require.InEpsilon(t, hi, gotHi, 1e-12)
	})
}

func span(lo, mid, hi float64) Quantity {
	return Leaf(Reading{Value: mid, Low: lo, High: hi, Grade: Measured, Unit: unitBySymbol[""]}, &Source{Entry: "part.x", Key: "k"})
}

// Ranges known by hand.
func TestBoundsByHand(t *testing.T) {
	inf := math.Inf(1)
	x := span(-1, 0.5, 2)
	for _, c := range []struct {
		name   string
		q      Quantity
		lo, hi float64
	}{
		{"x*x, one node", x.Mul(x), 0, 4},
		{"x^2", Pow(x, 2), 0, 4}, {"x^3", Pow(x, 3), -1, 8}, {"x^0", Pow(x, 0), 1, 1},
		{"|x|", Abs(x), 0, 2}, {"sqrt, half outside", Sqrt(x), 0, math.Sqrt2}, {"log at zero", Log(span(0, 1, math.E)), math.Inf(-1), 1},
		{"1/x across zero", Number(1).Div(x), math.Inf(-1), inf}, {"1/x from zero", Number(1).Div(span(0, 1, 2)), 0.5, inf},
		{"-1/x to zero", Number(1).Div(span(-2, -1, 0)), math.Inf(-1), -0.5},
		{"0/x across zero", Number(0).Div(x), 0, 0}, {"x^-1 across zero", Pow(x, -1), math.Inf(-1), inf},
		{"hypot with zero", Hypot(x, Number(0)), 0, 2}, {"hypot with itself", Hypot(x, x), 0, 2 * math.Sqrt2},
		{"min with itself", Min(x, x), -1, 2}, {"max with a number", Max(x, Number(0)), 0, 2},
		{"sin over its crest", Sin(InRadians(span(0, 1, 2))), 0, 1}, {"cos over a turn", Cos(InRadians(span(0, 1, 7))), -1, 1},
		{"tan past 90 degrees", Tan(InRadians(span(1, 1.5, 2))), math.Inf(-1), inf},
		{"tan on its next branch", Tan(InRadians(span(math.Pi, math.Pi, math.Pi+0.5))), math.Tan(math.Pi), math.Tan(math.Pi + 0.5)},
		{"table within", ramp.At(x), -1, 4}, {"steps within", stairs.At(x), -1, 4},
		{"table over all", ramp.At(span(-8, 0, 8)), -6, 4}, {"table at its end", ramp.At(span(3, 8, 8)), -6, 4},
		{"a step from its edge", stairs.At(span(3, 4, 5)), 4, 4},
		{"below, open", Below(x, Number(0), Number(10), Number(20)), 10, 20},
		{"below, at the edge", Below(span(0, 1, 2), Number(0), Number(10), Number(20)), 20, 20},
		{"below, sure", Below(span(-2, -1, -0.5), Number(0), Number(10), Number(20)), 10, 10},
	} {
		lo, hi := c.q.Bounds()
		near := func(want, got float64) bool { return want == got || math.Abs(want-got) <= 1e-12*math.Abs(want) }
		assert.True(t, c.q.Known() && near(c.lo, lo) && near(c.hi, hi), "%s: [%v, %v], want [%v, %v]", c.name, lo, hi, c.lo, c.hi)
	}
}

// Where leaves are shared a search finds the range, to a hundredth of its width.
// Ranges by calculus, at the ends and where the slope is zero.
func TestSearchedByHand(t *testing.T) {
	x, half, near := span(-1, 0.5, 2), span(-0.5, 0.5, 1.5), span(0.5, 1, 3)
	y := span(-2, 1, 2)
	for _, c := range []struct {
		name   string
		q      Quantity
		lo, hi float64
	}{
		{"asin less x, half outside", Radians(Asin(half)).Sub(half), 0.5 - math.Pi/6, math.Pi/2 - 1},
		{"x - x^2", x.Sub(Pow(x, 2)), -2, 0.25},
		{"x + 1/x", near.Add(Number(1).Div(near)), 2, 10.0 / 3},
		{"least of x + 1 and 1 - x", Min(x.Add(Number(1)), Number(1).Sub(x)), -1, 1},
		{"most of x and -x", Max(x, x.Neg()), 0, 2},
		{"|x| - x", Abs(x).Sub(x), 0, 2},
		{"|x - y| + x", Abs(x.Sub(y)).Add(x), -1, 6},
		{"root of x^2 + xy + y^2", Sqrt(Abs(Sum(Ratio, Pow(x, 2), x.Mul(y), Pow(y, 2)))), 0, math.Sqrt(12)},
		{"(x - y)(x + y)", x.Sub(y).Mul(x.Add(y)), -4, 4},
		{"x below 0: -x, else x - 1", Below(x, Number(0), x.Neg(), x.Sub(Number(1))), -1, 1},
	} {
		lo, hi := c.q.Bounds()
		assert.True(t, lo <= c.lo+1e-12 && hi >= c.hi-1e-12, "%s: [%v, %v] does not hold [%v, %v]", c.name, lo, hi, c.lo, c.hi)
		assert.LessOrEqual(t, hi-lo, 1.02*(c.hi-c.lo), "%s: [%v, %v] for [%v, %v]", c.name, lo, hi, c.lo, c.hi)
	}
}

// Exact operands leave no doubt, to the last bit: a margin of nothing is nothing.
func TestExactStaysExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Float64Range(0.1, 1e6).Draw(t, "a"), rapid.Float64Range(0.1, 1e6).Draw(t, "b")
		x, y := Number(a), Number(b)
		for _, q := range []Quantity{x.Div(y), x.Mul(y), x.Sub(y), Hypot(x, y), Pow(x, 3), Pow(x, -2), Pow(x, 0.3), Sqrt(x), Sin(InRadians(x)), Cos(InRadians(x)), Log(x), Atan(x), Sum(Ratio, x, y, x)} {
			lo, hi := q.Bounds()
			require.True(t, lo == q.Value() && hi == q.Value(), "%v [%v, %v]", q.Value(), lo, hi)
		}
	})
}

// cos d - a + min(2 a, d) is the most where both branches are alike, at a = d/2: there
// it is d/2 + cos d, the most at sin d = 1/2. With sqrt a in place of 2 a it is the
// most where 1 - 2 d = sin d. A line in place of the minimum goes by another end of a
// than the value does, and must not take the rest of it away.
func TestMostOfAMinimum(t *testing.T) {
	leaf := func(key string) Quantity {
		return Leaf(Reading{Value: 0.1, Low: 0, High: 1, Grade: Measured, Unit: unitBySymbol[""]}, &Source{Entry: "part.a", Key: key})
	}
	a, d := leaf("a"), leaf("d")
	root := 0.0
	for low, high := 0.0, 1.0; high-low > 1e-12; {
		if root = (low + high) / 2; 1-2*root > math.Sin(root) {
			low = root
		} else {
			high = root
		}
	}
	for name, x := range map[string]struct {
		branch Quantity
		most   float64
	}{
		"line": {a.Times(2), math.Pi/12 + math.Sqrt(3)/2},
		"root": {Sqrt(a), root + math.Cos(root) - root*root},
	} {
		low, high := Sum(Ratio, Cos(InRadians(d)), a.Neg(), Min(x.branch, d)).Bounds()
		assert.GreaterOrEqual(t, high, x.most, name)
		assert.LessOrEqual(t, high, x.most+0.01*(high-low), name)
	}
}
