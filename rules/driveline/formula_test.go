package driveline

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	q "fishplate/ledger/quantity"
	"fishplate/rules/packtest"
)

var given, in = packtest.Given, packtest.In

func degrees(v float64) q.Quantity { return given(fmt.Sprintf("%v deg", v)) }

func flat(sign, angle float64) Bend { return Bend{q.Number(sign), degrees(angle), degrees(0)} }

// Khurmi, Example 9.4: a driven shaft whose speed swings by 12 % is joined at
// 19.64 deg. Example 9.5: 100 rpm of swing at 1200 rpm are 16.4 deg, and the
// driven shaft turns between 1151 and 1251 rpm.
func TestKhurmiOneJoint(t *testing.T) {
	assert.InDelta(t, 19.64, in(t, AngleOfSwing(given("0.12")), "deg"), 0.005)
	b := AngleOfSwing(given("100").Div(given("1200")))
	assert.InDelta(t, 16.4, in(t, b, "deg"), 0.05)
	assert.InDelta(t, 1251, 1200/q.Cos(b).Value(), 0.5)
	assert.InDelta(t, 1151, 1200*q.Cos(b).Value(), 0.5)
}

// Khurmi, Example 9.7: two joints of 20 deg that do not cancel, 500 rpm: the
// intermediate shaft turns at 532.1 to 469.85 rpm, the driven one at 566.24 to
// 441.5. The resultant angle is a small-angle form: at 20 deg its swing is
// within 3 % of that for one joint and for two.
func TestKhurmiTwoJoints(t *testing.T) {
	one, two := Resultant(flat(1, 20)), Resultant(flat(1, 20), flat(1, 20))
	assert.InEpsilon(t, (532.1-469.85)/500, math.Pow(one.Value(), 2), 0.03)
	assert.InEpsilon(t, (566.24-441.5)/500, math.Pow(two.Value(), 2), 0.03)
	assert.InDelta(t, math.Acos(469.85/500), AngleOfSwing(given("62.25").Div(given("500"))).Value(), 2e-4)
	assert.Zero(t, Resultant(flat(1, 20), flat(-1, 20)).Value(), "in line they cancel")
}

// The published two-joint table, 1500 rpm row: with the first joint at 0 to 9
// deg the second may have 7.3 to 11.6, which is a resultant of 7.3 deg each
// time, as the table rounds (within 0.1 deg).
func TestResultantRow(t *testing.T) {
	for first, second := range []float64{7.3, 7.4, 7.6, 7.9, 8.3, 8.9, 9.5, 10.1, 10.8, 11.6} {
		r := Resultant(flat(1, float64(first)), flat(-1, second))
		assert.InDelta(t, 7.3, in(t, r, "deg"), 0.1, "joint 1 at %d deg", first)
	}
}

// The table's rows of 1500, 1600 and 1700 rpm start at 7.3, 6.9 and 6.5 deg:
// 400 to 408 rad/s2, and the angle at 400 rad/s2 is theirs within 0.1 deg. By
// the same arithmetic 3 deg are 271 rad/s2 at 3000 rpm and 401 at 3650: above
// that speed 400 rad/s2 allow less than 3 deg, below it more.
func TestThreeDegreesAgainstAcceleration(t *testing.T) {
	made := func(speed string, angle float64) float64 {
		w := q.Radians(given(speed)).Value() * angle * math.Pi / 180
		return w * w
	}
	for speed, printed := range map[string]float64{"1500 rpm": 7.3, "1600 rpm": 6.9, "1700 rpm": 6.5} {
		assert.InDelta(t, 404, made(speed, printed), 5, speed)
		assert.InDelta(t, printed, in(t, AngleAt(acceleration, given(speed)), "deg"), 0.1, speed)
	}
	assert.InDelta(t, 271, made("3000 rpm", 3), 0.5)
	assert.InDelta(t, 401, made("3650 rpm", 3), 0.5)
	three := func(speed string) float64 { return in(t, AngleAt(acceleration, given(speed)), "deg") }
	assert.Greater(t, three("3640 rpm"), 3.0)
	assert.Less(t, three("3660 rpm"), 3.0)
	assert.InDelta(t, three("3000 rpm")/2, three("6000 rpm"), 0.005, "twice the speed, half the angle")
	assert.InDelta(t, 2.98, math.Sqrt(0.0027)*180/math.Pi, 0.005, "the makers' U of 0.0027, written as 3 deg")
}

