package brakes

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

// Pack is the pack brakes.
var Pack = &lint.Pack{
	Name:  "brakes",
	Title: "Brakes: stopping, assist, balance and parking",
	Rules: []*lint.Rule{stopping, assist, hydraulicPower, balance, parking},
}

var stopping = &lint.Rule{
	Name: "brakes/stopping", Title: "a stop test of the vehicle as it is now, loaded, meets 49 CFR 393.52 from 20 mph",
	Due: ledger.AtDelivery, Sources: []q.Citation{data.Source("cfr-393-52"), data.Source("bevan"), data.Source("practice")},
	Note: "The text is for commercial vehicles in service: at or below 10,000 lb of gross rating it is a benchmark. Its figures were read in a state's adoption of it; that the pedal takes up to half a second is common practice. " +
		"It asks for them under any condition of loading, on hard, level, dry pavement: a test at 95 % of the loaded weight or more counts as it is, ballast too; a lighter one by how the same brakes would stop the loaded vehicle. " +
		"A test from before brakes, tires, springs or more than 2 % of the weight changed is no test of this vehicle; both shares are common practice. The distance counts from the pedal's first movement. " +
		"A test from another speed is turned into one from 20 mph, and the further off it was the less it proves: braking goes with the square of speed, the time that the pedal takes only with speed. The deceleration is the mean, and a peak reading flatters; more than 1.1 g, which no road gives (common practice, and a must all the same, for people die of a stop that was never made), was misread; of the two figures the distance asks more, for at 17 ft/s2 alone a stop takes 25.3 ft.",
	Caution: "Test where nobody else is, belted, at walking pace first. Bed new linings in first. Your local code and a licensed brake shop have the last word.",
	Check:   checkStopping,
}

var assist = &lint.Rule{
	Name: "brakes/assist", Title: "the brake booster is fed at idle, and has a stop left with the engine off, better two",
	Due: ledger.AtRoadTest, Sources: []q.Citation{data.Source("cfr-570-56"), data.Source("army-boosters"), data.Source("vacuum-on-a-diesel"), data.Source("booster-levels"), data.Source("practice")},
	Backs: []string{"cfr-570-56", "army-boosters"},
	Note: "By a gauge at the booster with the engine at idle, and not by what the pump's maker says: lines, check valves and a slow pulley take their part. " +
		"One stop left is what an inspection of trucks over 10,000 lb asks of a vacuum booster, and a must here; the second, which an army lesson gives a hydraulic booster, is a should. What the booster needs is the ledger's; less than 12 inHg or 500 psi waits for a document (common practice, and a must all the same, for people die of brakes that nothing helps), and a gauge that read over 29 inHg was misread (common practice). A test from before the booster or what feeds it changed does not count. " +
		"An unthrottled diesel's manifold makes no vacuum worth the name: it takes a pump, or a hydraulic booster.",
	Caution: "Without assist the pedal is very heavy, and that is found out in traffic. Try it standing, engine off, then in an empty yard. A licensed brake shop has the last word.",
	Check:   checkAssist,
}

var balance = &lint.Rule{
	Name: "brakes/balance", Title: "the brakes stop as hard as 49 CFR 393.52 asks before a wheel locks, and the front wheels lock first, empty and loaded",
	Due: ledger.AtRoadTest, Sources: []q.Citation{data.Source("cfr-393-52"), data.Source("lock-order"), data.Source("lock-order-135"), data.Source("practice"), data.Source("bevan"), data.Source("nist-sp811")},
	Backs: []string{"cfr-393-52", "lock-order"},
	Note: "Braking at a puts m a h / L on the front axle and takes it off the rear one, whichever wheels brake. A heavier engine helps the front wheels and unloads the rear ones. " +
		"The must: on dry pavement, with a friction of 0.8 by common practice, the deceleration of 49 CFR 393.52 comes before the first wheel locks. The order of locking turns at some braking: below it the front wheels lock first, above it the rear ones. It is to be 0.5 g or more (light trucks), and should be 0.8 g or more (passenger vehicles). " +
		"In place of it: a dated hard stop in which the fronts locked first, or a working anti-lock with a document. Where the brakes are the vehicle's own and the turn fell by no more than 0.1 g, 0.5 g is a should. " +
		"At or below 10,000 lb 393.52 is a benchmark; the order of locking is asked of new vehicles in Europe and is a benchmark here. A valve's curve is left out: read both axles near locking, in each state of load.",
	Caution: "Rear wheels that lock first turn the vehicle round. Do not cure it by taking brake away from the front. A licensed brake shop and the makers of the parts have the last word.",
	Check:   checkBalance,
}

