package fuel

import (
	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

var tankPlace = &lint.Rule{
	Name:    "fuel/tank-place",
	Title:   "a fuel tank that the work put in, or moved, stands behind the front axle line",
	Due:     ledger.AtMockUp,
	Sources: []quantity.Citation{data.Source("tank-location")},
	Note: "The rule is for commercial vehicles, and at or below 10,000 lb of gross rating a benchmark; a must all the same, for people die when a tank is what a crash meets first. The state's twin of it was read, the federal text is from memory. " +
		"The place in the ledger is the tank's middle, and the rule is for all of it: that no part of it stands ahead of the axle, or out of the body's sides, is left to the eye. A tank that stands where the maker put it is not asked.",
	Caution: fire,
	Check:   checkTankPlace,
}

func checkTankPlace(b *ledger.Build, s *lint.Sheet) {
	phantom := quantity.Is(b.IsPhantom())
	found := false
	for p := range b.Fitted() {
		if !p.Role.Is("fuel-tank").Holds() && !b.IsPhantom() {
			continue
		}
		found = true
		at := b.Now(p.At)
		asMade := p.Origin.Is("original").And(quantity.Is(!p.WasAt.Known())).OrElse(false)
		placed := quantity.Is(p.At.Known()).Or(phantom)
		const own, nowhere = "it stands where the maker put it", "it has no place in the ledger yet"
		s.On(p, "").When(asMade.Not(), own).When(placed, nowhere).AtLeast(at.X, quantity.SI(0, quantity.Length))
	}
	if !found {
		s.None(b.Fuel(), "no fuel tank")
	}
}
