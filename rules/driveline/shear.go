package driveline

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

var shaftTorque = &lint.Rule{
	Name:    "driveline/shaft-torque",
	Title:   "a shaft's tube, and its joints where they have a rating, bear the torque that reaches them",
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{data.Source("torsion"), data.Source("practice"), data.Source("torque-of-a-shaft"), vehicle.TractionSource},
	Backs:   []string{"torsion", "practice"},
	Note: "The torque in low gear, an automatic at its converter's stall, or what makes the tires that it turns spin on a dry road where that is less; low gear alone in high range, as with a wheel that holds where no road does, is a should (in low range the tires of any road vehicle spin first). " +
		"Shear in the tube is held to 0.577 of the yield strength, 35 ksi where the ledger does not say its own (common practice); more than 120 ksi waits for a document, and so do a tube over 6 in and a wall over 0.15 of it (common practice). Welds, splines and yokes are left out, and so is what repeats a million times.",
	Caution: thrown,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, l := range shafts(b) {
			gears, tires := torquesOf(b, l.Shaft)
			alone := vehicle.Through(vehicle.LowGearTorque(b), q.Choose(b.Part(l.To).Role.Is("transfer-case"), one, vehicle.HighRange(b))).As("torque in low gear, high range", "torque in low gear * high range")
			least := q.Min(gears, tires).As("torque that reaches the shaft", "min(by the gears, by the tires)")
			for _, c := range []struct {
				when   string
				torque q.Quantity
				advice bool
			}{{"tube", least, false}, {"tube, low gear alone", alone, true}} {
				check := s.On(l, c.when).When(l.fitted(b), off)
				if c.advice {
					check.Recommended()
				}
				check.AtMost(l.shear(c.torque), ShearYield(q.FirstOf(l.Yield, data.Value("tube-yield"))).As("shear that the tube bears", "yield / sqrt(3)"))
			}
			s.On(l, "yield").When(l.fitted(b), off).When(l.Yield.Given().Or(q.Is(b.IsPhantom())), "35 ksi is taken").Work().
				Holds(vehicle.PlausibleAtMost(b, l.Yield, data.Value("tube-yield-most")), "")
			phantom := q.Is(b.IsPhantom())
			s.On(l, "its tube").When(l.fitted(b), off).When(l.Tube.Given().Or(phantom), "not in the ledger yet").Work().
				Holds(vehicle.PlausibleAtMost(b, l.Tube, data.Value("tube-most")), "")
			s.On(l, "its wall").When(l.fitted(b), off).When(l.Wall.Given().And(l.Tube.Given()).Or(phantom), "not in the ledger yet").Work().
				Holds(vehicle.PlausibleAtMost(b, l.Wall, data.Value("wall-most").Mul(l.Tube)), "")
			s.On(l, "joints").When(l.fitted(b), off).When(l.JointRating.Given().Or(q.Is(b.IsPhantom())), "no joint rating in the ledger").AtMost(least, l.JointRating)
		}
	},
}

// shear is what a torque makes of shear in a shaft's tube.
func (s *shaft) shear(torque q.Quantity) q.Quantity {
	return TubeShear(torque, s.Tube, s.Wall).As("shear in the tube", "16 T D / (pi (D^4 - (D - 2 w)^4))")
}

// torquesOf is what the gears put to a shaft at most, and what its axles' tires
// hold. One to a transfer case turns both axles by the low range.
func torquesOf(b *ledger.Build, s *ledger.Shaft) (gears, tires q.Quantity) {
	const byGears, byTires = "torque of the gears at the shaft", "torque at the shaft at which the tires spin"
	low, range_ := vehicle.LowGearTorque(b), vehicle.LowRange(b)
	hold := func(a *ledger.Axle) q.Quantity { return vehicle.AxleSlipTorque(b, a).Div(a.FinalDrive) }
	one := func(a *ledger.Axle) q.Quantity {
		return hold(a).As(byTires, "axle torque at which the tires spin / final drive")
	}
	both := hold(b.Front()).Add(hold(b.Rear())).Div(range_).As(byTires, "(M_f / i_f + M_r / i_r) / low range")
	role := b.Part(s.To).Role
	ahead, front := role.Is("transfer-case"), role.Is("front-axle")
	gears = q.Choose(ahead, low.As(byGears, "T * low gear"), vehicle.Through(low, range_).As(byGears, "torque in low gear * low range"))
	return gears, q.Choose(ahead, both, q.Choose(front, one(b.Front()), one(b.Rear())))
}
