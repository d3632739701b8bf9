package driveline

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

var axlesMatch = &lint.Rule{
	Name:    "driveline/axles-match",
	Title:   "front and rear axle turn their shafts alike, within 2 %, better 1 %, where both are driven",
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{data.Source("practice"), vehicle.RollingSource},
	Note: "Turns a mile of the tire times the axle's ratio, front against rear; one tire under both drops out, and turns that were counted go before those of a size. " +
		"No maker's figure was found for a transfer case without a center differential; the nearest wrong ratios are about 5 % apart.",
	Caution: "Axles geared apart wind the driveline up until a tire slips or something breaks, and on dry pavement the vehicle may not steer. Try four-wheel drive on loose ground first.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		f, r := b.Front(), b.Rear()
		turns := vehicle.TireTurns(b, b.Tire(f.Tire)).Div(vehicle.TireTurns(b, b.Tire(r.Tire))).As("turns of the front tire for one of the rear", "N_f / N_r")
		apart := AxlesApart(q.Choose(f.Tire.Same(r.Tire.Word), one, turns), f.FinalDrive, r.FinalDrive).As("front shaft against rear shaft", "|(N_f i_f) / (N_r i_r) - 1|")
		both := bothDriven(b)
		s.On(f, "2 %").When(both, onlyOne).AtMost(apart, data.Value("axles-apart"))
		s.On(f, "1 %").Recommended().When(both, onlyOne).AtMost(apart, data.Value("axles-well-apart"))
	},
}

const onlyOne = "not both axles are driven"

// bothDriven tells whether the ledger has anything that turns a second axle.
func bothDriven(b *ledger.Build) q.Truth {
	both := b.Vehicle().Drive.Is("four-wheel", "all-wheel").OrElse(false).Or(b.Transfer().Given())
	for _, s := range b.Shafts() {
		both = both.Or(b.Part(s.To).Role.Is("front-axle").OrElse(false))
	}
	return both
}

var alignment = &lint.Rule{
	Name:    "driveline/alignment",
	Title:   "where an engine and a transmission meet that no factory paired, the runout between them was read",
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{data.Source("practice"), data.Source("housing-runout"), data.Source("converter-fit")},
	Note: "Dial gauge on the crankshaft, round the bore and across the face of the housing. That it was read is a must; that it is within what the maker allows, 0.010 in where nobody says (common practice; engine makers ask 0.008 to 0.012, one 0.020 with the gauge on the crankshaft), a should. " +
		"A converter's hub should stand 1/8 in in the crankshaft, and be pulled forward 1/8 to 3/16 in. A donor's engine and transmission that stayed together are left alone.",
	Caution: "A housing out of line breaks flex plates and pump gears, and clutches come apart. Shim it as the machine shop or the transmission's maker says.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		t := b.Transmission()
		is := paired(b).Not()
		const asItWas = "engine and transmission come from one vehicle, with nothing made between"
		most := q.FirstOf(t.RunoutLimit, data.Value("runout"))
		s.On(t, "read").When(is, asItWas).Reading().Holds(read(t.BoreRunout).And(read(t.FaceRunout)), "")
		s.On(t, "bore").Recommended().When(is, asItWas).AtMost(t.BoreRunout, most)
		s.On(t, "face").Recommended().When(is, asItWas).AtMost(t.FaceRunout, most)
		converter := t.Kind.Is("automatic")
		s.On(t, "hub").Recommended().When(is, asItWas).When(converter, "it has no converter").AtLeast(t.HubEngaged, data.Value("hub-engaged"))
		s.On(t, "pull-forward").Recommended().When(is, asItWas).When(converter, "it has no converter").
			Between(t.PullForward, data.Value("pull-forward-least"), data.Value("pull-forward-most"))
	},
}

// read is that a value is in the ledger, and missing until it is.
func read(v q.Quantity) q.Truth {
	if v.Known() {
		return q.Is(true)
	}
	return q.Unknown(v.Needs())
}

// paired tells that engine and transmission were made for each other: both from
// one donor, or both the vehicle's own, with no adapter made or bought.
func paired(b *ledger.Build) q.Truth {
	e, t := b.Part(b.Engine().Part), b.Part(b.Transmission().Part)
	own := e.Origin.Is("original").And(t.Origin.Is("original"))
	oneDonor := e.Origin.Is("donor").And(t.Origin.Is("donor")).And(e.Donor.Same(t.Donor.Word))
	adapted := q.Is(false)
	for p := range b.Fitted() {
		adapted = adapted.Or(p.Role.Is("adapter", "adapter-plate", "bell-housing").And(p.Origin.Is("made", "bought")).OrElse(false))
	}
	noPair := b.Engine().Given().And(b.Transmission().Given()).Not()
	return noPair.Or(adapted.Not().And(own.Or(oneDonor)))
}

var mounts = &lint.Rule{
	Name:    "driveline/mounts",
	Title:   "each engine mount is rated for the reaction to the torque that the transmission puts out",
	Should:  true,
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{data.Source("practice"), data.Source("statics"), vehicle.TractionSource},
	Note: "The limit is the ledger's mount-rating; where it gives none there is nothing to check. Torque out of the transmission (and the transfer case, where it is bolted on) in low, or what makes the driven tires spin where that is less, over the spacing of the mounts. " +
		"The engine's weight, bumps and braking come on top.",
	Caution: "An engine that tears a mount can jam the throttle open, cut lines and hit the fan. A licensed shop judges welded brackets.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		e := b.Engine()
		slip := q.SI(0, q.Torque)
		for _, a := range b.Axles() {
			slip = slip.Add(q.Choose(vehicle.Driven(b, a), vehicle.AxleSlipTorque(b, a).Div(a.FinalDrive), q.SI(0, q.Torque)))
		}
		out := vehicle.Through(vehicle.LowGearTorque(b), vehicle.LowRange(b)).As("torque out of the unit in low", "torque in low gear * low range")
		reaction := q.Min(out, slip).As("torque that the mounts react", "min(by the gears, by the tires)")
		s.On(e, "").When(e.MountRating.Given().Or(q.Is(b.IsPhantom())), "no mount rating in the ledger").
			AtMost(MountReaction(reaction, e.MountSpacing).As("reaction at one mount", "T / span"), e.MountRating)
	},
}
