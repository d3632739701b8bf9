package vehicle

import (
	"testing"

	"github.com/stretchr/testify/assert"

	q "fishplate/ledger/quantity"
	"fishplate/rules/packtest"
)

var given, in = packtest.Given, packtest.In

// R. N. Jazar, Vehicle Dynamics, ch. 2, Example 1 (slide set): a car of 890 kg
// with its center of gravity 78 cm behind the front axle and a wheelbase of
// 235 cm stands on each front wheel with 2916.5 N and on each rear wheel with
// 1449 N; g 9.81 m/s2.
func TestJazarExample1(t *testing.T) {
	m, x, l, g := given("890 kg"), given("0.78 m"), given("2.35 m"), given("9.81 m/s2")
	each := q.Number(0.5).Mul(g)
	assert.InDelta(t, 2916.5, in(t, OnFront(m, x, l).Mul(each), "N"), 0.05)
	assert.InDelta(t, 1449, in(t, OnRear(m, x, l).Mul(each), "N"), 0.5)
}

// Jazar, Example 40: 2000 N on each front wheel and 1800 N on each rear wheel
// at a wheelbase of 2.34 m put the center of gravity 1.1084 m behind the front
// axle and 1.2316 m ahead of the rear one.
func TestJazarExample40(t *testing.T) {
	l, x, total := given("2.34 m"), given("1.1084 m"), given("7600 kg") // as the newtons are to each other
	assert.InDelta(t, 1.2316, in(t, l.Sub(x), "m"), 5e-5)
	assert.InDelta(t, 4000, in(t, OnFront(total, x, l), "kg"), 0.2, "7600 / 2.34 m times the last digit of x")
	assert.InDelta(t, 3600, in(t, OnRear(total, x, l), "kg"), 0.2)
}

// FAA-H-8083-1, nosewheel airplane: 340 lb on the nosewheel 78 in ahead of the
// main wheels, 2,006 lb in all: the center of gravity is 13.2 in ahead of the
// mains.
func TestFAANosewheel(t *testing.T) {
	l, total := given("78 in"), given("2006 lb")
	x := l.Sub(given("13.2 in"))
	assert.InDelta(t, 340, in(t, OnFront(total, x, l), "lb"), 1.3, "2006 lb / 78 in times the last digit of x")
	assert.InDelta(t, 1666, in(t, OnRear(total, x, l), "lb"), 1.3)
}

// The FAA handbook's plank (from memory): 100 lb at 50 in, 100 lb at 90 in and
// 200 lb at 150 in: 400 lb, 44,000 lb-in, center at 110 in.
func TestFAAPlank(t *testing.T) {
	masses := []q.Quantity{given("100 lb"), given("100 lb"), given("200 lb")}
	var moments []q.Quantity
	for i, at := range []string{"50 in", "90 in", "150 in"} {
		moments = append(moments, masses[i].Mul(given(at)))
	}
	moment := q.Sum(moments[0].Dim(), moments...)
	assert.InDelta(t, 44000, moment.Div(given("1 lb").Mul(given("1 in"))).Value(), 0.5)
	assert.InDelta(t, 110, in(t, CenterHeight(q.SI(0, q.Length), moment, q.Sum(q.Mass, masses...)), "in"), 0.05)
}

// By hand: 300 lb hung 6 in ahead of the
// front axle of a wheelbase of 130 in adds 313.85 lb there and takes 13.85 lb
// off the rear.
func TestAheadOfTheAxle(t *testing.T) {
	m, x, l := given("300 lb"), given("-6 in"), given("130 in")
	assert.InDelta(t, 313.85, in(t, OnFront(m, x, l), "lb"), 0.005)
	assert.InDelta(t, -13.85, in(t, OnRear(m, x, l), "lb"), 0.005)
}

