package vehicle_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/rules/packtest"
	"fishplate/rules/vehicle"
)

var given, in = packtest.Given, packtest.In

var (
	circle  = q.Number(math.Pi)
	rolling = given("3.05")
)

// Arithmetic on the inch and the mile: a circle of D inches turns 20168.114/D
// times a mile, a radial by ETRTO's factor (from memory) 20773.8/D; of a tire
// marked 34x10.50R17 that is 593.2 and 611.0.
func TestTurns(t *testing.T) {
	assert.InDelta(t, 20168.114, in(t, vehicle.Turns(given("1 in"), circle), "rev/mi"), 5e-4)
	assert.InDelta(t, 20773.8, in(t, vehicle.Turns(given("1 in"), rolling), "rev/mi"), 0.05)
	assert.InDelta(t, 593.2, in(t, vehicle.Turns(given("34 in"), circle), "rev/mi"), 0.05)
	assert.InDelta(t, 611.0, in(t, vehicle.Turns(given("34 in"), rolling), "rev/mi"), 0.05)
	assert.InDelta(t, math.Pi/3.05, vehicle.Turns(given("31 in"), rolling).Div(vehicle.Turns(given("31 in"), circle)).Value(), 1e-12, "3 % more than the circle")
}

// By hand: 34 in tires on 4.10 gears with a 0.78 top gear put 593.2 * 65/60 * 3.198
// = 2,055 rpm at 65 mph by the nominal diameter, and 611.0 * 65/60 * 3.198 = 2,117
// by the rolling circumference.
func TestRotationByCircleAndRolling(t *testing.T) {
	ratio := given("4.10").Mul(given("0.78"))
	at := func(factor q.Quantity) float64 {
		return in(t, vehicle.Rotation(given("65 mph"), vehicle.Turns(given("34 in"), factor), ratio), "rpm")
	}
	assert.InDelta(t, 2055, at(circle), 0.5)
	assert.InDelta(t, 2117, at(rolling), 1)
}

// By hand: 2,000 rpm on 33 in tires, 0.69
// top gear, 1.00 transfer and 3.73 axle are 76.29 mph by the circle, for
// 63360/(60 pi) is 336.1352; and 1 mph of 1 in at 1:1 is that many rpm.
func TestRoadSpeed(t *testing.T) {
	ratio := given("0.69").Mul(given("1.0")).Mul(given("3.73"))
	turns := vehicle.Turns(given("33 in"), circle)
	v := vehicle.RoadSpeed(given("2000 rpm"), turns, ratio)
	assert.InDelta(t, 76.29, in(t, v, "mph"), 0.005)
	assert.InDelta(t, 2000, in(t, vehicle.Rotation(v, turns, ratio), "rpm"), 1e-9, "one undoes the other")
	assert.InDelta(t, 336.13524, in(t, vehicle.Rotation(given("1 mph"), vehicle.Turns(given("1 in"), circle), q.Number(1)), "rpm"), 5e-6)
	assert.InDelta(t, 346.2295, in(t, vehicle.Rotation(given("1 mph"), vehicle.Turns(given("1 in"), rolling), q.Number(1)), "rpm"), 5e-5)
}

// By hand: 550 lb-ft at a stall ratio of
// 1.9 are 1,045 lb-ft, over a rating of 1,000; 4,500 lb on tires of 16.5 in
// radius with a friction of 0.9 slip at 5568.75 lb-ft.
func TestTorques(t *testing.T) {
	assert.InDelta(t, 1045, in(t, vehicle.Through(given("550 lb-ft"), given("1.9")), "lb-ft"), 1e-9)
	slip := vehicle.SlipTorque(given("0.9"), given("4500 lb"), given("9.80665 m/s2"), given("33.0 in"))
	assert.InDelta(t, 5568.75, in(t, slip, "lb-ft"), 0.005)
	assert.InDelta(t, 2, vehicle.SlipTorque(given("0.9"), given("9000 lb"), given("9.80665 m/s2"), given("33.0 in")).Div(slip).Value(), 1e-12)
}

// The identities of power and torque: a horsepower of 550 ft-lbf a second is 1
// lb-ft at 5252.113 rpm, a kilowatt 1 N·m at 9549.297 rpm (33000/(2 pi),
// 60000/(2 pi)); torque in lb-ft and power in hp are one number at 5252 rpm.
func TestPowerOfTorque(t *testing.T) {
	power := func(torque, speed string) q.Quantity { return given(torque).Mul(q.Radians(given(speed))) }
	assert.InDelta(t, 1, in(t, power("1 lb-ft", "5252.113 rpm"), "hp"), 5e-8)
	assert.InDelta(t, 1, in(t, power("1 N·m", "9549.297 rpm"), "kW"), 5e-8)
	assert.InDelta(t, 300, in(t, power("300 lb-ft", "5252 rpm"), "hp"), 0.01)
	assert.InDelta(t, 375, in(t, given("1 hp").Div(given("1 mph")), "lbf"), 1e-9, "375 = 550 * 3600 / 5280")
}

const truck = `
[vehicle]
drive = "four-wheel"
top-speed = "88 mph"
wheelbase = "100 in"
[vehicle.front]
tire = "tire.a"
final-drive = 4.10
[vehicle.rear]
tire = "tire.a"
final-drive = 4.10
[tire.a]
size = "34x10.50R17"
revs-per-mile = "590 rev/mi"
[weighing.in]
when = "as-received"
front = "4000 lb"
rear = "3000 lb"
[load.nobody]
mass = "0 lb"
at = { behind = "0 in" }
[engine]
peak-torque = "400 lb-ft"
[transmission]
kind = "automatic"
stall-ratio = 2.0
gears = [3.0, 1.5, 1.0, 0.78]
[transfer]
high = 1.0
low = 2.5
[part.case]
role = "transfer-case"
origin = "original"
[part.front]
role = "front-axle"
origin = "original"
[part.rear]
role = "rear-axle"
origin = "original"
[shaft.ahead]
to = "part.case"
[shaft.front]
to = "part.front"
[shaft.rear]
to = "part.rear"
`

