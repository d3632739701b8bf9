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
	Rules: []*lint.Rule{stopping, assist, balance, parking},
}

var stopping = &lint.Rule{
	Name: "brakes/stopping", Title: "a recorded stop test meets 49 CFR 393.52 from 20 mph",
	Due: ledger.AtDelivery, Sources: []q.Citation{data.Source("cfr-393-52"), data.Source("bevan"), data.Source("practice")},
	Note: "The text is for commercial vehicles in service: at or below 10,000 lb of gross rating it is a benchmark. Its figures were read in a state's adoption of it; that the pedal takes up to half a second is common practice. " +
		"It asks for them under any condition of loading, on hard, level, dry pavement: test as it will be loaded. The distance counts from the pedal's first movement. " +
		"A test from another speed is turned into one from 20 mph, and the further off it was the less it proves: braking goes with the square of speed, the time that the pedal takes only with speed. The deceleration is the mean, and a peak reading flatters; of the two figures the distance asks more, for at 17 ft/s2 alone a stop takes 25.3 ft.",
	Caution: "Test where nobody else is, belted, at walking pace first. New linings want bedding in. Your local code and a licensed brake shop have the last word.",
	Check:   checkStopping,
}

var assist = &lint.Rule{
	Name: "brakes/assist", Title: "the brake booster is fed at idle, and has two stops left with the engine off",
	Due: ledger.AtRoadTest, Sources: []q.Citation{data.Source("vacuum-on-a-diesel"), data.Source("army-boosters"), data.Source("practice")},
	Note: "By a gauge at the booster with the engine at idle, and not by what the pump's maker says: lines, check valves and a slow pulley take their part. " +
		"The two stops are what an army lesson says of a hydraulic booster: for a vacuum booster they are a benchmark. " +
		"An unthrottled diesel's manifold makes no vacuum worth the name: it takes a pump, or a hydraulic booster.",
	Caution: "Without assist the pedal is very heavy, and that is found out in traffic. Try it standing, engine off, then in an empty yard. A licensed brake shop has the last word.",
	Check:   checkAssist,
}

var balance = &lint.Rule{
	Name: "brakes/balance", Title: "braking is shared as the axles are loaded, empty and loaded, with what braking moves to the front",
	Due: ledger.AtRoadTest, Sources: []q.Citation{data.Source("cfr-393-52"), data.Source("lock-order"), data.Source("practice"), data.Source("bevan"), data.Source("nist-sp811")},
	Backs: []string{"cfr-393-52", "lock-order"},
	Note: "Braking at a puts m a h / L on the front axle and takes it off the rear one, whichever wheels brake. A heavier engine helps the front wheels and unloads the rear ones. " +
		"The must: on dry pavement, with a friction of 0.8 by common practice, the deceleration of 49 CFR 393.52 comes before the first wheel locks. The should: up to it the front locks no later than the rear. " +
		"At or below 10,000 lb 393.52 is a benchmark; the order of locking is asked of cars and the lightest trucks, and is a benchmark here. Antilock brakes and a load-sensing valve, unless they were tested as they work, are left out: waive with that as the reason.",
	Caution: "Rear wheels that lock first turn the vehicle round. Do not cure it by taking brake away from the front. A licensed brake shop and the makers of the parts have the last word.",
	Check:   checkBalance,
}

var parking = &lint.Rule{
	Name: "brakes/parking", Title: "the parking brake holds, and at the gross rating it holds on a 20 % grade",
	Due: ledger.AtRoadTest, Sources: []q.Citation{data.Source("cfr-393-41"), data.Source("parking-standards"), data.Source("nist-sp811")},
	Note: "Write held = true for five minutes facing up and five facing down, nothing in gear. That it holds is a must; the 20 % is from memory, so the grade is a should. " +
		"What has to be held is sin(atan G) of the weight, 0.196 at 20 %: a test at another weight or on another grade is turned into the grade that the same force holds at the gross rating.",
	Caution: "A vehicle that rolls kills. Chock it for the test, with nobody above or below it on the slope. Your local code and a licensed brake shop have the last word.",
	Check:   checkParking,
}

// latest are the tests that are, or may be, of a kind, without those that a
// later one of the kind follows.
func latest(b *ledger.Build, kind string) []*ledger.Test {
	var out []*ledger.Test
	for _, t := range b.Tests() {
		followed := q.Is(false)
		for _, o := range b.Tests() {
			followed = followed.Or(o.Kind.Is(kind).And(o.Date.After(t.Date)))
		}
		if !t.Kind.Is(kind).Fails() && !followed.Holds() {
			out = append(out, t)
		}
	}
	return out
}

