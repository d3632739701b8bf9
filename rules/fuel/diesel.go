package fuel

import (
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

var (
	noVents      = data.Table("no-vents").Rows()
	shutVents    = data.Table("shut-vents").Rows()
	dieselSpout  = data.Value("diesel-spout-least").Spelling() + " to " + data.Value("diesel-spout-largest").Spelling()
	truckSpout   = data.Value("truck-spout-least").Spelling()
	narrowPasses = data.Value("unleaded-spout-largest").Spelling()

	// blends are the columns of the matrix for diesel and its blends, the milder
	// first: what carries one carries those before it.
	blends = []string{"b5", "b20", "b100"}
)

func checkFiller(b *ledger.Build, s *lint.Sheet) {
	f, diesel := b.Fuel(), burnsDiesel(b)
	s.On(f, "neck").Work().When(diesel, noDiesel).
		Holds(f.Filler.Is("wide"), "the filler neck is narrow: it passes a spout of %s at most, and a diesel one is %s", narrowPasses, dieselSpout)
	s.On(f, "label").Work().When(diesel, noDiesel).
		Holds(f.FillerLabel.Contains("diesel"), "the label at the filler says %q, and not diesel", f.FillerLabel)
	checkFillHose(b, s)
	for _, t := range b.Tanks() {
		family, carried := familyOf(t.Fluid), quantity.Is(false)
		for _, c := range fuels(b) {
			if i := slices.Index(blends, columnOf(c).String()); i >= 0 {
				carried = carried.Or(columnOf(t.Fluid).Is(blends[:i+1]...))
				continue
			}
			carried = carried.Or(familyOf(c).Same(family))
		}
		empty := t.Capacity.Equals(0).OrElse(false)
		s.On(t, "what it holds").When(diesel, noDiesel).When(family.Given().And(empty.Not()).Or(quantity.Is(b.IsPhantom())), "it holds no fuel").
			Holds(carried, "it holds %s, and the fuel carried is another, or a milder blend", t.Fluid)
	}
}

// checkFillHose asks for the hose of a filler that is a part of its own: what
// is in no list is judged by no rule.
func checkFillHose(b *ledger.Build, s *lint.Sheet) {
	ends := map[string]bool{}
	for _, h := range fuelHoses(b) {
		ends[h.From.String()], ends[h.To.String()] = true, true
	}
	for p := range b.Fitted() {
		if !p.Role.Is("filler").Holds() && !b.IsPhantom() {
			continue
		}
		joined := quantity.Unknown([]quantity.Need{{Key: "a hose.x that carries fuel from " + p.Path() + " to the tank, or counted-in where the two are one part", Place: p.Place()}})
		if ends[p.Path()] {
			joined = quantity.Is(true)
		}
		s.On(p, "hose").When(p.CountedIn.Given().Not(), "it is one part with another").Work().Holds(joined, "")
	}
}

func checkLeftOver(b *ledger.Build, s *lint.Sheet) {
	f := b.Fuel()
	const ownFuel = "it was not made for gasoline"
	left := func(what, role string, became quantity.Word) {
		still := stillFitted(b, role)
		gone := became.Is("removed", "none")
		s.On(f, what).Work().When(b.Vehicle().Fuel.Is("gasoline"), ownFuel).When(burnsDiesel(b), noDiesel).
			Holds(became.Required().And(gone.And(quantity.Is(len(still) > 0)).Not()), "said to be gone, and %s is still fitted", strings.Join(still, ", "))
	}
	left("in-tank pump", "in-tank-pump", f.InTankPump)
	left("evaporative canister", "evaporative-canister", f.Canister)
	rated := f.InTankPump.Is("kept").Not().OrElse(true).Or(quantity.Is(vehicle.Proved(b, "fuel.in-tank-pump")))
	s.On(f, "a pump made for gasoline").Work().When(b.Vehicle().Fuel.Is("gasoline"), ownFuel).When(burnsDiesel(b), noDiesel).
		Holds(rated, "the gasoline pump is kept in the tank, and no document proves fuel.in-tank-pump: its maker's word that it is made for diesel and gives no more than the injection pump takes")
}

// stillFitted lists the original parts of a role that the finished vehicle
// carries.
func stillFitted(b *ledger.Build, role string) []string {
	var out []string
	for p := range b.Fitted() {
		if p.Role.Is(role).And(p.Origin.Is("original")).Holds() {
			out = append(out, p.Path())
		}
	}
	return out
}

func checkDieselNeeds(b *ledger.Build, s *lint.Sheet) {
	f, diesel := b.Fuel(), burnsDiesel(b)
	ask := returnsAsked(b)
	none := f.ReturnLine.Is("not needed", "none")
	s.On(f, "return line").Work().When(diesel, noDiesel).
		Holds(f.ReturnLine.Required().And(none.And(quantity.Is(len(ask) > 0)).Not()), "there is said to be no return line, and %s needs one", strings.Join(ask, ", "))
	s.On(f, "what returns").Work().When(diesel, noDiesel).When(f.ReturnLine.Names("hose").OrElse(false).Or(quantity.Is(b.IsPhantom())), "it names no hose").
		Holds(carriesFuel(b.Hose(f.ReturnLine)), "%s does not carry fuel", f.ReturnLine)
	s.On(f, "water separator").Work().When(diesel, noDiesel).
		Holds(b.Part(f.WaterSeparator).Fitted, "the water separator %s is not on the finished vehicle", f.WaterSeparator)
	separates := b.Part(f.WaterSeparator).Role.Is("water-separator", "fuel-filter")
	s.On(f, "what separates water").Work().When(diesel, noDiesel).When(f.WaterSeparator.Given().Or(quantity.Is(b.IsPhantom())), "none is named yet").
		Holds(separates, "%s is neither a water separator nor a fuel filter, by its role", f.WaterSeparator)
	begins, _, _ := strings.Cut(strings.ToLower(strings.TrimSpace(f.Vent.String())), " ")
	s.On(f, "vent").Work().When(diesel, noDiesel).
		Holds(f.Vent.Is(noVents...).Or(quantity.Is(slices.Contains(shutVents, begins)).And(f.Vent.Given())).Not(), "the tank cannot breathe: its vent is %q", f.Vent)
	s.On(f, "how it breathes").Work().When(diesel, noDiesel).When(f.Vent.Given().Or(quantity.Is(b.IsPhantom())), "not in the ledger yet").
		Holds(quantity.Is(vehicle.Describes(b, f.Vent)).And(f.Vent.Required()), "%q does not say how the tank breathes", f.Vent)
}

// returnsAsked lists the fitted parts that need a fuel return.
func returnsAsked(b *ledger.Build) []string {
	var out []string
	for p := range b.Fitted() {
		if _, ok := p.Needs["fuel-return"]; ok {
			out = append(out, p.Path())
		}
	}
	return out
}

// heaviest is the density of the heaviest fuel carried.
func heaviest(b *ledger.Build) quantity.Quantity {
	var each []quantity.Quantity
	for _, f := range fuels(b) {
		each = append(each, quantity.Look(columnOf(f), quantity.Density, "a density", func(c string) (quantity.Quantity, bool) {
			d, ok := densities[c]
			return d, ok
		}))
	}
	return quantity.Max(each[0], each[1:]...).As("density", "of the heaviest fuel carried")
}
