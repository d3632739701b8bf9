package fuel

import (
	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

var wetted = &lint.Rule{
	Name:    "fuel/wetted",
	Title:   "every fitted part that the fuel runs through says what the fuel touches in it, its seals among it",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{data.Source("wording")},
	Note: "A [wetted.x] names the part and a material; fuel/material judges it. A pump, a filter, a sender and a carburetor have seals or a diaphragm: one of their materials is no metal. " +
		"A part off a vehicle that burned each of the fuels carried was made for them, and is not asked; one that is counted in another may have that one's. Common practice, and a must all the same, for people die of fuel that leaks: what nobody wrote down is judged by no rule.",
	Caution: fire,
	Check:   checkWetted,
}

// wettedParts are the roles of what the fuel runs through, and what is asked of
// each.
var wettedParts = data.Table("wetted-parts")

func checkWetted(b *ledger.Build, s *lint.Sheet) {
	walls, seals := map[string]bool{}, map[string]bool{}
	for _, w := range b.Wetted() {
		walls[w.Part.String()] = true
		if vehicle.IsMetal(w.Material).Not().OrElse(true).Holds() {
			seals[w.Part.String()] = true
		}
	}
	found := false
	for p := range b.Fitted() {
		has := wettedParts.Word(p.Role.String(), "has")
		if has == "" && !b.IsPhantom() {
			continue
		}
		found = true
		told := quantity.Is(true)
		switch {
		case b.IsPhantom():
			told = b.Wetted()[0].Part.Required().And(b.Wetted()[0].Material.Required())
		case walls[within(p)] && has != "seals" || seals[within(p)]: // as the part that it is one with
		case has != "seals" && !walls[p.Path()]:
			told = quantity.Unknown([]quantity.Need{{Key: "a wetted.x of " + p.Path() + ": what the fuel touches in it", Place: p.Place()}})
		case has == "seals" && !seals[p.Path()]:
			told = quantity.Unknown([]quantity.Need{{Key: "a wetted.x of " + p.Path() + ": what its seals or its diaphragm are of", Place: p.Place()}})
		}
		s.On(p, "").When(burned(b, p).OrElse(false).Not(), "the vehicle that it comes from burned the same").
			Holds(told, "")
	}
	if !found {
		s.None(b.Fuel(), "no part that fuel runs through")
	}
}

// within is the part that a part is counted in; "" where it is counted by itself.
func within(p *ledger.Part) string { return p.CountedIn.String() }

// burned tells whether the vehicle that a part comes from burned each of the fuels
// that are carried now.
func burned(b *ledger.Build, p *ledger.Part) quantity.Truth {
	own := b.Donor(p.Donor).Fuel
	if p.Origin.Is("original").Holds() {
		own = b.Vehicle().Fuel
	}
	out := p.Origin.Is("original", "donor")
	for _, f := range fuels(b) {
		out = out.And(familyOf(own).Same(familyOf(f)))
	}
	return out
}