// By hand: 3 deg in plan and 4 deg in side view are
// 4.9942 deg.
func TestTrueAngle(t *testing.T) {
	assert.InDelta(t, 4.9942, in(t, TrueAngle(degrees(4), degrees(3)), "deg"), 5e-5)
	assert.InDelta(t, 4.9942, in(t, TrueAngle(degrees(-3), degrees(4)), "deg"), 5e-5, "which view is which makes no difference")
	assert.InDelta(t, 7, in(t, TrueAngle(degrees(7), degrees(0)), "deg"), 1e-9)
}

// Against direction cosines, cos b = (1 + tan p1 tan p2 + tan s1 tan s2) /
// sqrt((1 + tan^2 p1 + tan^2 s1)(1 + tan^2 p2 + tan^2 s2)): exact where nothing
// slants in plan and where one lies along the vehicle, within 0.1 deg up to 4.
func TestTrueAngleAgainstCosines(t *testing.T) {
	tan := func(v float64) float64 { return math.Tan(v * math.Pi / 180) }
	space := func(s1, p1, s2, p2 float64) float64 {
		c := (1 + tan(p1)*tan(p2) + tan(s1)*tan(s2)) / math.Sqrt((1+tan(p1)*tan(p1)+tan(s1)*tan(s1))*(1+tan(p2)*tan(p2)+tan(s2)*tan(s2)))
		return math.Acos(c) * 180 / math.Pi
	}
	for _, c := range []struct{ s1, p1, s2, p2, within float64 }{
		{0, 0, 6, 4, 1e-9}, {3, 0, 12, 0, 1e-9}, {3, 0, 5.4, 0.4, 0.1}, {4, -4, -4, 4, 0.1}, {4, 4, 4, -4, 0.1},
	} {
		got := in(t, TrueAngle(degrees(c.s2-c.s1), degrees(c.p2-c.p1)), "deg")
		assert.InDelta(t, space(c.s1, c.p1, c.s2, c.p2), got, c.within, "%v", c)
	}
}

// In one plane, whichever it is, the resultant is the makers' sqrt(|sum of s
// b^2|). Equal bends alike in side view but opposite in plan do not cancel:
// their planes stand at 90 deg, so they add to 1.41 of one. A shaft between
// parallel ends (bends of opposite sign in both views) cancels.
func TestResultantPlanes(t *testing.T) {
	bend := func(sign, side, plan float64) Bend { return Bend{q.Number(sign), degrees(side), degrees(plan)} }
	want := math.Sqrt(4*4 - 3*3)
	assert.InDelta(t, want, in(t, Resultant(bend(1, 4, 0), bend(-1, 3, 0)), "deg"), 1e-9)
	assert.InDelta(t, want, in(t, Resultant(bend(1, 0, 4), bend(-1, 0, 3)), "deg"), 1e-9)
	assert.InDelta(t, want, in(t, Resultant(bend(1, 4*0.6, 4*0.8), bend(-1, 3*0.6, 3*0.8)), "deg"), 1e-9)
	assert.InDelta(t, math.Sqrt(4*4+3*3+2*2), in(t, Resultant(bend(1, 4, 0), bend(1, 3, 0), bend(1, 2, 0)), "deg"), 1e-9)
	assert.InDelta(t, 0, in(t, Resultant(bend(1, 2, 2), bend(-1, -2, -2)), "deg"), 1e-9)
	assert.InDelta(t, math.Sqrt2*math.Sqrt(8), in(t, Resultant(bend(1, 2, 2), bend(-1, 2, -2)), "deg"), 1e-9)
}

// B. K. Sarkar, Theory of Machines, ch. 11, Illustration 11 (pi taken as 3.147
// there, so within 0.2 %): a shaft of 180 mm, E 210 GPa, 2.5 m between
// supports, weighing 1962 N/m (g 9.81), with 25, 50 and 20 kg at 0.6, 1.5 and
// 2.0 m, whirls at 3111.6 rpm by Dunkerley, 1/n^2 = sum of 1/n_i^2. The
// shaft's own speed is ours, those of the masses alone sqrt(3 E I L / (m a^2
// b^2)).
func TestSarkarIllustration11(t *testing.T) {
	e, l := given("210 GPa"), given("2.5 m")
	d := given("0.18 m")
	density := given("1962").Div(given("9.81")).Mul(given("1 kg/m")).Div(d.Mul(d).Times(math.Pi / 4))
	moment := math.Pi * math.Pow(0.18, 4) / 64
	own := Whirling(e, density, d, given("0 m"), l).Value()
	sum := 1 / (own * own)
	for mass, a := range map[float64]float64{25: 0.6, 50: 1.5, 20: 2.0} {
		b := 2.5 - a
		sum += mass * a * a * b * b / (3 * e.Value() * moment * 2.5)
	}
	rpm := 1 / math.Sqrt(sum) * 60 / (2 * math.Pi)
	assert.InEpsilon(t, 3111.6, rpm, 0.002)
}