// A build's ratios, speeds and torques, by hand.
func TestDrivetrain(t *testing.T) {
	b := packtest.Build(t, truck)
	assert.InDelta(t, 0.78*4.10, vehicle.TopRatio(b).Value(), 1e-12)
	assert.InDelta(t, 590*65/60.0*0.78*4.10, in(t, vehicle.EngineSpeed(b, given("65 mph")), "rpm"), 1e-9, "what was counted goes before what is reckoned")
	assert.InDelta(t, 65, in(t, vehicle.TopGearSpeed(b, vehicle.EngineSpeed(b, given("65 mph"))), "mph"), 1e-9)
	for _, s := range b.Shafts() {
		assert.InDelta(t, 590*88/60.0*4.10, in(t, vehicle.ShaftTopSpeed(b, s), "rpm"), 1e-9, s.Path())
	}
	assert.InDelta(t, 800, in(t, vehicle.StallTorque(b), "lb-ft"), 1e-9)
	assert.InDelta(t, 2400, in(t, vehicle.LowGearTorque(b), "lb-ft"), 1e-9)
	assert.InDelta(t, 2400*2.5*4.10, in(t, vehicle.GearedTorque(b, b.Rear()), "lb-ft"), 1e-9)
	assert.InDelta(t, 0.9*3000*17.0/12, in(t, vehicle.AxleSlipTorque(b, b.Rear()), "lb-ft"), 1e-6)
	assert.InDelta(t, 0.9*7000, in(t, vehicle.Traction(b), "lbf"), 1e-6)
}

// Which axles are driven, by the words people use; without a transfer case its
// ratios are 1, and a manual gearbox has no converter.
func TestDriven(t *testing.T) {
	for drive, want := range map[string][2]bool{"rear": {false, true}, "front": {true, false}, "four-wheel": {true, true}, "all-wheel": {true, true}} {
		b := packtest.Build(t, "[vehicle]\ndrive = \""+drive+"\"\n[engine]\npeak-torque = \"100 lb-ft\"\n[transmission]\nkind = \"manual\"\n")
		assert.Equal(t, want, [2]bool{vehicle.Driven(b, b.Front()).Holds(), vehicle.Driven(b, b.Rear()).Holds()}, drive)
		assert.Equal(t, !want[1], vehicle.MainAxle(b).Path() == "vehicle.front", drive)
		assert.InDelta(t, 1, vehicle.LowRange(b).Mul(vehicle.HighRange(b)).Value(), 0)
		assert.InDelta(t, 100, in(t, vehicle.StallTorque(b), "lb-ft"), 1e-9)
		assert.Equal(t, "transmission.gears", vehicle.TopGear(b).Needs()[0].Key)
	}
}

// Without counted turns they come from the diameter, with the spread that size
// and factor leave; a diagonal tire rolls on a little less.
func TestTireTurns(t *testing.T) {
	b := packtest.Build(t, `
[tire.radial]
size = "7.50R16"
diameter = "31.7 in"
[tire.diagonal]
size = "7.50-16"
diameter = "31.7 in"
`)
	turns := func(name string) q.Quantity {
		return vehicle.TireTurns(b, b.Tire(ledger.Ref{Word: q.Written(name, &q.Source{})}))
	}
	assert.InDelta(t, 63360/(3.05*31.7), in(t, turns("tire.radial"), "rev/mi"), 1e-9)
	assert.InDelta(t, 63360/(2.99*31.7), in(t, turns("tire.diagonal"), "rev/mi"), 1e-9)
	low, high := turns("tire.radial").Bounds()
	assert.InDelta(t, 0.036, (high-low)/turns("tire.radial").Value(), 1e-3, "0.05 of 3.05 and 0.05 in of 31.7 either way")
}

// Worked from the reference data's own case, by hand: 6500 lb on a wheelbase of
// 140 in, center of gravity 56 in back and 29 in up, friction 0.9. Rear drive
// pulls 2876.2 lbf on 3195.8 lb, where 2600 stand on it at rest; front drive
// 2958.5 on 3287.2, where 3900 stand on it.
func TestPullingLoad(t *testing.T) {
	mu, l, h := given("0.9"), given("140 in"), given("29 in")
	assert.InDelta(t, 3195.8, in(t, vehicle.PullingLoad(given("2600 lb"), mu, h, l), "lb"), 0.05)
	assert.InDelta(t, 3287.2, in(t, vehicle.PullingLoad(given("3900 lb"), mu, h.Neg(), l), "lb"), 0.05)
	slip := vehicle.SlipTorque(mu, vehicle.PullingLoad(given("2600 lb"), mu, h, l), given("9.80665 m/s2"), given("31.2 in"))
	assert.InDelta(t, 3739.1, in(t, slip, "lb-ft"), 0.05)
}

// A ledger that says a lower top speed is held to 85 mph.
func TestLeastTopSpeed(t *testing.T) {
	b := packtest.Build(t, strings.Replace(truck, "88 mph", "60 mph", 1))
	for _, s := range b.Shafts() {
		assert.InDelta(t, 590*85/60.0*4.10, in(t, vehicle.ShaftTopSpeed(b, s), "rpm"), 1e-9, s.Path())
	}
}
