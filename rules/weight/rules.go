package weight

import (
	"slices"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

// Pack is the pack weight.
var Pack = &lint.Pack{
	Name:  "weight",
	Title: "Axle loads, tires, ride height and rollover",
	Rules: []*lint.Rule{
		frontAxle, rearAxle, gross, payload, roofLoad,
		tiresCoverRating, tireLoad, wheelLoad, tireReserve,
		tirePressure, tireSpeed, seated, trailer,
		countedOnce, onTheScale, replaced, scaleAgrees, rideHeight, frontShare, rollover, cgHeight, places, tireSize,
	},
}

const (
	overloaded = "An overloaded axle, wheel or tire can fail without warning, and lengthens stopping. " +
		"The ratings are the maker's; what your law says of loading, and a weigh station's scale, have the last word."
	rated = "Loaded is curb and every [load.x] in the ledger, the driver too: who or what is not written does not count, and with no load at all it waits for one. " +
		"The rating is the certified one, off the label: a shop cannot raise it, and stiffer springs or bigger tires do not."
)

var frontAxle = &lint.Rule{
	Name: "weight/front-axle", Title: "the loaded front axle carries no more than its certified rating",
	Due: ledger.AtPlan, Sources: slices.Concat([]q.Citation{data.Source("cfr-567-4"), data.Source("nhtsa-rerate"), data.Source("moments")}, vehicle.FluidSources),
	Note: rated, Caution: overloaded,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		s.On(b.Front(), "").AtMost(vehicle.WeightsOf(b).Front.Loaded, b.Front().Rating)
	},
}

var rearAxle = &lint.Rule{
	Name: "weight/rear-axle", Title: "the loaded rear axle carries no more than its certified rating",
	Due: ledger.AtPlan, Sources: slices.Concat([]q.Citation{data.Source("cfr-567-4"), data.Source("nhtsa-rerate"), data.Source("moments")}, vehicle.FluidSources),
	Note: rated, Caution: overloaded,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		s.On(b.Rear(), "").AtMost(vehicle.WeightsOf(b).Rear.Loaded, b.Rear().Rating)
	},
}

var gross = &lint.Rule{
	Name: "weight/gross", Title: "the loaded vehicle weighs no more than its certified gross rating",
	Due: ledger.AtPlan, Sources: slices.Concat([]q.Citation{data.Source("cfr-567-4"), data.Source("nhtsa-rerate"), data.Source("rating-sum")}, vehicle.FluidSources),
	Note: rated, Caution: overloaded,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		s.On(b.Vehicle(), "").AtMost(vehicle.WeightsOf(b).Total.Loaded, b.Vehicle().GrossRating)
		all := q.Is(b.IsPhantom()).Or(b.Vehicle().GrossRating.Given().And(b.Front().Rating.Given()).And(b.Rear().Rating.Given()))
		s.On(b.Vehicle(), "against the axles").When(all, "not every rating is in the ledger").
			AtMost(b.Vehicle().GrossRating, b.Front().Rating.Add(b.Rear().Rating).As("the axles' ratings together", "front + rear"))
	},
}

var payload = &lint.Rule{
	Name: "weight/payload", Title: "what the gross rating leaves above the curb weight carries a person in every seat",
	Due: ledger.AtPlan, Sources: []q.Citation{data.Source("cfr-571-110-seats"), data.Source("cfr-567-4")},
	Note: "Cargo comes on top: the gross rating is to cover it too.", Caution: overloaded,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		v := b.Vehicle()
		left := v.GrossRating.Sub(vehicle.WeightsOf(b).Total.Curb).As("payload", "gross rating - total curb")
		seats := SeatAllowance(data.Value("seat"), v.Seats).As("a person in every seat", "p n")
		s.On(v, "").AtLeast(left, seats)
		belts := float64(len(b.SeatBelts()))
		s.On(v, "seats and belts").When(q.Is(belts > 0), "no seat belt in the ledger").Says("more seat belts are in the ledger than seats").AtLeast(v.Seats, q.Number(belts))
	},
}

var roofLoad = &lint.Rule{
	Name: "weight/roof-load", Title: "what rides on the roof, racks included, is within the roof's rating",
	Due: ledger.AtPlan, Sources: []q.Citation{data.Source("practice")},
	Note:    "Every part and load that says mounted-on = \"roof\", against the vehicle's roof-rating. That the maker's figure holds is common practice. What it does to rolling over is weight/rollover's.",
	Caution: "A roof that gives way drops its load on the road. Go by the vehicle maker's figure, not the rack's; your local code may limit what sticks out or up.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		on := onRoof(b)
		s.On(b.Vehicle(), "").When(q.Is(len(on) > 0), "nothing rides on the roof").
			AtMost(q.Sum(q.Mass, on...).As("roof load", "sum of m"), b.Vehicle().RoofRating)
	},
}

// onRoof is the masses of what says that it is on the roof.
func onRoof(b *ledger.Build) []q.Quantity {
	var out []q.Quantity
	add := func(on q.Truth, count, mass q.Quantity) {
		if !on.Fails() {
			m := vehicle.Several(count, mass)
			out = append(out, q.Choose(on, m, m))
		}
	}
	for _, p := range b.Parts() {
		add(p.MountedOn.Is("roof").And(vehicle.Aboard(p)).And(p.CountedIn.Given().Not()), p.Count, p.Mass)
	}
	for _, l := range b.Loads() {
		add(l.MountedOn.Is("roof"), l.Count, l.Mass)
	}
	return out
}