// What a mass puts on both axles is its weight wherever it sits, an axle carries
// all of what sits over it, and twice the mass twice as much.
func TestMomentsAddUp(t *testing.T) {
	m, l := given("300 lb"), given("130 in")
	for _, x := range []string{"-40 in", "0 in", "17 in", "65 in", "130 in", "171 in"} {
		at := given(x)
		both := OnFront(m, at, l).Add(OnRear(m, at, l))
		assert.InDelta(t, 300, in(t, both, "lb"), 1e-9, x)
		assert.InDelta(t, 2*OnRear(m, at, l).Value(), OnRear(m.Times(2), at, l).Value(), 1e-9, x)
		assert.InDelta(t, OnRear(m, l.Sub(at), l).Value(), OnFront(m, at, l).Value(), 1e-9, x)
	}
	assert.InDelta(t, 300, in(t, OnFront(m, given("0 in"), l), "lb"), 1e-9)
	assert.InDelta(t, 0, in(t, OnFront(m, l, l), "lb"), 1e-9)
}

// UN Regulation No. 54, paragraph 6, arithmetic on three markings.
func TestTireDiameter(t *testing.T) {
	one := q.Number(1)
	d := TireDiameter(given("16 in"), given("235 mm"), given("85 %"), one)
	assert.InDelta(t, 805.9, in(t, d, "mm"), 0.05)
	assert.InDelta(t, 31.728, in(t, d, "in"), 5e-4)
	d = TireDiameter(given("18 in"), given("275 mm"), given("70 %"), one)
	assert.InDelta(t, 842.2, in(t, d, "mm"), 0.05)
	assert.InDelta(t, 33.157, in(t, d, "in"), 5e-4)
	assert.InDelta(t, 34, in(t, FlotationDiameter(given("34 in"), given("17 in"), one), "in"), 1e-9)
}

// A tire of no height is its rim, and a maker's freedom works on the height
// alone.
func TestTireDiameterLimits(t *testing.T) {
	rim := given("16 in")
	assert.InDelta(t, 16, in(t, TireDiameter(rim, given("235 mm"), given("0 %"), q.Number(1)), "in"), 1e-9)
	assert.InDelta(t, 16, in(t, FlotationDiameter(given("34 in"), rim, q.Number(0)), "in"), 1e-9)
	tall := TireDiameter(rim, given("235 mm"), given("85 %"), q.Number(1.02)).Sub(rim)
	assert.InDelta(t, 1.02, tall.Div(TireDiameter(rim, given("235 mm"), given("85 %"), q.Number(1)).Sub(rim)).Value(), 1e-12)
}

// DOE's table: No. 2 diesel is 7.079 lb a gallon, so 34 gal of it are 240.7 lb;
// US gallon by NIST SP 811.
func TestFluidMass(t *testing.T) {
	m := FluidMass(given("34 gal"), given("7.079 lb/gal"))
	assert.InDelta(t, 34*7.079, in(t, m, "lb"), 1e-6)
	assert.InDelta(t, 0.848*3.785411784, in(t, FluidMass(given("1 gal"), given("7.079 lb/gal")), "kg"), 0.0005*3.785)
	assert.Zero(t, FluidMass(given("0 gal"), given("7.079 lb/gal")).Value())
}

// Each source has something that rests on it.
func TestSourcesUsed(t *testing.T) { assert.Empty(t, data.Unused()) }

// The reference data's own case: 12 % of a trailer of 6,000 lb, 50 in behind the
// rear axle of a wheelbase of 140 in, loads the rear axle by 977.1 lb and takes
// 257.1 off the front one.
func TestTongue(t *testing.T) {
	tongue, at, l := given("6000 lb").Mul(given("0.12")), given("190 in"), given("140 in")
	assert.InDelta(t, 977.1, in(t, OnRear(tongue, at, l), "lb"), 0.05)
	assert.InDelta(t, -257.1, in(t, OnFront(tongue, at, l), "lb"), 0.05)
}

// A cube law: 100 kW through 0.95 against 1.1 kg/m3, C 0.35 and 2.5 m2 is
// 2 * 95000 / 0.9625 = 197403 m3/s3, the cube of 58.22 m/s; eight times the power
// is twice the speed.
func TestDragSpeed(t *testing.T) {
	at := func(kW float64) float64 {
		return DragSpeed(q.SI(kW*1000, q.Power), q.Number(0.95), q.SI(1.1, q.Density), q.Number(0.35), q.SI(2.5, q.Area)).Value()
	}
	assert.InDelta(t, 58.22, at(100), 0.01)
	assert.InEpsilon(t, 2*at(100), at(800), 1e-12)
}
