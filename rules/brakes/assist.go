package brakes

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

// gauges are the hookups that work a booster, and where a test records them.
var gauges = map[string]func(ledger.Readings) q.Quantity{
	"vacuum":           func(r ledger.Readings) q.Quantity { return r.Vacuum },
	"hydraulic-assist": func(r ledger.Readings) q.Quantity { return r.Hydraulic },
}

// leastNeeds are the least that a booster is believed to need without a document.
var leastNeeds = map[string]q.Quantity{"vacuum": data.Value("booster-vacuum-least"), "hydraulic-assist": data.Value("booster-pressure-least")}

func checkAssist(b *ledger.Build, s *lint.Sheet) {
	boosters, other := fittedAs(b, boosterRoles...), fittedAs(b, "electric-brake-booster", "manual-brakes")
	for _, p := range boosters {
		judged := q.Is(false)
		for kind, need := range p.Needs {
			if reading, ok := gauges[kind]; ok {
				s.On(p, kind).At(need.Place()).AtLeast(atIdle(b, reading), need.Least)
				judged = q.Is(true)
				s.On(p, kind+" needed").At(need.Place()).When(need.Least.Given().Or(q.Is(b.IsPhantom())), "not in the ledger yet").Work().
					Holds(vehicle.PlausibleAtLeast(b, need.Least, leastNeeds[kind]), "")
			}
			if kind == "vacuum" {
				s.On(p, "manifold").At(need.Place()).Holds(manifold(b, need.From).Not(), "its vacuum comes from the manifold of a diesel without a throttle, which makes none worth the name")
			}
		}
		if judged.Fails() {
			s.On(p, "").Holds(unwritten(p.Path()+".needs.vacuum or "+p.Path()+".needs.hydraulic-assist", p), "")
		}
	}
	for _, t := range vehicle.Latest(b, "assist") {
		kind := t.Kind.Is("assist").And(q.Is(len(other) == 0 || len(boosters) > 0))
		most := b.Engine().Idle.Mul(q.Number(1).Add(data.Value("idle-slack"))).As("idle, and a little", "1.1 n")
		s.On(t, "read at idle").When(kind, "no booster that is fed").AtMost(t.Readings.EngineSpeed, most)
		s.On(t, "vacuum as a pump can").When(kind, "no booster that is fed").When(t.Readings.Vacuum.Given().Or(q.Is(b.IsPhantom())), "no vacuum was read").AtMost(t.Readings.Vacuum, data.Value("vacuum-at-most"))
		s.On(t, "engine off").When(kind, "no booster that is fed").AtLeast(t.Readings.StopsLeft, data.Value("reserve-inspected"))
		s.On(t, "engine off, a second stop").Recommended().When(kind, "no booster that is fed").AtLeast(t.Readings.StopsLeft, data.Value("reserve"))
		fresh(b, s, t, kind, vehicle.Assist)
	}
	if len(boosters) == 0 {
		s.On(b.Vehicle(), "").When(q.Is(len(other) == 0), "its brakes have no booster that vacuum or fluid works").
			Holds(unwritten("a fitted part.x with the role brake-booster", b.Vehicle()), "")
	}
}

// fittedAs are the fitted parts that say they are one of those.
func fittedAs(b *ledger.Build, roles ...string) []*ledger.Part {
	var out []*ledger.Part
	for p := range b.Fitted() {
		if p.Role.Is(roles...).Holds() {
			out = append(out, p)
		}
	}
	return out
}

// atIdle is what a gauge at the booster read.
func atIdle(b *ledger.Build, reading func(ledger.Readings) q.Quantity) q.Quantity {
	var read []q.Quantity
	for _, t := range vehicle.Latest(b, "assist") {
		read = append(read, reading(t.Readings))
	}
	if len(read) == 0 {
		return q.Waits(q.Pressure, "a test.x of kind assist", b.Vehicle().Place())
	}
	return q.FirstOf(read...)
}

// manifold tells that what feeds it is an engine that makes no vacuum.
func manifold(b *ledger.Build, from ledger.Ref) q.Truth {
	e := b.Engine()
	return from.Same(e.Part.Word).And(e.Fuel.Is("diesel")).And(e.Throttled.Not())
}
