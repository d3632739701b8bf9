package wiring

import (
	"testing"

	"github.com/stretchr/testify/assert"

	q "fishplate/ledger/quantity"
)

// 15 A want a fuse of 20 A at 25 °C (15 / 0.75, the maker's 25 % rule). A fuse of
// 30 A at 85 °C keeps 26.4 A of it at 0.2 % a kelvin, 21.0 A at 0.5 %, reckoned
// by hand; 75 % of those are 19.8 and 15.75 A.
func TestHotFuse(t *testing.T) {
	assert.InDelta(t, 15, HotFuse(q.SI(20, q.Current), q.SI(273.15+25, q.Temperature)).Value(), 1e-9)
	lo, hi := HotFuse(q.SI(30, q.Current), q.SI(273.15+85, q.Temperature)).Bounds()
	assert.InDelta(t, 15.75, lo, 1e-9)
	assert.InDelta(t, 19.8, hi, 1e-9)
	cold := HotFuse(q.SI(20, q.Current), q.SI(273.15-18, q.Temperature)).Value()
	assert.InDelta(t, 15, cold, 1e-9, "cold gives nothing more")
}

// The maker's own engine: of 7.3 L it draws 230 A warm, and twice that cold. Reckoned
// by hand: 4.9 L is 308.8 A at 12 V and 154.4 A at 24 V.
func TestLeastDraw(t *testing.T) {
	litres := func(l float64) q.Quantity { return q.SI(l/1000, q.Volume) }
	assert.InDelta(t, 460, LeastDraw(litres(7.3), q.SI(12.6, q.Voltage)).Value(), 1e-9)
	assert.InDelta(t, 308.77, LeastDraw(litres(4.9), q.SI(12, q.Voltage)).Value(), 0.01)
	assert.InDelta(t, 154.38, LeastDraw(litres(4.9), q.SI(25.2, q.Voltage)).Value(), 0.01)
}

// TestMeteredResistance: Ohm's law, 0.2 V and 0.3 V at 500 A are 1 mohm, whichever
// way round the clamp is.
func TestMeteredResistance(t *testing.T) {
	volts := func(v float64) q.Quantity { return q.SI(v, q.Voltage) }
	for _, amperes := range []float64{500, -500} {
		assert.InDelta(t, 0.001, MeteredResistance(volts(0.2), volts(0.3), q.SI(amperes, q.Current)).Value(), 1e-12)
	}
}
