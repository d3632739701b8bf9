package gearing

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	q "fishplate/ledger/quantity"
	"fishplate/rules/packtest"
	"fishplate/rules/vehicle"
)

var given, in = packtest.Given, packtest.In

// By hand: 400 lb-ft through 4.0, 1.0 and
// 3.73 with 0.90 left, 33 in tires, pull 3906.3 lbf and start 10,000 lb with a
// rolling resistance of 0.015 on 40.53 %.
func TestGradeability(t *testing.T) {
	torque := vehicle.Through(vehicle.Through(given("400 lb-ft"), given("4.0")), given("3.73"))
	f := Pull(torque, given("0.90"), given("33 in"))
	assert.InDelta(t, 3906.3, in(t, f, "lbf"), 0.05)
	g := Grade(f, given("10000 lbf"), given("0.015"), steepest)
	assert.InDelta(t, 40.53, in(t, g, "%"), 0.005)
}

// With just the rolling resistance it starts on the level only, and however
// hard it pulls no more than 45 deg is told.
func TestGradeLimits(t *testing.T) {
	assert.InDelta(t, 0, Grade(given("150 lbf"), given("10000 lbf"), given("0.015"), steepest).Value(), 1e-12)
	assert.InDelta(t, 1, Grade(given("30000 lbf"), given("10000 lbf"), given("0.015"), steepest).Value(), 1e-7)
	f := Pull(given("1000 lb-ft"), given("0.9"), given("33 in"))
	assert.InDelta(t, f.Value()/2, Pull(given("1000 lb-ft"), given("0.9"), given("66 in")).Value(), 1e-9, "a taller tire pulls less")
}

// Generator frequency, poles * rpm / 120, from the US Navy's training series:
// 2 poles at 3600 rpm and 4 at 1800 give 60 Hz; 6 at 500 give 25 and 12 at 4000
// give 400 (results derived there). From first principles, turns a second times
// pole pairs: 50 times 8 are 400 Hz; an engine at 800 rpm, pulleys 2.5 and 6 pole
// pairs make 13.33 times 2.5 times 6, 200 Hz.
func TestWTerminal(t *testing.T) {
	for _, c := range []struct {
		speed          string
		pulleys, pairs float64
		hertz          float64
	}{
		{"3600 rpm", 1, 1, 60}, {"1800 rpm", 1, 2, 60}, {"500 rpm", 1, 3, 25}, {"4000 rpm", 1, 6, 400}, {"3000 rpm", 1, 8, 400}, {"800 rpm", 2.5, 6, 200},
	} {
		p := PhasePulses(q.Number(c.pulleys), q.Number(c.pairs), perTurn, q.Number(1))
		assert.InDelta(t, c.hertz, in(t, p.Mul(given(c.speed)), "Hz"), 1e-9, c.speed)
	}
	assert.InDelta(t, 15, in(t, PhasePulses(q.Number(2.5), q.Number(6), perTurn, q.Number(1)), "pulses/rev"), 1e-12, "6 pole pairs at 2.5")
	// A converter that divides by 3.75 makes 4 of those 15, what a tachometer of a V8 counts on.
	assert.InDelta(t, 4, in(t, PhasePulses(q.Number(2.5), q.Number(6), perTurn, q.Number(3.75)), "pulses/rev"), 1e-12, "through a converter")
}

// 40 pulses a turn of the shaft, 655 turns of the tire a mile and a 4.10 axle
// are 107,420 pulses a mile, by hand; a converter that divides by 26.855 makes
// 4,000 of it. On taller tires (657 for 690 turns a mile) a sender that was
// right gives 0.9522 of what it gave.
func TestRoadPulses(t *testing.T) {
	p := RoadPulses(given("40 pulses/rev"), given("655 rev/mi"), given("4.10"), q.Number(1))
	assert.InDelta(t, 107420, in(t, p, "pulses/mi"), 1e-6)
	assert.InDelta(t, 4000, in(t, RoadPulses(given("40 pulses/rev"), given("655 rev/mi"), given("4.10"), q.Number(26.855)), "pulses/mi"), 1e-6)
	kept := Rescaled(given("4000 pulses/mi"), given("657 rev/mi"), given("3.73"), given("690 rev/mi"), given("3.73"))
	assert.InDelta(t, 4000*0.9522, in(t, kept, "pulses/mi"), 0.5)
	assert.InDelta(t, 4000, in(t, Rescaled(kept, given("690 rev/mi"), given("3.73"), given("657 rev/mi"), given("3.73")), "pulses/mi"), 1e-9)
}

// By hand: a circle of 34 in turns 63360/(34 pi) = 593.2 times a mile, and on 4.10
// gears with a 0.78 top gear that is 2,055 rpm at 65 mph; by 3.05 diameters to the
// turn it is 2,117. The rule goes by the latter, and by counted turns before both.
func TestRollingBeforeCircle(t *testing.T) {
	const truck = `
[vehicle.rear]
tire = "tire.a"
final-drive = 4.10
[transmission]
gears = [2.5, 1.0, 0.78]
[tire.a]
size = "34x10.50R17"
`
	at := func(more string) float64 {
		b := packtest.Build(t, truck+more)
		return in(t, vehicle.EngineSpeed(b, upTo(b, cruising)), "rpm")
	}
	assert.InDelta(t, 2117, at(""), 1)
	assert.InDelta(t, 2055, at("revs-per-mile = \"593.2 rev/mi\"\n"), 0.5)
}

// Each source has something that rests on it.
func TestSourcesUsed(t *testing.T) { assert.Empty(t, data.Unused()) }

func TestPack(t *testing.T) { packtest.Run(t, Pack, "testdata") }

// pi d n / 60000 in mm and rpm: 150 mm at 4000 rpm is 31.42 m/s.
func TestBeltSpeed(t *testing.T) {
	v := BeltSpeed(given("150 mm"), given("4000 rpm"))
	assert.InDelta(t, 31.42, v.Value(), 0.005)
	assert.InEpsilon(t, math.Pi*150*4000/60000, v.Value(), 1e-12)
}