func checkStopping(b *ledger.Build, s *lint.Sheet) {
	gross := b.Vehicle().GrossRating
	tests := latest(b, "stop")
	for _, t := range tests {
		kind, r := t.Kind.Is("stop"), t.Readings
		from20 := FromSpeed(r.Distance, r.Speed, data.Value("from-speed"), pedalTime).
			As("stopping distance from 20 mph", "V t + (d - v t) (V/v)²")
		s.On(t, "distance").When(kind, "").When(r.Distance.Given().Or(r.Deceleration.Given().Not()), "it recorded the deceleration").
			AtMost(from20, asked("distance", gross))
		s.On(t, "deceleration").When(kind, "").When(r.Deceleration.Given(), "it recorded the distance").
			AtLeast(r.Deceleration, asked("deceleration", gross))
	}
	if len(tests) == 0 {
		s.On(b.Vehicle(), "").AtMost(q.Waits(q.Length, "a test.x of kind stop", b.Vehicle().Place()), asked("distance", gross))
	}
}

func checkParking(b *ledger.Build, s *lint.Sheet) {
	tests := latest(b, "parking")
	for _, t := range tests {
		kind, r := t.Kind.Is("parking"), t.Readings
		s.On(t, "held").When(kind, "").Holds(r.Held, "it did not hold")
		force := GradePull(r.Weight, gravity, r.Grade).As("force held", "m g sin(atan G)")
		held := GradeHeld(force, b.Vehicle().GrossRating, gravity).As("grade that it holds at the gross rating", "tan(asin(F / (m g)))")
		s.On(t, "grade").Recommended().When(kind, "").When(r.Held.OrElse(true), "it did not hold").
			AtLeast(held, data.Value("parking-grade"))
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
	for _, at := range []struct {
		when               string
		front, rear, total q.Quantity
		h                  q.Quantity
	}{
		{"empty", w.Front.Curb, w.Rear.Curb, w.Total.Curb, vehicle.CurbHeight(b)},
		{"loaded", w.Front.Loaded, w.Rear.Loaded, w.Total.Loaded, vehicle.HeightsOf(b).Now},
	} {
		first := FirstLocksAt(
			FrontLocksAt(grip, gravity, at.front, at.total, p, at.h, v.Wheelbase).As("front wheels lock, "+at.when, "mu g (W_f/W) / (p - mu h/L)"),
			RearLocksAt(grip, gravity, at.rear, at.total, pr, at.h, v.Wheelbase).As("rear wheels lock, "+at.when, "mu g (W_r/W) / (p_r + mu h/L)"),
			grip, gravity)
		s.On(v, "before a wheel locks, "+at.when).AtLeast(first.As("deceleration before a wheel locks, "+at.when, "the least of the two and mu g"), asked)
		moved := Transfer(at.total, asked, at.h, v.Wheelbase).As("load moved to the front, "+at.when, "m a h / L")
		share := FrontLoadShare(at.front, at.total, gravity, moved).As("front axle's share while braking, "+at.when, "(W_f g + dF) / (W g)")
		s.On(v, "front locks first, "+at.when).Recommended().AtLeast(p, share)
	}
}

// frontShare is the front brakes' share: as a tester read both axles, else from
// their brake torques and tires.
func frontShare(b *ledger.Build) q.Quantity {
	var shares []q.Quantity
	for _, t := range latest(b, "brake-force") {
		shares = append(shares, BrakeShare(t.Readings.FrontBrake, t.Readings.RearBrake))
	}
	force := func(a *ledger.Axle) q.Quantity {
		return BrakeForce(a.BrakeTorque, vehicle.Diameter(b.Tire(a.Tire))).As("braking force of "+a.Path(), "2 T / D")
	}
	return q.FirstOf(append(shares, BrakeShare(force(b.Front()), force(b.Rear())))...).
		As("front brakes' share of the braking", "p = F_f / (F_f + F_r)")
}

// unwritten is a truth that waits for an entry that is not there.
func unwritten(what string, e ledger.Subject) q.Truth {
	return q.Unknown([]q.Need{{Key: what, Place: e.Place()}})
}