var parking = &lint.Rule{
	Name: "brakes/parking", Title: "the parking brake holds on a 20 % grade, up and down, with a driver aboard; and at the gross rating",
	Due: ledger.AtRoadTest, Sources: []q.Citation{data.Source("parking-standards"), data.Source("cfr-393-41"), data.Source("cfr-567-4"), data.Source("nist-sp811")},
	Backs: []string{"parking-standards", "cfr-393-41"},
	Note: "Write held-up and held-down for five minutes facing up and five facing down, nothing in gear; or the pull that it held on the level. " +
		"The 20 % is from memory, and a must all the same with nothing aboard but the driver (150 lb), for people die of a vehicle that rolls off; at the gross rating it is a should. A test from before brakes, tires, springs or more than 2 % of the weight changed does not count. " +
		"What has to be held is sin(atan G) of the weight, 0.196 at 20 %: a test at another weight or on another grade is turned into the grade that the same force holds.",
	Caution: "A vehicle that rolls kills. Chock it for the test, with nobody above or below it on the slope. Your local code and a licensed brake shop have the last word.",
	Check:   checkParking,
}

func checkStopping(b *ledger.Build, s *lint.Sheet) {
	gross, loaded := b.Vehicle().GrossRating, vehicle.WeightsOf(b).Total.Loaded
	tests := vehicle.Latest(b, "stop")
	for _, t := range tests {
		kind, r := t.Kind.Is("stop"), t.Readings
		fresh(b, s, t, kind, stops...)
		heavier := BrakesForWeight(loaded, r.Weight, data.Value("loaded-enough")).As("how many times as heavy loaded", "W / w, where w < 0.95 W")
		from20 := FromSpeed(r.Distance, r.Speed, data.Value("from-speed"), pedalTime, heavier).
			As("stopping distance from 20 mph, loaded", "V t + (d - v t) (V/v)² r")
		hard := q.Choose(r.Deceleration.Given(), r.Deceleration, StopDeceleration(r.Speed, r.Distance).As("deceleration by speed and distance", "v^2 / (2 d)"))
		s.On(t, "as a road allows").When(kind, "").When(r.Distance.Given().Or(r.Deceleration.Given()).Or(q.Is(b.IsPhantom())), "nothing was read yet").
			AtMost(hard, gravity.Mul(data.Value("grip-at-most")).As("most that a dry road holds", "1.1 g"))
		s.On(t, "distance").When(kind, "").When(r.Distance.Given().Or(r.Deceleration.Given().Not()), "it recorded the deceleration").
			AtMost(from20, asked("distance", gross))
		s.On(t, "deceleration").When(kind, "").When(r.Deceleration.Given(), "it recorded the distance").
			AtLeast(r.Deceleration.Div(heavier).As("deceleration, loaded", "a / r"), asked("deceleration", gross))
	}
	if len(tests) == 0 {
		s.On(b.Vehicle(), "").AtMost(q.Waits(q.Length, "a test.x of kind stop", b.Vehicle().Place()), asked("distance", gross))
	}
}

// stops are what a stop rests on.
var stops = []vehicle.Matter{vehicle.Brakes, vehicle.Tires, vehicle.Ride, vehicle.Mass}

// fresh checks that a test is of the vehicle as it is now.
func fresh(b *ledger.Build, s *lint.Sheet, t *ledger.Test, kind q.Truth, of ...vehicle.Matter) {
	now, told := vehicle.Untouched(b, t.Date, of...)
	s.On(t, "as it is now").When(kind, "").Reading().Holds(now, "%s", told)
}