// By hand: a steel tube of 3.0 in and 0.083 in wall, 60
// in long, E 30e6 psi, 0.283 lb/in3, whirls at 5464 rpm and may turn at 4098;
// n_c = 4.767e6 sqrt(D^2 + d^2)/L^2 in inches.
func TestWhirlingTube(t *testing.T) {
	d, inside := given("3.0 in"), given("2.834 in")
	whirl := func(l string) float64 {
		return in(t, Whirling(given("30e6 psi"), given("0.283 lb/in3"), d, inside, given(l)), "rpm")
	}
	assert.InDelta(t, 5464, whirl("60 in"), 0.5)
	assert.InDelta(t, 4098, usable.Value()*whirl("60 in"), 0.5)
	assert.InEpsilon(t, 4.7668e6*math.Sqrt(9+2.834*2.834)/3600, whirl("60 in"), 1e-4)
	assert.InDelta(t, whirl("60 in")/4, whirl("120 in"), 1e-9, "twice the length")
}

// By hand, level shafts: a drivetrain moved 1 3/4 in forward lengthens the rear
// shaft and shortens the front one by as much; of 4 in of spline in the rear one 4
// - 1.75 - 0.5 stay engaged.
func TestForward(t *testing.T) {
	forward := Line{given("-1.75 in"), given("0 in"), given("0 in")}
	still := Line{given("0 in"), given("0 in"), given("0 in")}
	level := degrees(0)
	rear := LineOf(given("60 in"), level, level, q.Number(1)).Moved(forward, still)
	front := LineOf(given("30 in"), level, level, q.Number(-1)).Moved(forward, still)
	assert.InDelta(t, 61.75, in(t, rear.Length(), "in"), 1e-9)
	assert.InDelta(t, 28.25, in(t, front.Length(), "in"), 1e-9)
	assert.InDelta(t, 0, rear.Slope().Value(), 1e-12)
	assert.InDelta(t, 1.75, in(t, SlipLeft(given("4 in"), rear.Length().Sub(given("60 in")), given("0.5 in")), "in"), 1e-9)
}

// A line gives back what it was made of, whichever way it runs, and a slope
// down to the rear lies lower at the rear. Raising the front end of a level
// shaft of 57.3 in by 1 in slopes it by a degree (1 in 57.3).
func TestLine(t *testing.T) {
	for _, way := range []float64{1, -1} {
		l := LineOf(given("57 in"), degrees(5.4), degrees(-0.6), q.Number(way))
		assert.InDelta(t, 57, in(t, l.Length(), "in"), 1e-9)
		assert.InDelta(t, 5.4, in(t, l.Slope(), "deg"), 1e-9)
		assert.InDelta(t, -0.6, in(t, l.Plan(), "deg"), 1e-9)
		assert.Negative(t, l.Up.Value()*l.Back.Value())
	}
	up := Line{given("0 in"), given("0 in"), given("1 in")}
	still := Line{given("0 in"), given("0 in"), given("0 in")}
	l := LineOf(given("57.3 in"), degrees(0), degrees(0), q.Number(1)).Moved(up, still)
	assert.InDelta(t, 1, in(t, l.Slope(), "deg"), 5e-4)
}

// By hand, the table's rows are 994 to 855 rad/s2 from the slowest to the fastest;
// slower than that its first row is kept, faster there is
// none.
func TestAngleLimit(t *testing.T) {
	for i, want := range []float64{994, 1011, 1023, 1011, 1023, 943, 926, 855} {
		row := data.Table("angle-by-speed").Rows()[i]
		w := q.Radians(given(row)).Value() * angleLimit(given(row)).Value()
		assert.InDelta(t, want, w*w, 0.5, row)
	}
	assert.InDelta(t, 11.5, in(t, angleLimit(given("900 rpm")), "deg"), 1e-9)
	assert.InDelta(t, 5.4, in(t, angleLimit(given("3250 rpm")), "deg"), 1e-9, "half way between 5.8 and 5.0")
	assert.False(t, angleLimit(given("5100 rpm")).Known())
}

// Each source has something that rests on it.
func TestSourcesUsed(t *testing.T) { assert.Empty(t, data.Unused()) }

