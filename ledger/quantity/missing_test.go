package quantity

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func lacking(key string) Quantity {
	return Missing(Ratio, &Source{Entry: "part.a", Key: key, Place: Place{File: "a.toml", Line: 3}})
}

func keys(needs []Need) (out []string) {
	for _, n := range needs {
		out = append(out, n.Key)
	}
	return out
}

func unaryAndBinary(a, b Quantity) map[string]Quantity {
	return map[string]Quantity{
		"add": a.Add(b), "sub": a.Sub(b), "mul": a.Mul(b), "div": a.Div(b), "sum": Sum(a.Dim(), a, b, a), "min": Min(a, b), "max": Max(a, b), "hypot": Hypot(a, b),
		"below": Below(a, b, a, b), "neg": a.Neg().Add(b), "times": a.Times(0).Add(b), "pow": Pow(a, 2).Add(Pow(b, 2)), "zeroth power": Pow(a, 0).Add(Pow(b, 0)),
		"sqrt": Sqrt(a).Add(Sqrt(b)), "exp": Exp(a).Add(Exp(b)), "log": Log(a).Add(Log10(b)), "abs": Abs(a).Add(Abs(b)), "as": a.As("n", "f").Add(b.As("m", "f")),
		"angles": Sin(InRadians(a)).Add(Cos(InRadians(b))).Add(Tan(InRadians(a))), "arcs": Atan(a).Add(Asin(b)), "table": ramp.At(a).Add(stairs.At(b)),
	}
}

func TestNeedsMerge(t *testing.T) {
	a, b := lacking("z").Add(lacking("m")), lacking("a").Add(lacking("m"))
	for name, q := range unaryAndBinary(a, b) {
		assert.False(t, q.Known(), name)
		assert.Equal(t, []string{"part.a.a", "part.a.m", "part.a.z"}, keys(q.Needs()), name)
		assert.Equal(t, "a.toml", q.Needs()[0].Place.File, name)
	}
	assert.Equal(t, []string{"part.a.z"}, keys(lacking("z").Mul(Number(0)).Needs()), "missing times zero is missing")
}

// The zero Quantity can be used everywhere, and stays missing.
func TestZeroQuantity(t *testing.T) {
	var zero Quantity
	all := unaryAndBinary(zero, zero)
	all["itself"], all["shared"] = zero, zero.Add(lacking("m"))
	all["first"], all["first of none"], all["choice"] = FirstOf(zero, zero), FirstOf(), Choose(Truth{}, zero, zero)
	all["waits"], all["look"] = WaitsFor(Mass, nil), Look(Word{}, Mass, "x", nil)
	all["named"] = Sum(Mass, WaitsFor(Mass, nil), Look(Word{}, Mass, "x", nil), zero, zero, zero).As("n", "f")
	for name, q := range all {
		assert.False(t, q.Known(), name)
		assert.NotEmpty(t, q.Needs(), name)
		assert.True(t, math.IsNaN(q.Value()), name)
		lo, hi := q.Bounds()
		flo, fhi := q.Forward()
		mid, wlo, whi := q.With(&Source{}, 1)
		for _, v := range []float64{lo, hi, flo, fhi, mid, wlo, whi} {
			assert.True(t, math.IsNaN(v), name)
		}
		assert.Empty(t, q.Doubts(), name)
		assert.Empty(t, q.Shares(), name)
		assert.Equal(t, "not recorded", Style{}.Format(q), name)
		for _, st := range q.Steps() {
			assert.NotContains(t, st.PutIn(Style{}), "NaN", name)
		}
		q.Symbols()
		q.Leaves()
		q.Name()
		q.Source()
		assert.Equal(t, Assumed, q.Grade(), name)
		assert.False(t, q.Given().Holds(), name)
	}
}

func TestNoResultIsMissing(t *testing.T) {
	x := leafOf(t, "part.x", "3 ± 0.1", Ratio)
	zero := x.Sub(x)
	for name, c := range map[string]struct {
		q    Quantity
		want string
	}{
		"root of a negative":  {Sqrt(x.Neg()), "values for which a square root of part.x.mass has a result"},
		"divided by zero":     {Number(1).Div(zero), "values for which a quotient of part.x.mass has a result"},
		"zero by zero":        {zero.Div(zero), "values for which a quotient of part.x.mass has a result"},
		"log of zero":         {Log(zero), "values for which a logarithm of part.x.mass has a result"},
		"arc sine of three":   {Asin(x), "values for which asin of part.x.mass has a result"},
		"zero to minus one":   {Pow(zero, -1), "values for which a power of part.x.mass has a result"},
		"negative, broken":    {Pow(x.Neg(), 0.5), "values for which a power of part.x.mass has a result"},
		"exp past all floats": {Exp(x.Times(1e6)), "values for which exp of part.x.mass has a result"},
		"numbers alone":       {Sqrt(Number(-1)), "values for which a square root has a result"},
		"before the table":    {(&Table{Name: "table 4", X: []float64{5, 9}, Y: []float64{1, 2}}).At(x), "a row of table 4 for part.x.mass"},
		"doubt past its end":  {(&Table{Name: "table 4", X: []float64{0, 3}, Y: []float64{1, 2}}).At(x), "a row of table 4 for part.x.mass"},
	} {
		require.False(t, c.q.Known(), name)
		assert.Equal(t, []string{c.want}, keys(c.q.Needs()), name)
		if name != "numbers alone" {
			assert.Equal(t, "part.x.toml", c.q.Needs()[0].Place.File, name)
		}
		assert.False(t, c.q.Add(c.q).Known(), name)
	}
	end := &Table{Name: "t", X: []float64{0, 0.3}, Y: []float64{1, 2}}
	assert.InDelta(t, 2, end.At(Number(0.1).Add(Number(0.2))).Value(), 1e-12, "0.1 + 0.2 is an end of 0.3 but for rounding")
	single := &Table{Name: "t", X: []float64{2}, Y: []float64{7}}
	assert.Equal(t, 7.0, single.At(Number(2)).Value())
}

