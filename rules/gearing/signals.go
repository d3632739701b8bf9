package gearing

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

var roadSpeedSignal = &lint.Rule{
	Name:    "gearing/road-speed-signal",
	Title:   "the speedometer reads true within 10 %, better 2 %, on the tires and the axle as they are now",
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{data.Source("cfr-393-82"), data.Source("practice"), vehicle.RollingSource},
	Backs:   []string{"cfr-393-82", "practice"},
	Note: "The pulses a mile that it gets against those that it expects. 5 mph at 50 mph is what the federal rule allows a commercial vehicle, a benchmark for others; 2 % is common practice. Counted over a measured mile where the ledger has that; else the sender's pulses by the turns of its tire a mile, and of the axle where it turns with the shaft; else, for the vehicle's own sender, what it gave by what tires and axle changed. " +
		"20168/D turns a mile are those of a rigid circle and 3 % too few: a radial rolls on 3.05 D, not on 3.14 D. Revolutions a mile from the tire's maker settle it. A count from before the tires, an axle or the sender changed does not; and a count and what the sender gives should agree.",
	Caution: "A speedometer that reads low lets you speed, and a transmission that is told the wrong speed shifts at the wrong time. Check it against a measured mile; your local code may say how far it may be off.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		m := b.Speedometer()
		const none = "no [speedometer] in the ledger"
		s.On(m, "10 %").When(m.Given(), none).Same(roadPulses(b), m.Expects, data.Value("speedometer-error"))
		s.On(m, "2 %").Recommended().When(m.Given(), none).Same(roadPulses(b), m.Expects, agreement)
		const uncounted = "no count over a measured mile"
		counted := m.Measured.Given().Or(q.Is(b.IsPhantom()))
		now, told := vehicle.Untouched(b, m.Read, vehicle.Rolls)
		s.On(m, "counted as it is now").When(m.Given(), none).When(counted, uncounted).Reading().Holds(now, "%s", told)
		s.On(m, "counted and reckoned").Recommended().When(m.Given(), none).When(counted, uncounted).
			When(m.Pulses.Given(), "nothing says how many pulses the sender gives").Same(m.Measured, reckonedPulses(b), data.Value("count-agreement"))
	},
}

// roadPulses is what reaches the speedometer, pulses a mile.
func roadPulses(b *ledger.Build) q.Quantity {
	m, a := b.Speedometer(), vehicle.MainAxle(b)
	turns := vehicle.TireTurns(b, b.Tire(a.Tire))
	ratio := func(axle q.Quantity) q.Quantity { return q.Choose(m.TurnsWith.Is("wheel"), one, axle) }
	turnsWas := q.Choose(a.TireWas.Given(), vehicle.TireTurns(b, b.Tire(a.TireWas)), turns)
	ratioWas := q.Choose(a.FinalDriveWas.Given(), a.FinalDriveWas, a.FinalDrive)
	kept := Rescaled(m.Expects, turns, ratio(a.FinalDrive), turnsWas, ratio(ratioWas)).As("pulses a mile of the vehicle's own sender", "what was right * (turns a mile * ratio) / (turns a mile then * ratio then)")
	own := b.Part(m.Sender).Origin.Is("original").OrElse(false)
	return q.FirstOf(m.Measured, q.Choose(own.And(m.Pulses.Given().Not()), kept, reckonedPulses(b)))
}

// reckonedPulses is what the sender gives by its pulses, the tire and the axle.
func reckonedPulses(b *ledger.Build) q.Quantity {
	m, a := b.Speedometer(), vehicle.MainAxle(b)
	ratio := q.Choose(m.TurnsWith.Is("wheel"), one, a.FinalDrive)
	return RoadPulses(m.Pulses, vehicle.TireTurns(b, b.Tire(a.Tire)), ratio, m.DividedBy).As("pulses a mile", "P * turns a mile * ratio / divided by")
}

var tachSignal = &lint.Rule{
	Name:    "gearing/tach-signal",
	Title:   "the tachometer gets the pulses a revolution that it expects, within 10 %, better 2 %",
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{data.Source("practice"), data.Source("cfr-393-82"), data.Source("w-terminal")},
	Backs:   []string{"practice", "cfr-393-82"},
	Note: "A diesel has no ignition to count: an alternator's W terminal gives pulley ratio * pole pairs a turn of the crankshaft, so pulleys and poles decide, and a belt that slips shows. " +
		"Pole pairs, not poles; 12, 14 and 16 poles are all about (from memory): count or ask. The signal is lost when the field is. No rule says how far it may be off: the 10 % is what a federal one allows a speedometer, past which poles, pulleys or sender are wrong ones; 2 % is common practice, and a should.",
	Caution: "A tachometer that reads low lets the engine be turned to pieces. Try it against a second one, with hands and sleeves clear of belts and fan.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		m := b.Tachometer()
		const none = "no [tachometer] in the ledger"
		phase := PhasePulses(m.PulleyRatio, m.PolePairs, perTurn, m.DividedBy).As("pulses a crankshaft revolution", "1 pulse/rev * pulley ratio * pole pairs / divided by")
		given := m.Pulses.Div(m.DividedBy).As("pulses a crankshaft revolution", "pulses / divided by")
		turned := q.Choose(m.Pulses.Given(), given, phase)
		s.On(m, "10 %").When(m.Given(), none).Same(turned, m.Expects, data.Value("speedometer-error"))
		s.On(m, "2 %").Recommended().When(m.Given(), none).Same(turned, m.Expects, agreement)
		both := m.Pulses.Given().And(m.PolePairs.Given()).And(m.PulleyRatio.Given())
		s.On(m, "given and reckoned").When(m.Given(), none).When(both.Or(q.Is(b.IsPhantom())), "only one of pulses, and poles and pulleys, is stated").
			Says("pulses, and poles and pulleys, tell of two senders: leave one out").Same(m.Pulses, phase.Mul(m.DividedBy), agreement)
	},
}
