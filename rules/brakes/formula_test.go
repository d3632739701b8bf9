package brakes

import (
	"testing"

	"github.com/stretchr/testify/assert"

	q "fishplate/ledger/quantity"
	"fishplate/rules/packtest"
)

var given, in = packtest.Given, packtest.In

// T. Bevan, The Theory of Machines, ch. 8, Example 6: wheelbase 9 ft 6 in,
// center of gravity 2 ft up and 4 ft ahead of the rear axle, from 30 mph, g
// 32.2 ft/s2. All that it prints, to its last digit: the distances with the rear, the
// front and all wheels braked, and the front wheels' load over the rear ones' in the
// last case, which is how the braking is shared there.
func TestBevanExample6(t *testing.T) {
	l, h, v, g := given("9.5 ft"), given("2 ft"), given("30 mph"), given("32.2 ft/s2")
	front, rear, total := given("4 lb"), given("5.5 lb"), given("9.5 lb") // as b and a are to L
	only := q.Number(1)
	for _, c := range []struct{ mu, rear, front, all, ratio string }{
		{"0.6", "97.5 ± 0.05 ft", "104 ± 0.5 ft", "50.1 ± 0.05 ft", "1.21 ± 0.005"},
		{"0.1", "530 ± 0.5 ft", "699 ± 0.5 ft", "301 ± 0.5 ft", "0.792 ± 0.0005"},
	} {
		mu := given(c.mu)
		printed(t, StopDeceleration(v, given(c.rear)), RearLocksAt(mu, g, rear, total, only, h, l), "rear, "+c.mu)
		printed(t, StopDeceleration(v, given(c.front)), FrontLocksAt(mu, g, front, total, only, h, l), "front, "+c.mu)
		printed(t, StopDeceleration(v, given(c.all)), mu.Mul(g), "all, "+c.mu)
		p := BrakeShare(given(c.ratio), only)
		printed(t, FrontLocksAt(mu, g, front, total, p, h, l), mu.Mul(g), "front of all, "+c.mu)
		printed(t, RearLocksAt(mu, g, rear, total, only.Sub(p), h, l), mu.Mul(g), "rear of all, "+c.mu)
	}
}

// printed asserts that a figure lies within what a source prints to its last digit.
func printed(t *testing.T, source, ours q.Quantity, what string) {
	t.Helper()
	least, most := source.Bounds()
	assert.LessOrEqual(t, least, ours.Value(), what)
	assert.GreaterOrEqual(t, most, ours.Value(), what)
	assert.Less(t, most-least, 0.02*ours.Value(), "%s: the source says too little", what)
}

// Shared as the loads are while braking, both axles lock together and at mu g.
func TestIdealShareLocksTogether(t *testing.T) {
	l, h, g, mu := given("133 in"), given("29 in"), given("9.80665 m/s2"), q.Number(0.8)
	front, rear, total := given("3700 lb"), given("2400 lb"), given("6100 lb")
	a := mu.Mul(g)
	p := front.Div(total).Add(mu.Mul(h).Div(l))
	f := FrontLocksAt(mu, g, front, total, p, h, l)
	r := RearLocksAt(mu, g, rear, total, q.Number(1).Sub(p), h, l)
	assert.InDelta(t, a.Value(), f.Value(), 1e-9)
	assert.InDelta(t, a.Value(), r.Value(), 1e-9)
	less := FrontLocksAt(mu, g, front, total, p.Times(1.1), h, l)
	assert.Less(t, less.Value(), a.Value(), "more brake in front locks it sooner")
}

