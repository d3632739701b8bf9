package weight

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	q "fishplate/ledger/quantity"
	"fishplate/rules/packtest"
)

var given, in = packtest.Given, packtest.In

// Rows of ISO 4000-1's table as three general charts print them, in kg; the
// pound figure is arithmetic with NIST SP 811's pound.
func TestLoadIndex(t *testing.T) {
	for index, kg := range map[float64]float64{60: 250, 61: 257, 62: 265, 83: 487, 91: 615, 100: 800, 112: 1120, 120: 1400, 121: 1450, 134: 2120} {
		assert.Equal(t, kg, loads.At(q.Number(index)).Value(), "index %g", index)
	}
	assert.InDelta(t, 3196.7, in(t, loads.At(q.Number(121)), "lb"), 0.05)
	assert.False(t, loads.At(q.Number(59)).Known(), "below the table")
	assert.False(t, loads.At(q.Number(136)).Known(), "above the table")
}

// The table follows its geometric series, 45 * 10^(LI/80) kg, to within 2 %,
// and rises all the way: a slip in a digit would show.
func TestLoadIndexSeries(t *testing.T) {
	for i, index := range loads.X {
		assert.InEpsilon(t, 45*math.Pow(10, index/80), loads.Y[i], 0.02, "index %g", index)
		if i > 0 {
			assert.Greater(t, loads.Y[i], loads.Y[i-1])
			assert.Equal(t, loads.X[i-1]+1, index)
		}
	}
}

// 49 CFR 571.120 S5.1.2, arithmetic: two passenger-car tires of 2,205 lb count
// for 4,009.1 lb, which covers an axle rated 4,000 lb. As truck tires they are
// 4,410 lb.
func TestPassengerTires(t *testing.T) {
	each := given("2205 lb")
	assert.InDelta(t, 4009.1, in(t, Tire(each, data.Value("passenger-divisor")).Times(2), "lb"), 0.05)
	assert.InDelta(t, 4410, in(t, Tire(each, q.Number(1)).Times(2), "lb"), 1e-9)
	assert.InDelta(t, 0.909, Tire(each, data.Value("passenger-divisor")).Div(each).Value(), 5e-4, "the trade's 91 %")
}

// Four tires carry a quarter of the axle each.
func TestEachTire(t *testing.T) {
	assert.InDelta(t, 1500, in(t, EachTire(given("6000 lb"), q.Number(4)), "lb"), 1e-9)
	assert.InDelta(t, 3000, in(t, EachTire(given("6000 lb"), q.Number(2)), "lb"), 1e-9)
}

// By the definition of a pound-force, 400 lb more on two springs of 400 lb/in
// each lowers them by half an inch.
func TestRideChange(t *testing.T) {
	g, k := data.Value("gravity"), given("400 lb/in")
	assert.InDelta(t, 0.5, in(t, RideChange(given("3400 lb"), given("3000 lb"), g, k), "in"), 1e-9)
	assert.InDelta(t, -0.5, in(t, RideChange(given("3000 lb"), given("3400 lb"), g, k), "in"), 1e-9)
	assert.InDelta(t, 0.25, in(t, RideChange(given("3400 lb"), given("3000 lb"), g, k.Times(2)), "in"), 1e-9)
}

// Tayal, Engineering Mechanics, Example 15.20: 1.5 m of track and the center
// of gravity 1 m up overturn on a curve of 100 m at 27.1247 m/s, with g 9.81
// m/s2: v = sqrt(g r SSF), and SSF is 0.75.
func TestTayal15_20(t *testing.T) {
	ssf := Stability(given("1.5 m"), given("1.0 m"))
	assert.InDelta(t, 0.75, ssf.Value(), 1e-12)
	v := q.Sqrt(given("9.81 m/s2").Mul(given("100 m")).Mul(ssf))
	assert.InDelta(t, 27.1247, in(t, v, "m/s"), 5e-5)
}

// Twice as tall is half as stable; scaled alike, as stable.
func TestStabilityScales(t *testing.T) {
	track, h := given("66 in"), given("28 in")
	assert.InDelta(t, Stability(track, h).Value()/2, Stability(track, h.Times(2)).Value(), 1e-12)
	assert.InDelta(t, Stability(track, h).Value(), Stability(track.Times(1.7), h.Times(1.7)).Value(), 1e-12)
	assert.InDelta(t, 66, in(t, Track(given("67 in"), given("65 in")), "in"), 1e-9)
}

// 49 CFR 567.4(g)(3): 150 lb for each seat; 571.110 prints the same as 68 kg.
func TestSeatAllowance(t *testing.T) {
	assert.InDelta(t, 450, in(t, SeatAllowance(data.Value("seat"), q.Number(3)), "lb"), 1e-9)
	assert.InDelta(t, 68, in(t, data.Value("seat"), "kg"), 0.5)
}

// Front and rear share are the whole.
func TestFrontShare(t *testing.T) {
	f, r := given("3020 lb"), given("2170 lb")
	assert.InDelta(t, 1, FrontShare(f, f.Add(r)).Add(FrontShare(r, f.Add(r))).Value(), 1e-12)
}

// Each source has something that rests on it.
func TestSourcesUsed(t *testing.T) { assert.Empty(t, data.Unused()) }

// The reference data's own case: at 50 of 80 psi a tire carries 0.7906 of its
// rating by a power of 0.5, 0.7196 by 0.7 and 0.625 by 1; above its pressure no
// more than its rating.
func TestAtPressure(t *testing.T) {
	for n, want := range map[string]float64{"0.5": 0.7906, "0.7": 0.7196, "1": 0.625} {
		assert.InDelta(t, want, AtPressure(given("1 lb"), given("50 psi"), given("80 psi"), given(n)).Div(given("1 lb")).Value(), 0.00005, n)
	}
	assert.InDelta(t, 1, AtPressure(given("1 lb"), given("90 psi"), given("80 psi"), given("0.7")).Div(given("1 lb")).Value(), 1e-12)
}