func TestFirstOfAndDefault(t *testing.T) {
	a, b, two := lacking("a"), lacking("b"), Number(2)
	guess := AssumedValue("drop", "0.1 to 0.3", "a guess")
	assert.Equal(t, 2.0, FirstOf(a, two, b).Value())
	assert.Equal(t, []string{"part.a.a or part.a.b"}, keys(FirstOf(a, b).Needs()))
	assert.Equal(t, []string{"part.a.a and part.a.b or part.a.c"}, keys(FirstOf(a.Add(b), lacking("c"), lacking("c")).Needs()))
	assert.Equal(t, []string{"part.a.a or part.a.b"}, keys(FirstOf(a, FirstOf(a, b)).Needs()), "a choice within a choice is one choice")
	assert.Equal(t, []string{"part.a.a"}, keys(FirstOf(a.Add(b), a).Needs()), "more than another choice asks for is no choice")
	assert.Equal(t, []string{"part.a.a", "part.a.b"}, keys(FirstOf(a.Add(b), a.Add(b).Add(lacking("c")), b.Add(a)).Needs()), "of one choice each need stands by itself")
	assert.Equal(t, []string{"part.a.a"}, keys(FirstOf(a).Needs()))
	assert.Equal(t, Place{File: "a.toml", Line: 3}, FirstOf(a, b).Needs()[0].Place)

	assert.Equal(t, 2.0, Default(two, guess).Value())
	assert.Equal(t, Assumed, Default(a, guess).Grade())
	assert.False(t, Default(a, b).Known())
	assert.Panics(t, func() { Default(a, two) })
	assert.Panics(t, func() { AssumedValue("x", "5 ± 0", "no interval") })
	assert.Equal(t, Stated, Cited("g", "9.80665 m/s2", "SP 811").Grade())
}

func TestChooseAndLook(t *testing.T) {
	src := &Source{Entry: "tire.a", Key: "service", Place: Place{File: "t.toml", Line: 2}}
	row := func(s string) (Quantity, bool) { return Number(4), s == "light-truck" }
	one, two := Number(1), Number(2)
	assert.Equal(t, 1.0, Choose(Is(true), one, two).Value())
	assert.Equal(t, 2.0, Choose(Is(false), one, two).Value())
	assert.Equal(t, []string{"tire.a.service"}, keys(Choose(MissingTruth(src), one, two).Needs()))

	assert.Equal(t, 4.0, Look(Written("light-truck", src), Ratio, "a divisor", row).Value())
	none := Look(Written("cart", src), Ratio, "a divisor", row)
	assert.Equal(t, []Need{{Key: "a divisor for cart", Place: src.Place}}, none.Needs())
	assert.Equal(t, []string{"tire.a.service"}, keys(Look(MissingWord(src), Ratio, "a divisor", row).Needs()))
}

// The three-valued tables are Kleene's strong ones (S. C. Kleene,
// Introduction to Metamathematics, section 64).
func TestTruthTables(t *testing.T) {
	n := MissingTruth(&Source{Entry: "e", Key: "k"})
	y, f := Is(true), Is(false)
	show := func(t Truth) string {
		switch {
		case t.Holds():
			return "y"
		case t.Fails():
			return "n"
		}
		return "?"
	}
	and, or, not := "", "", ""
	for _, a := range []Truth{y, n, f} {
		not += show(a.Not())
		for _, b := range []Truth{y, n, f} {
			and += show(a.And(b))
			or += show(a.Or(b))
		}
	}
	assert.Equal(t, "y?n"+"??n"+"nnn", and)
	assert.Equal(t, "yyy"+"y??"+"y?n", or)
	assert.Equal(t, "n?y", not)

	both := MissingTruth(&Source{Key: "z"}).And(MissingTruth(&Source{Key: "a"})).Or(n)
	assert.Equal(t, []string{"a", "e.k", "z"}, keys(both.Needs()))
	assert.True(t, n.OrElse(true).Holds())
	assert.True(t, f.OrElse(true).Fails())
	assert.True(t, n.Given().Fails() && y.Given().Holds())
	assert.False(t, Truth{}.Known(), "the zero Truth is missing, not no")
	assert.False(t, Unknown(nil).Known())
	assert.NotEmpty(t, Truth{}.And(y).Needs())
	assert.True(t, slices.Equal([]string{"a", "b"}, keys(Unknown([]Need{{Key: "b"}, {Key: "a"}, {Key: "b"}}).Needs())))
}

func TestWord(t *testing.T) {
	src := &Source{Entry: "part.a", Key: "role"}
	w, none := Written("Alternator", src), MissingWord(src)
	assert.True(t, w.Is("heater-valve", "alternator").Holds())
	assert.True(t, w.Is("radiator").Fails())
	assert.False(t, none.Is("").Known(), "an absent word is not an empty one")
	assert.Equal(t, []string{"part.a.role"}, keys(none.Is("x").Needs()))
	assert.True(t, none.Or("radiator").Is("radiator").Holds())
	assert.Equal(t, "Alternator", w.Or("radiator").String())
	assert.True(t, w.Given().Holds() && none.Given().Fails())
	assert.False(t, Word{}.Known())
	assert.NotEmpty(t, Word{}.Needs())
	assert.Empty(t, w.Needs())
	assert.Equal(t, src, none.Source())
}
