package gearing

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

// Pack is the pack gearing.
var Pack = &lint.Pack{
	Name:  "gearing",
	Title: "Gearing: engine speed on the road, starting on a grade, and the signals for road and engine speed",
	Rules: []*lint.Rule{cruise, governed, grade, roadSpeedSignal, tachSignal, spare, beltSpeed},
}

var cruise = &lint.Rule{
	Name:    "gearing/cruise",
	Title:   "at 65 mph in top gear the engine turns no faster than it should be held at, and clear of its idle",
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{data.Source("practice"), data.Source("inch-and-mile"), vehicle.RollingSource, vehicle.TireSource},
	Note: "The limits are the ledger's cruise-limit and, by common practice and so a should, a tenth above idle; it is not held above its governed speed. A diesel may turn half as fast as the engine that the axle was chosen for. At the vehicle's top speed where that is below 65 mph; a converter counts as locked. " +
		"By the turns a mile that were counted, else the rolling circumference, 3.05 D for a radial: the circle of the nominal diameter reads 3 % low in engine speed.",
	Caution: "An engine held past its speed throws a rod or a fan blade through hood and floor; one that lugs shakes mounts and flex plate to pieces. The engine maker's limits have the last word.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		e := b.Engine()
		n := vehicle.EngineSpeed(b, upTo(b, cruising)).As("engine speed at cruise", "v * turns a mile * ratio in top gear")
		s.On(e, "limit").AtMost(n, e.CruiseLimit)
		s.On(e, "limit and governor").When(e.CruiseLimit.Given().And(e.Governed.Given()).Or(q.Is(b.IsPhantom())), "not both in the ledger").
			AtMost(e.CruiseLimit, vehicle.TradeSize(e.Governed))
		s.On(e, "idle").Recommended().AtLeast(n, overIdle.Mul(e.Idle).As("least engine speed to cruise at", "1.1 * idle"))
	},
}

// upTo is a road speed, or the vehicle's top speed where that is less.
func upTo(b *ledger.Build, v q.Quantity) q.Quantity {
	top := b.Vehicle().TopSpeed
	return q.Choose(top.Given(), q.Min(v, top), v).As("road speed", "min(v, top speed)")
}

var governed = &lint.Rule{
	Name:    "gearing/governed",
	Title:   "in top gear the governed speed is worth at least 70 mph",
	Should:  true,
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{data.Source("practice"), data.Source("inch-and-mile"), vehicle.RollingSource},
	Note:    "Or the vehicle's top speed where that is less. Whether the engine has the power for it is another question.",
	Caution: "A governor holds the engine, not the vehicle: down a grade the wheels drive the engine past it. Show the driver the gear to take downhill before the grade.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		e := b.Engine()
		v := vehicle.TopGearSpeed(b, e.Governed).As("road speed at governed speed", "n / (turns a mile * ratio in top gear)")
		s.On(e, "").AtLeast(v, upTo(b, geared))
	},
}

var grade = &lint.Rule{
	Name:    "gearing/grade",
	Title:   "the vehicle started off on the grade that it was tried on, and loaded starts off on a 20 % grade in low",
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{data.Source("practice"), data.Source("gradeability"), data.Source("rolling-and-losses"), vehicle.TractionSource},
	Note: "The 20 % is common practice, and so a should; that it started where it was tried is a must. At the combined rating where the ledger has one, else loaded. An automatic pulls with its converter at stall, a manual with 0.5 to 1.0 of the engine's greatest torque at the clutch (assumed). " +
		"Tires on a dry road hold 0.8 to 1.0 of the load on the driven axles (assumed), standing level: a grade shifts some to the rear. A recorded grade test is judged by itself, and counts where engine, gears, tires and weight did not change after it. Slopes above 45 deg are not told apart.",
	Caution: "A vehicle that cannot start on a grade rolls back on what is behind it. Try it where there is room, with the parking brake and chocks at hand. What grade a vehicle must start on is your local code's to say.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		weight := vehicle.Weight(q.Choose(b.Vehicle().CombinedRating.Given(), b.Vehicle().CombinedRating, vehicle.WeightsOf(b).Total.Loaded)).
			As("weight to start", "m g")
		climbs := func(pull q.Quantity) q.Quantity {
			return Grade(pull, weight, resistance, steepest).As("grade it starts on", "tan(asin(min(F/G - f, steepest)))")
		}
		s.On(b.Vehicle(), "pull").Recommended().AtLeast(climbs(pull(b)), startable)
		s.On(b.Vehicle(), "traction").Recommended().AtLeast(climbs(vehicle.Traction(b)), startable)
		for _, t := range vehicle.Latest(b, "grade") {
			is := t.Kind.Is("grade")
			now, told := vehicle.Untouched(b, t.Date, vehicle.Pull, vehicle.Tires, vehicle.Mass)
			s.On(t, "as it is now").When(is, "not a test on a grade").Reading().Holds(now, "%s", told)
			s.On(t, "").When(is, "not a test on a grade").Holds(t.Readings.Started, "it did not start off")
			s.On(t, "20 %").Recommended().When(is, "not a test on a grade").
				AtLeast(q.Choose(t.Readings.Started, t.Readings.Grade, level).As("grade it started on", "the test's grade; 0 where it did not start"), startable)
		}
	},
}

// pull is what the engine pulls with in low.
func pull(b *ledger.Build) q.Quantity {
	a := vehicle.MainAxle(b)
	share := q.Choose(b.Transmission().Kind.Is("manual"), atClutch, one)
	torque := share.Mul(vehicle.GearedTorque(b, a)).As("axle torque to start with", "axle torque by the gears * share at the clutch")
	return Pull(torque, efficiency, vehicle.Diameter(b, b.Tire(a.Tire))).As("pull at the road in low", "eta T / (D/2)")
}
