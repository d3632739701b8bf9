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
