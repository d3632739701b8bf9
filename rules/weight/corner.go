package weight

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

var tirePressure = &lint.Rule{
	Name: "weight/tire-pressure", Title: "at the pressure that is written, no tire of a loaded axle carries more than it can",
	Due: ledger.AtDelivery, Sources: []q.Citation{data.Source("load-by-pressure"), data.Source("cfr-571-110"), data.Source("iso-4000-1"), data.Source("practice")},
	Note: "The maker's table settles it (load-at-pressure), and waits for a document where it allows more than the kindest formula. The pressure is no more than the sidewall's; a rating for less than 32 psi waits for a document (common practice). Without one the rating is taken to fall with the pressure to a power of 0.5 to 1, from memory, from the pressure that it is for (max-pressure, off the sidewall); a must all the same, for people die of burst tires. " +
		"The heavier side is a should: the sides bear half each, 5 % more or less by common practice unless the sides were weighed, and what sits off the center line shifts the load.",
	Caution: "A soft tire runs hot and bursts. Set the pressure cold, for the load, and never above what wheel and sidewall allow; a licensed tire shop and the tire maker's table have the last word.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, a := range b.Axles() {
			t := b.Tire(a.Tire)
			byPressure := AtPressure(rating(a, t), t.Pressure, t.MaxPressure, exponent).As("tire's load at its pressure", "P (p/p_max)^n")
			capacity := q.FirstOf(t.LoadAtPressure, byPressure)
			phantom := q.Is(b.IsPhantom())
			s.On(a, "no more than the sidewall says").When(named(b, a), noTire).When(t.MaxPressure.Given().And(t.Pressure.Given()).Or(phantom), "pressure, or that of the rating, not in the ledger yet").
				AtMost(vehicle.TradeSize(t.Pressure), t.MaxPressure)
			s.On(a, "pressure of the rating").When(named(b, a), noTire).When(t.MaxPressure.Given().Or(phantom), "not in the ledger yet").Work().
				Holds(vehicle.PlausibleAtLeast(b, t.MaxPressure, data.Value("rated-pressure-least")), "")
			kindest := AtPressure(rating(a, t), t.Pressure, t.MaxPressure, data.Value("kindest-exponent")).As("most that a tire carries at its pressure", "P (p/p_max)^0.4")
			s.On(a, "the maker's table").When(named(b, a), noTire).When(t.LoadAtPressure.Given().Or(phantom), "no figure from a table").Work().
				Holds(vehicle.PlausibleAtMost(b, t.LoadAtPressure, kindest), "")
			s.On(a, "").When(named(b, a), noTire).AtMost(onTire(b, a), capacity)
			onOne := EachTire(vehicle.HeavierSide(b, a), a.Tires.Div(q.Number(2))).As("load on a tire of the heavier side", "W_side / (n/2)")
			s.On(a, "heavier side").Recommended().When(named(b, a), noTire).AtMost(onOne, capacity)
		}
	},
}

var tireSpeed = &lint.Rule{
	Name: "weight/tire-speed", Title: "the tires' speed symbol covers the vehicle's top speed",
	Due: ledger.AtRoadTest, Sources: []q.Citation{data.Source("speed-symbols"), data.Source("speed-symbols-unread")},
	Note:    "At the pressure and load of the rating: the symbol stands behind the load index. The speeds were read second-hand, those of N and U are from memory; they are a must all the same, for people die of tires that come apart.",
	Caution: "A tire run faster than it is made for throws its tread. Local code and a licensed tire shop have the last word.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, a := range b.Axles() {
			most := fastest(b.Tire(a.Tire).SpeedSymbol)
			s.On(a, "").When(named(b, a), noTire).AtMost(b.Vehicle().TopSpeed, most)
		}
	},
}

// fastest is the speed that a tire's symbol allows.
func fastest(symbol q.Word) q.Quantity {
	read, unread := data.Table("speed-symbols"), data.Table("speed-symbols-unread")
	return q.Look(symbol, q.Speed, "a speed", func(s string) (q.Quantity, bool) {
		if v, ok := read.Cell(s, "speed"); ok {
			return v, true
		}
		return unread.Cell(s, "speed")
	}, append(read.Rows(), unread.Rows()...)...)
}

const noTire = "no tire of the axle in the ledger yet: weight/tires-cover-rating asks for it"

// named tells that the ledger says which tire an axle wears; weight/tires-cover-rating
// asks for it where it does not.
func named(b *ledger.Build, a *ledger.Axle) q.Truth {
	return a.Tire.Given().Or(q.Is(b.IsPhantom()))
}

var seated = &lint.Rule{
	Name: "weight/seated", Title: "with 150 lb in every seat neither axle carries more than its certified rating, and should not with the rest of the gross rating as cargo either",
	Due: ledger.AtDelivery, Sources: []q.Citation{data.Source("cfr-571-110-seats"), data.Source("cfr-567-4"), data.Source("moments"), data.Source("practice")},
	Note:    "Whatever [load.x] the ledger has: every seat will be sat in some day. Seats at seats-at, cargo at cargo-at, the middle of bed or load space. That cargo lies at the middle is common practice, and a should.",
	Caution: overloaded,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		v, w := b.Vehicle(), vehicle.WeightsOf(b)
		people := SeatAllowance(data.Value("seat"), v.Seats).As("a person in every seat", "p n")
		cargo := q.Max(v.GrossRating.Sub(w.Total.Curb).Sub(people), q.SI(0, q.Mass)).As("rest of the gross rating", "gross rating - curb - people")
		for _, a := range b.Axles() {
			on, share := moments(b, a)
			sat := w.Of(a).Curb.Add(on(people, b.Now(v.SeatsAt).X, v.Wheelbase)).As("load with every seat taken", "curb + people "+share)
			s.On(a, "seats").AtMost(sat, a.Rating)
			full := sat.Add(on(cargo, b.Now(v.CargoAt).X, v.Wheelbase)).As("load with seats and cargo", "load with every seat taken + cargo "+share)
			s.On(a, "seats and cargo").Recommended().When(q.Is(v.SeatsAt.Known() || b.IsPhantom()), "where people sit is not in the ledger yet").AtMost(full, a.Rating)
		}
	},
}

// moments is how much of a mass an axle bears, by moments, and the share of it
// that the texts of formulas write.
func moments(b *ledger.Build, a *ledger.Axle) (on func(m, x, wheelbase q.Quantity) q.Quantity, share string) {
	if a.Path() == b.Front().Path() {
		return vehicle.OnFront, "(1 - x/L)"
	}
	return vehicle.OnRear, "x/L"
}