// 49 CFR 393.52(d), row by row: the braking force in percent of the weight is
// the deceleration over 32.174 ft/s2, to the digit printed; 67 Pa. Code ch. 175
// Table I.
func TestCFR393_52Rows(t *testing.T) {
	want := map[string][3]float64{ // percent, ft/s2, ft
		"A1": {65.2, 21, 20}, "A2": {52.8, 17, 25}, "A3": {43.5, 14, 35},
		"B1": {52.8, 17, 25}, "B2": {43.5, 14, 35}, "B3": {43.5, 14, 40},
	}
	assert.Len(t, stopRows.Rows(), len(want))
	for row, w := range want {
		force, _ := stopRows.Cell(row, "braking-force")
		a, _ := stopRows.Cell(row, "deceleration")
		d, _ := stopRows.Cell(row, "distance")
		assert.InDelta(t, w[0], in(t, force, "%"), 1e-9, row)
		assert.InDelta(t, w[1], in(t, a, "ft/s2"), 1e-9, row)
		assert.InDelta(t, w[2], in(t, d, "ft"), 1e-9, row)
		assert.InDelta(t, w[0], in(t, a, "ft/s2")/32.174*100, 0.1, "%s: deceleration over 32.174", row)
	}
}

// At 17 ft/s2 a stop from 20 mph takes 25.3 ft (29.333² / 34): the 25 ft of the same row ask a little more.
func TestDistanceIsTheStricter(t *testing.T) {
	printed(t, StopDeceleration(given("20 mph"), given("25.3 ± 0.05 ft")), given("17 ft/s2"), "25.3 ft")
}

// The two rows that the rating chooses between hold for passengers and for
// property alike; 10,000 lb itself is the lighter.
func TestRowByRating(t *testing.T) {
	for _, column := range []string{"deceleration", "distance", "braking-force"} {
		for _, same := range [][2]string{{"A2", "B1"}, {"A3", "B2"}} {
			x, _ := stopRows.Cell(same[0], column)
			y, _ := stopRows.Cell(same[1], column)
			assert.Equal(t, x.Value(), y.Value(), column)
		}
	}
	assert.InDelta(t, 25, in(t, asked("distance", given("10000 lb")), "ft"), 1e-9)
	assert.InDelta(t, 35, in(t, asked("distance", given("10001 lb")), "ft"), 1e-9)
	assert.False(t, asked("distance", q.Missing(q.Mass, &q.Source{Key: "gross-rating"})).Known())
}

// From the asked speed itself nothing changes and the pedal's time drops out;
// without it distance goes with the square; with it a test from 30 mph comes out
// longer than the square says.
func TestFromSpeed(t *testing.T) {
	d, v := given("24 ft"), given("20 mph")
	low, high := FromSpeed(d, v, v, pedalTime, q.Number(1)).Bounds()
	assert.InDelta(t, d.Value(), low, 1e-9)
	assert.InDelta(t, d.Value(), high, 1e-9)
	none := given("0 s")
	assert.InDelta(t, 24, in(t, FromSpeed(given("54 ft"), given("30 mph"), v, none, q.Number(1)), "ft"), 1e-9)
	assert.InDelta(t, 24+44.0*20/30*0.3-44*0.3*4/9, in(t, FromSpeed(given("54 ft"), given("30 mph"), v, given("0.3 s"), q.Number(1)), "ft"), 1e-9)
}

// Both ways round: what a stop from one speed comes to at another, and back.
func TestFromSpeedAndBack(t *testing.T) {
	d, v, w, time := given("24 ft"), given("20 mph"), given("37 mph"), given("0.4 s")
	assert.InDelta(t, d.Value(), FromSpeed(FromSpeed(d, v, w, time, q.Number(1)), w, v, time, q.Number(1)).Value(), 1e-9)
}

// 49 CFR 571.135 S7.12 and 571.105 S5.2, the identity sin(atan G): 20 % holds
// 0.1961 of the weight, 30 % 0.2873.
func TestGradePull(t *testing.T) {
	m := given("10000 lb")
	assert.InDelta(t, 0.1961, in(t, GradePull(m, gravity, given("20 %")), "lbf")/10000, 5e-5)
	assert.InDelta(t, 0.2873, in(t, GradePull(m, gravity, given("30 %")), "lbf")/10000, 5e-5)
	g := 0.2
	assert.InDelta(t, g/q.Sqrt(q.Number(1+g*g)).Value(), GradePull(m, gravity, q.Number(g)).Div(m.Mul(gravity)).Value(), 1e-12, "sin(atan G) is G over the root of 1 + G²")
}