func checkParking(b *ledger.Build, s *lint.Sheet) {
	tests := vehicle.Latest(b, "parking")
	for _, t := range tests {
		kind, r := t.Kind.Is("parking"), t.Readings
		fresh(b, s, t, kind, stops...)
		both := r.Pull.Given().Or(r.HeldUp.And(r.HeldDown))
		s.On(t, "held").When(kind, "").Holds(r.Held.OrElse(true).And(both), "it did not hold")
		force := q.Choose(r.Pull.Given(), r.Pull, GradePull(r.Weight, gravity, r.Grade).As("force held", "m g sin(atan G)"))
		held := func(mass q.Quantity, when string) q.Quantity {
			return GradeHeld(force, mass, gravity).As("grade that it holds "+when, "tan(asin(F / (m g)))")
		}
		stood := r.Held.OrElse(true)
		driver := vehicle.WeightsOf(b).Total.Curb.Add(data.Value("driver")).As("curb and a driver", "W + 150 lb")
		s.On(t, "driver aboard").When(kind, "").When(stood, "it did not hold").AtLeast(held(driver, "with a driver aboard"), data.Value("parking-grade"))
		s.On(t, "at the gross rating").Recommended().When(kind, "").When(stood, "it did not hold").
			AtLeast(held(b.Vehicle().GrossRating, "at the gross rating"), data.Value("parking-grade"))
	}
	if len(tests) == 0 {
		s.On(b.Vehicle(), "").Holds(unwritten("a test.x of kind parking", b.Vehicle()), "")
	}
}

func checkBalance(b *ledger.Build, s *lint.Sheet) {
	v, w := b.Vehicle(), vehicle.WeightsOf(b)
	asked := asked("deceleration", v.GrossRating)
	p := frontShare(b)
	pr := q.Number(1).Sub(p).As("rear brakes' share of the braking", "1 - p")
	checkWatched(b, s)
	for _, t := range vehicle.Latest(b, "brake-force") {
		fresh(b, s, t, t.Kind.Is("brake-force"), vehicle.Brakes, vehicle.Tires)
	}
	for _, at := range []laden{
		{"empty", w.Front.Curb, w.Rear.Curb, w.Total.Curb, vehicle.CurbHeight(b)},
		{"loaded", w.Front.Loaded, w.Rear.Loaded, w.Total.Loaded, vehicle.HeightsOf(b).Now},
	} {
		first := FirstLocksAt(
			FrontLocksAt(grip, gravity, at.front, at.total, p, at.h, v.Wheelbase).As("front wheels lock, "+at.when, "mu g (W_f/W) / (p - mu h/L)"),
			RearLocksAt(grip, gravity, at.rear, at.total, pr, at.h, v.Wheelbase).As("rear wheels lock, "+at.when, "mu g (W_r/W) / (p_r + mu h/L)"),
			grip, gravity)
		s.On(v, "before a wheel locks, "+at.when).AtLeast(first.As("deceleration before a wheel locks, "+at.when, "min(a_f, a_r, mu g)"), asked)
		checkOrder(b, s, at, p)
	}
}

// laden is a state of load: what stands on the axles, and how high.
type laden struct {
	when               string
	front, rear, total q.Quantity
	h                  q.Quantity
}

// frontShare is the front brakes' share: as a tester read both axles, else from
// their brake torques and tires.
func frontShare(b *ledger.Build) q.Quantity {
	var shares []q.Quantity
	for _, t := range vehicle.Latest(b, "brake-force") {
		shares = append(shares, BrakeShare(t.Readings.FrontBrake, t.Readings.RearBrake))
	}
	force := func(a *ledger.Axle) q.Quantity {
		return BrakeForce(a.BrakeTorque, vehicle.Diameter(b, b.Tire(a.Tire))).As("braking force of "+a.Path(), "2 T / D")
	}
	return q.FirstOf(append(shares, BrakeShare(force(b.Front()), force(b.Rear())))...).
		As("front brakes' share of the braking", "p = F_f / (F_f + F_r)")
}

// unwritten is a truth that waits for an entry that is not there.
func unwritten(what string, e ledger.Subject) q.Truth {
	return q.Unknown([]q.Need{{Key: what, Place: e.Place()}})
}