// Worked by hand from 16 T D / (pi (D^4 - d^4)): a 3.00 x 0.083 in tube with
// 1,000 lb-ft (12,000 lbf-in) has d = 2.834, D^4 - d^4 = 81 - 64.506 = 16.494
// in^4, so 576,000 / 51.818 = 11,116 psi; a solid one 2,264 psi, by the handbook
// form T / (0.19635 D^3).
func TestTubeShear(t *testing.T) {
	assert.InDelta(t, 11116, in(t, TubeShear(given("1000 lb-ft"), given("3.00 in"), given("0.083 in")), "psi"), 5)
	assert.InDelta(t, 12000/(0.1963495*27), in(t, TubeShear(given("1000 lb-ft"), given("3.00 in"), given("1.5 in")), "psi"), 0.01)
	assert.InDelta(t, 20207, in(t, ShearYield(given("35000 psi")), "psi"), 0.5)
}

// 3.73 in front of 3.90 behind on one tire is 4.36 % apart, worked by hand; a
// front tire of 2 % fewer turns makes up for a ratio 2.04 % greater.
func TestAxlesApart(t *testing.T) {
	assert.InDelta(t, 0.043590, AxlesApart(one, given("3.73"), given("3.90")).Value(), 5e-7)
	assert.InDelta(t, 0, AxlesApart(given("0.98"), given("4.00"), given("3.92")).Value(), 1e-12)
}

// The reference data's own case: 400 lb-ft, first gear 2.45, a converter at 1.9
// are 1,862 lb-ft, and 931 lbf at each of two mounts 24 in apart.
func TestMountReaction(t *testing.T) {
	torque := given("400 lb-ft").Mul(given("2.45")).Mul(given("1.9"))
	assert.InDelta(t, 931, in(t, MountReaction(torque, given("24 in")), "lbf"), 1e-6)
}

// Bends in side view and in plan, as plane vectors by Pythagoras: one of 3 by 4 deg
// is one of 5. Three count by the square of the complex number: (3+4i)² + (3-4i)² is
// -14, (3+4i)² + (4+3i)² is 48i; and two whose planes are 90 deg apart undo each other.
func TestResultantInSpace(t *testing.T) {
	bend := func(sign, side, plan float64) Bend { return Bend{q.Number(sign), degrees(side), degrees(plan)} }
	none := bend(1, 0, 0)
	for _, c := range []struct {
		want  float64
		bends []Bend
	}{
		{5, []Bend{bend(1, 3, 4)}},
		{5, []Bend{bend(1, 3, 4), none, none}},
		{math.Sqrt(14), []Bend{bend(1, 3, 4), bend(1, 3, -4), none}},
		{math.Sqrt(48), []Bend{bend(1, 3, 4), bend(1, 4, 3), none}},
		{0, []Bend{bend(1, 3, 4), bend(-1, 3, 4), none}},
		{0, []Bend{bend(1, 3, 4), bend(1, -4, 3)}},
		{math.Sqrt(14), []Bend{bend(1, 3, 4), bend(1, 3, -4)}},
	} {
		assert.InDelta(t, c.want, in(t, Resultant(c.bends...), "deg"), 1e-6, "%v", c.want)
	}
	assert.InDelta(t, math.Sqrt(48), in(t, Resultant(bend(1, 3, 4), bend(1, 4, 3)), "deg"), 1e-6)
	assert.InDelta(t, math.Sqrt(14), in(t, Resultant(bend(1, 3, 4), bend(-1, -4, -3)), "deg"), 1e-6, "(3+4i)² - (4+3i)² is -14")
}

// Ends that move by a vector each: the line between them changes by the difference.
func TestLineMoved(t *testing.T) {
	at := func(x, y, z string) Line { return Line{given(x), given(y), given(z)} }
	got := at("40 in", "1 in", "-5 in").Moved(at("2 in", "3 in", "5 in"), at("7 in", "11 in", "13 in"))
	for _, c := range []struct {
		want float64
		is   q.Quantity
	}{{45, got.Back}, {9, got.Right}, {3, got.Up}} {
		assert.InDelta(t, c.want, in(t, c.is, "in"), 1e-9)
	}
}

// Geometry: a case at 51 in and an axle at 129 are 78 apart; a shaft of 50 leaves 28 for
// output and pinion, whichever way it runs.
func TestOverhang(t *testing.T) {
	assert.InDelta(t, 28*0.0254, Overhang(given("51 in"), given("129 in"), given("50 in")).Value(), 1e-12)
	assert.InDelta(t, 28*0.0254, Overhang(given("129 in"), given("51 in"), given("50 in")).Value(), 1e-12)
}
