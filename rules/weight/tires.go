package weight

import (
	"strings"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

var tiresCoverRating = &lint.Rule{
	Name: "weight/tires-cover-rating", Title: "an axle's tires are rated for at least the axle's certified rating",
	Due: ledger.AtPlan, Sources: []q.Citation{data.Source("cfr-571-120"), data.Source("cfr-571-110"), data.Source("iso-4000-1"), data.Source("practice")},
	Note:    "Passenger-car tires count for their rating divided by 1.10. A rating on the sidewall goes before the load index, and is no more than 3 % above that (common practice): one of the two was misread. Four tires where two would cover the axle's rating wait for a document that proves it, such as a photo (common practice): no maker fits pairs without need.",
	Caution: "A tire loaded past its rating overheats and can burst. Inflate it as its rating asks, and go by the tire maker's table. Local code and a licensed tire shop have the last word.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, a := range b.Axles() {
			t := b.Tire(a.Tire)
			sum := Tire(rating(a, t), divisor(t)).Mul(a.Tires).As("the axle's tires", "n P / k")
			s.On(a, "").AtLeast(sum, a.Rating)
			two := Tire(q.FirstOf(t.LoadRating, byIndex(t)), divisor(t)).Times(2)
			s.On(a, "in pairs").When(a.Tires.Equals(4).Or(q.Is(b.IsPhantom())), "two tires on the axle").When(two.Given().And(a.Rating.Given()).Or(q.Is(b.IsPhantom())), "its rating, or the tire's, is not in the ledger").
				Holds(paired(b, a, two), "")
			both := t.LoadRating.Given().And(t.LoadIndex.Given()).Or(q.Is(b.IsPhantom()))
			s.On(a, "rating and index").When(both, "not both in the ledger").
				AtMost(t.LoadRating, byIndex(t).Mul(data.Value("over-index")).As("load of its index, and a little", "1.03 P_i"))
		}
	},
}

var tireLoad = &lint.Rule{
	Name: "weight/tire-load", Title: "no tire of a loaded axle carries more than its load rating",
	Due: ledger.AtPlan, Sources: []q.Citation{data.Source("cfr-571-110"), data.Source("iso-4000-1")},
	Note:    "The two sides are taken to be loaded alike. Where only a load index gives the rating this is a should, for the table was read second-hand. The rule's paragraph is from memory, and a must all the same, for people die of burst tires.",
	Caution: "A tire loaded past its rating overheats and can burst. Inflate it as its rating asks, and go by the tire maker's table. Local code and a licensed tire shop have the last word.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, a := range b.Axles() {
			t := b.Tire(a.Tire)
			check := s.On(a, "")
			if marked(a, t).Given().Not().And(t.LoadIndex.Given()).Holds() {
				check.Recommended()
			}
			check.AtMost(onTire(b, a), rating(a, t))
		}
	},
}

var wheelLoad = &lint.Rule{
	Name: "weight/wheel-load", Title: "no wheel of a loaded axle carries more than its load rating",
	Due: ledger.AtPlan, Sources: []q.Citation{data.Source("practice")},
	Note:    "The two sides are taken to be loaded alike; the rating is the wheel maker's, cast or stamped on the wheel: that it is the limit is common practice. One over twice the tire's waits for a document (common practice).",
	Caution: "A cracked wheel lets go of its tire. Where a wheel shows no rating, ask its maker; a licensed tire shop has the last word.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, a := range b.Axles() {
			w := b.Wheel(a.Wheel)
			s.On(a, "").AtMost(onTire(b, a), w.LoadRating)
			most := data.Value("wheel-over-tire").Mul(rating(a, b.Tire(a.Tire)))
			s.On(a, "rating").When(w.LoadRating.Given().And(most.Given()).Or(q.Is(b.IsPhantom())), "not both wheel's and tire's rating are in the ledger").Work().
				Holds(vehicle.PlausibleAtMost(b, w.LoadRating, most), "")
		}
	},
}

var tireReserve = &lint.Rule{
	Name: "weight/tire-reserve", Title: "every tire of a loaded axle keeps 6 % of its load rating in reserve",
	Should: true, Due: ledger.AtPlan, Sources: []q.Citation{data.Source("cfr-571-110-reserve"), data.Source("iso-4000-1")},
	Note:    "A benchmark above 10,000 lb of gross rating, where 49 CFR 571.120 does not ask it. The rule's own load is lighter: three people, no cargo.",
	Caution: "The reserve is for potholes, a soft tire and a load that shifts. It is not there to be used. Local code and a licensed tire shop have the last word.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, a := range b.Axles() {
			t := b.Tire(a.Tire)
			limit := Tire(rating(a, t), divisor(t)).Mul(data.Value("reserve")).As("tire rating less its reserve", "0.94 P / k")
			s.On(a, "").AtMost(onTire(b, a), limit)
		}
	},
}

// onTire is the load on one tire, or on one wheel, of a loaded axle.
func onTire(b *ledger.Build, a *ledger.Axle) q.Quantity {
	return EachTire(vehicle.WeightsOf(b).Of(a).Loaded, a.Tires).As("load on each tire", "W / n")
}

// rating is a tire's maximum load as the axle wears it; in pairs no index of
// the ledger's gives it.
func rating(a *ledger.Axle, t *ledger.Tire) q.Quantity {
	single := q.FirstOf(t.LoadRating, byIndex(t))
	return q.Choose(a.Tires.Equals(4), t.LoadDual, single)
}

// byIndex is the load that a tire's index stands for.
func byIndex(t *ledger.Tire) q.Quantity {
	return loads.At(t.LoadIndex).As("load of its index", "by the table")
}

// marked is the same where it stands on the tire as a load.
func marked(a *ledger.Axle, t *ledger.Tire) q.Quantity {
	return q.Choose(a.Tires.Equals(4), t.LoadDual, t.LoadRating)
}

// divisor is what a tire's rating is divided by on a truck.
func divisor(t *ledger.Tire) q.Quantity {
	return q.Choose(passenger(t), data.Value("passenger-divisor"), q.Number(1))
}

// passenger tells a passenger-car tire by its service or, where the ledger does
// not say that, by the letters before or behind its size.
func passenger(t *ledger.Tire) q.Truth {
	service := t.Service.Is("passenger")
	text := strings.ToUpper(strings.TrimSpace(t.Size.String()))
	switch {
	case strings.HasPrefix(text, "LT"), strings.HasSuffix(text, "LT"):
		return service.OrElse(false)
	case strings.HasPrefix(text, "P"):
		return service.OrElse(true)
	}
	return service
}

// paired holds where the axle's rating asks for more than two tires, or a document proves
// that it wears four.
func paired(b *ledger.Build, a *ledger.Axle, two q.Quantity) q.Truth {
	if !two.Known() || !a.Rating.Known() {
		return q.Unknown(append(two.Needs(), a.Rating.Needs()...))
	}
	return vehicle.Documented(b, a.Rating.Value() > two.Value(), a.Path()+".tires", "two such tires would cover its rating", a.Place())
}
