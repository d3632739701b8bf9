package quantity

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// What is assumed for a key stands for that key: the same for the same key,
// not the same for another's.
func TestDefaultStandsForItsKey(t *testing.T) {
	guess := AssumedValue("resistance of a return", "0 to 10 mohm", "a guess")
	missing := func(entry string) Quantity {
		return Missing(Resistance, &Source{Entry: entry, Key: "return-resistance", Place: Place{"build.toml", 3, 1}})
	}
	a, b := missing("circuit.a"), missing("circuit.b")
	d := Default(a, guess)
	assert.Equal(t, "circuit.a.return-resistance", d.Name())
	assert.Equal(t, Place{"build.toml", 3, 1}, d.Source().Place)
	assert.Equal(t, "a guess", d.Source().Cite)
	assert.Equal(t, "0 to 10 mohm", d.Spelling())
	assert.Equal(t, Assumed, d.Grade())
	assert.Equal(t, []string{"circuit.a.return-resistance"}, d.Symbols())

	low, high := d.Sub(Default(a, guess)).Bounds()
	assert.Equal(t, [2]float64{0, 0}, [2]float64{low, high}, "one key has one value")
	low, high = d.Sub(Default(b, guess)).Bounds()
	assert.InDelta(t, -0.01, low, 1e-9)
	assert.InDelta(t, 0.01, high, 1e-9, "two keys may have two")

	first := FirstOf(a, b.Times(2))
	assert.Equal(t, "circuit.a.return-resistance", Default(first, guess).Name())
	assert.Equal(t, guess, Default(WaitsFor(Resistance, b.Needs()), guess), "whose key it would be is not known")
}

func TestShareIsShownInPercent(t *testing.T) {
	drop := SI(0.3, Voltage).Div(SI(12, Voltage))
	us := Style{}
	assert.Equal(t, "0.025", us.Format(drop))
	share := drop.InPercent()
	assert.Equal(t, "2.5 %", us.Format(share))
	assert.Equal(t, "2.5 %", us.Format(share.As("drop", "dV / V")))
	assert.Equal(t, "0.5 %", us.Format(Cited("limit", "3 %", "x").Sub(share)))
	assert.Equal(t, "0.3 V", us.Format(share.Mul(SI(12, Voltage))))
	leaf := one(Ratio)
	low, high := leaf.InPercent().Sub(leaf).Bounds()
	assert.Equal(t, [2]float64{0, 0}, [2]float64{low, high}, "it stays the same value")
	assert.Panics(t, func() { one(Mass).InPercent() })
}

// 0.1 + 0.2 - 0.3 is not zero in binary floating point; what is left is not
// printed. What is small but no remainder is.
func TestDustOfASum(t *testing.T) {
	in := func(v float64) Quantity { return SI(v*inch, Length) }
	left := in(0.1).Add(in(0.2)).Sub(in(0.3)).As("room", "a + b - c")
	assert.NotZero(t, left.Value())
	assert.Equal(t, "0 in", Style{}.Format(left))
	assert.Equal(t, "0 in", Style{}.Format(left.Neg()))
	double := left.Times(1).As("again", "room")
	assert.Contains(t, left.Steps()[0].PutIn(Style{}), "0.3 in")
	assert.NotZero(t, double.Value())
	small := in(1e-9).Add(in(1e-9))
	assert.NotEqual(t, "0 in", Style{}.Format(small))
	assert.NotEqual(t, "0 in", Style{}.Format(in(1).Add(in(1e-6)).Sub(in(1))))
}

func TestNearestRow(t *testing.T) {
	src := &Source{Entry: "tank.a", Key: "fluid"}
	row := func(string) (Quantity, bool) { return Quantity{}, false }
	for word, want := range map[string]string{
		"gas":         `a density for gas; did you mean "gasoline"?`,
		"Diesal":      `a density for Diesal; did you mean "diesel"?`,
		"diesel fuel": `a density for diesel fuel; did you mean "diesel"?`,
		"tar":         `a density for tar`,
	} {
		assert.Equal(t, []string{want}, keys(Look(Written(word, src), Density, "a density", row, "diesel", "gasoline").Needs()))
		word := LookWord(Written(word, src), "a density", func(string) (string, bool) { return "", false }, "diesel", "gasoline")
		assert.Equal(t, []string{want}, keys(word.Needs()))
	}
}

func TestHowPeopleTypeIt(t *testing.T) {
	for text, want := range map[string]string{
		"3-1/2 in": "3 1/2 in", "-3-1/2 in": "-3 1/2 in", "5 ft 2-1/4 in": "5 ft 2 1/4 in", "612 +- 5 lb": "612 ± 5 lb", "3-1/2 +- 1/16 in": "3 1/2 ± 1/16 in",
	} {
		r, err := Parse(text, Any, Options{})
		assert.NoError(t, err, text)
		assert.Equal(t, want, r.Spelling)
		again, err := Parse(r.Spelling, Any, Options{})
		assert.NoError(t, err)
		assert.Equal(t, r, again)
	}
	for _, text := range []string{"3-5/4 in", "3-1 in", "3--1/2 in", "3-1/0 in", "1/2-1/4 in"} {
		_, err := Parse(text, Length, Options{})
		assert.Error(t, err, text)
	}
}