// At the same weight the grade held is the grade of the test; on less weight it
// is less at the gross rating.
func TestGradeHeld(t *testing.T) {
	test, gross := given("6200 lb"), given("8800 lb")
	f := GradePull(test, gravity, given("22 %"))
	assert.InDelta(t, 0.22, GradeHeld(f, test, gravity).Value(), 1e-12)
	// by hand: sin(atan 0.22) = 0.21486, times 6200/8800 = 0.15138, and 0.15138/sqrt(1 - 0.15138²) = 0.15315
	assert.InDelta(t, 0.15315, GradeHeld(f, gross, gravity).Value(), 2e-5)
}

// Twice the tire brakes half as hard; the shares of two axles make the whole.
func TestBrakeForce(t *testing.T) {
	f := BrakeForce(given("3000 lb-ft"), given("30 in"))
	assert.InDelta(t, 2400, in(t, f, "lbf"), 1e-9)
	assert.InDelta(t, 1200, in(t, BrakeForce(given("3000 lb-ft"), given("60 in")), "lbf"), 1e-9)
	r := given("900 lbf")
	assert.InDelta(t, 1, BrakeShare(f, r).Add(BrakeShare(r, f)).Value(), 1e-12)
}

// Each source has something that rests on it.
func TestSourcesUsed(t *testing.T) { assert.Empty(t, data.Unused()) }

// The adhesion that each axle uses, worked by hand from the definitions of UN
// Regulation No. 13, Annex 10: k1 = p z L/(b + z h), k2 = (1 - p) z L/(a - z h).
// Wheelbase 3.55 m, center of gravity 1.55 m behind the front axle and 0.75 m
// up: with 0.72 of the braking in front the curves cross at 0.7413 g, with 0.75
// at 0.8833. At the crossing, and only there, both axles use as much.
func TestTurnsAt(t *testing.T) {
	l, h, front, total := given("3.55 m"), given("0.75 m"), given("2.00 kg"), given("3.55 kg") // as b is to L
	for share, want := range map[float64]float64{0.72: 0.7413, 0.75: 0.8833} {
		z := TurnsAt(q.Number(share), front, total, l, h).Value()
		assert.InDelta(t, want, z, 0.00005)
		k1 := share * z * 3.55 / (2.0 + z*0.75)
		k2 := (1 - share) * z * 3.55 / (1.55 - z*0.75)
		assert.InDelta(t, k1, k2, 1e-12)
	}
}

// Yu Zhisheng, Automobile Theory, exercise 4.3: a truck of wheelbase 3.95 m with
// 0.38 of the braking in front. Empty (a 2.10 m, h 0.845 m) its rear wheels lock
// first however gently it brakes, and laden (a 2.95 m, h 1.17 m) below 0.43 g the
// front ones do: the book has the curves cross at (0.38 * 3.95 - 1.00) / 1.17.
func TestTurnsAtTruck(t *testing.T) {
	l := given("3.95 m")
	assert.Negative(t, TurnsAt(q.Number(0.38), given("1.85 kg"), given("3.95 kg"), l, given("0.845 m")).Value())
	assert.InDelta(t, 0.4282, TurnsAt(q.Number(0.38), given("1.00 kg"), given("3.95 kg"), l, given("1.170 m")).Value(), 0.00005)
}

// A third lighter than loaded counts half as heavy again; 96 % counts as loaded.
func TestBrakesForWeight(t *testing.T) {
	assert.InDelta(t, 1.5, BrakesForWeight(given("6000 lb"), given("4000 lb"), given("95 %")).Value(), 1e-12)
	assert.InDelta(t, 1, BrakesForWeight(given("6000 lb"), given("5760 lb"), given("95 %")).Value(), 1e-12)
	d := FromSpeed(given("24 ft"), given("20 mph"), given("20 mph"), given("0 s"), q.Number(1.5))
	assert.InDelta(t, 36, in(t, d, "ft"), 1e-9)
}
