package gearing

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

var spare = &lint.Rule{
	Name:    "gearing/spare",
	Title:   "where the tires changed, the spare rolls within 3 % of them",
	Should:  true,
	Due:     ledger.AtDelivery,
	Sources: []q.Citation{data.Source("practice"), vehicle.RollingSource, vehicle.TireSource},
	Note:    "Turns a mile as counted, else by size. On a driven axle of a vehicle in four-wheel drive it is to be nearer still: driveline/axles-match has the limit.",
	Caution: "An odd spare heats the differential and pulls to one side under the brakes. Its load rating must do for either axle: read it off the sidewall.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		v, other := b.Vehicle(), q.Is(false)
		for _, a := range b.Axles() {
			other = other.Or(a.TireWas.Given().And(a.TireWas.Same(a.Tire.Word).Not()).OrElse(false))
		}
		a := vehicle.MainAxle(b)
		ratio := q.Choose(v.Spare.Same(a.Tire.Word), one, vehicle.TireTurns(b, b.Tire(v.Spare)).Div(vehicle.TireTurns(b, b.Tire(a.Tire)))).
			As("turns of the spare for one of the tire", "N_spare / N")
		s.On(v, "").When(other.Or(q.Is(b.IsPhantom())), "the tires are as received").
			AtMost(q.Abs(ratio.Sub(one)).As("spare against tire", "|N_spare / N - 1|"), data.Value("spare-apart"))
	},
}
