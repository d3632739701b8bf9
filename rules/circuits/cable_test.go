package circuits

import (
	"testing"

	"github.com/stretchr/testify/assert"

	q "fishplate/ledger/quantity"
)

func seconds(t float64) q.Quantity { return q.SI(t, q.Time) }

// A train of pulses of 10 A that are on a quarter of the time heats like 5 A
// (textbook, effective value of a rectangular pulse: I sqrt(d)).
func TestRootMeanSquareOfPulses(t *testing.T) {
	assert.InDelta(t, 5, RootMeanSquare(amps(10), seconds(1), seconds(3)).Value(), 1e-9)
	assert.InDelta(t, 10, RootMeanSquare(amps(10), seconds(30), seconds(0)).Value(), 1e-9, "always on")
}

// Two and three equal resistors side by side, and 3 with 6 ohm: 2 ohm (Kirchhoff).
func TestTogether(t *testing.T) {
	assert.InDelta(t, 2, Together(ohms(3), ohms(6)).Value(), 1e-12)
	assert.InDelta(t, 1, Together(ohms(3), ohms(3), ohms(3)).Value(), 1e-12)
	assert.Equal(t, 3.0, Together(ohms(3)).Value())
}

// Onderdonk's formula, which has other constants, wants 18.97 mm2 for 600 A in
// 10 s between 90 and 160 °C (k = 100), and 38.30 mm2 for 1000 A in 30 s
// between 90 and 250 °C (k = 143).
func TestHeatStoodAsByOnderdonk(t *testing.T) {
	for _, c := range []struct{ amps, s, final, mm2 float64 }{{600, 10, 160, 18.97}, {1000, 30, 250, 38.30}} {
		stands := Withstand(KSquared(celsius(90), celsius(c.final)), q.SI(c.mm2*1e-6, q.Area))
		assert.InEpsilon(t, 1, stands.Div(Heat(amps(c.amps), seconds(c.s))).Value(), 0.005)
	}
}

// Two equal cables side by side each carry half, and heat as I²: together they
// stand four times what one does. With one of thermoplastic beside one that is
// cross-linked the lesser k of IEC 60364-4-43 table 43A, 100 from 90 to 160 °C
// against 143 to 250 °C, counts for the copper of both. IEC 60228 sizes of 25 mm2
// by their greatest resistance of 0.780 ohm/km.
func TestStandsSideBySide(t *testing.T) {
	n := linked(t, `
[circuit.a]
from = "part.battery"
gauge = "25 mm2"
insulation = "90 degC"
[circuit.b]
from = "part.battery"
gauge = "25 mm2"
insulation = "90 degC"
[circuit.hot]
from = "part.battery"
gauge = "25 mm2"
insulation = "TXL"
[circuit.soft]
from = "part.battery"
gauge = "25 mm2"
insulation = "GPT"
`)
	run := func(name string) *Run { return n.byPath["circuit."+name] }
	low, high := n.Stands(run("a")).Bounds()
	both, most := n.Stands(run("a"), run("b")).Bounds()
	assert.InEpsilon(t, 4, both/low, 1e-6)
	assert.InEpsilon(t, 4, most/high, 1e-6)
	for _, pair := range [][2]string{{"hot", "soft"}, {"soft", "hot"}} {
		assert.InEpsilon(t, 4, n.Stands(run(pair[0]), run(pair[1])).Value()/n.Stands(run("soft")).Value(), 1e-6, pair)
	}
	assert.Greater(t, n.Stands(run("soft")).Value(), 0.0)
	assert.NotEqual(t, n.Stands(run("soft")).Value(), n.Stands(run("hot")).Value())
}

// 33 CFR 183.425 Table 5 takes 50 °C for an engine space, and is based on 30 °C.
func TestWhereAFuseSits(t *testing.T) {
	n := linked(t, `
[zone.engine]
engine-space = true
[zone.cab]
[zone.oven]
engine-space = true
temperature = "90 degC"
[circuit.engine]
from = "part.battery"
zone = "zone.cab"
fuse-zone = "zone.engine"
[circuit.cab]
from = "part.battery"
zone = "zone.engine"
fuse-zone = "zone.cab"
[circuit.oven]
from = "part.battery"
fuse-zone = "zone.oven"
[circuit.wire]
from = "part.battery"
zone = "zone.engine"
`)
	for name, c := range map[string]float64{"engine": 50, "cab": 30, "oven": 90, "wire": 50} {
		low, high := n.FuseTemperature(n.byPath["circuit."+name]).Bounds()
		assert.InDelta(t, c, (low+high)/2-273.15, 1e-6, name)
	}
}
