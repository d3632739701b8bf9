package quantity

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func lacks(dim Dim, entry string) Quantity {
	return Missing(dim, &Source{Entry: entry, Key: "mass", Place: Place{File: "a.toml", Line: 1}})
}

// By hand: 4300 lb allowed less 4100 ± 20 leaves 180 lb for what bears all of
// its mass there; parts at a quarter of the wheelbase bear three quarters of it.
func TestRoomByHand(t *testing.T) {
	limit, load := Cited("rating", "4300 lb", "label"), leafOf(t, "weighing.in", "4100 ± 20 lb", Mass)
	one, two := lacks(Mass, "part.one"), lacks(Mass, "part.two")
	width, amps := lacks(Length, "part.one"), lacks(Current, "circuit.a")
	for _, c := range []struct {
		name   string
		margin Quantity
		each   float64
		atMost bool
		leaves int
	}{
		{"one", limit.Sub(load.Add(one)), 180 * pound, true, 1},
		{"two alike", limit.Sub(Sum(Mass, load, one.Times(0.75), two.Times(0.75))), 120 * pound, true, 2},
		{"named on the way", limit.Sub(load.Add(one.As("m", "m"))).As("margin", "limit - value"), 180 * pound, true, 1},
		{"the first of two", limit.Sub(load.Add(FirstOf(one, width.Mul(SI(1, LinearDensity))))), 180 * pound, true, 1},
		{"taken off", load.Sub(Cited("l", "4000 lb", "x")).Sub(one), 80 * pound, true, 1},
		{"a divisor", SI(2, Voltage).Sub(SI(5.3, Power).Div(amps)), 2.65, false, 1},
	} {
		require.False(t, c.margin.Known(), c.name)
		r, ok := RoomOf(c.margin)
		require.True(t, ok, c.name)
		assert.Equal(t, c.atMost, r.AtMost, c.name)
		assert.Len(t, r.Leaves, c.leaves, c.name)
		assert.InEpsilon(t, c.each, r.Each, 2e-6, c.name)
		assert.Equal(t, c.atMost, r.Each <= c.each, "%s: on the side that passes", c.name)
		assert.InEpsilon(t, c.each*float64(c.leaves), r.All(), 2e-6, c.name)
	}
	open := Choose(Truth{}, one, two)
	for name, m := range map[string]Quantity{
		"known": limit.Sub(load), "two dimensions": limit.Sub(one).Sub(width.Mul(SI(1, LinearDensity))), "a truth is lacking": limit.Sub(open),
		"no key": limit.Sub(Waits(Mass, "a test", Place{})), "fails whatever it is": load.Sub(limit).Sub(one), "passes whatever it is": limit.Add(one),
		"a word is lacking": limit.Sub(Look(MissingWord(&Source{Entry: "x", Key: "fuel"}), Mass, "a row", nil)), "in two stretches": Min(one.Sub(SI(1, Mass)), SI(2, Mass).Sub(one)),
	} {
		_, ok := RoomOf(m)
		assert.False(t, ok, name)
	}
}

// Put in, missing values give what the formula gives of known ones.
func TestPutAgreesWithBuilding(t *testing.T) {
	reading := func(text string) Reading {
		r, err := Parse(text, Any, Options{})
		require.NoError(t, err)
		return r
	}
	for name, f := range map[string]func(a, b Quantity) Quantity{
		"sum": func(a, b Quantity) Quantity { return a.Add(b).As("s", "a + b").Sub(a) }, "first": func(a, b Quantity) Quantity { return FirstOf(b, a).As("n", "f").Mul(a) },
		"power": func(a, b Quantity) Quantity { return Sqrt(Pow(a, 2).Mul(Pow(b, 2))) }, "default": func(a, b Quantity) Quantity { return Min(a, Max(a, b)) },
	} {
		a, b := lacks(Mass, "part.a"), lacks(Mass, "part.b")
		put := f(a, b).Put(map[*Source]Reading{a.Source(): reading("12 ± 1 lb"), b.Source(): reading("~30 lb")})
		built := f(leafOf(t, "part.a", "12 ± 1 lb", Mass), leafOf(t, "part.b", "~30 lb", Mass))
		require.True(t, put.Known(), name)
		lo, hi := put.Bounds()
		wantLo, wantHi := built.Bounds()
		assert.Equal(t, []float64{built.Value(), wantLo, wantHi}, []float64{put.Value(), lo, hi}, name)
		assert.Equal(t, built.Name(), put.Name(), name)
		assert.Equal(t, built.Grade(), put.Grade(), name)
	}
}
