package lint

import (
	"fmt"
	"slices"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
)

var packsRule = &Rule{
	Name: "ledger/packs", Title: "no pack is left out of a finished build", Due: ledger.AtDelivery, Sources: format,
	Note:    "A build or a shop may name the packs that it runs while the work goes on. At delivery all of them run, or a waiver says pack by pack why not.",
	Caution: "What is not judged is not safe.",
}

// leftOut are the checks of the packs that a build or its shop leaves out, one
// a pack: work to be done until the build is finished. Unlike the other checks
// of the ledger itself each may be waived. A build that names no packs runs
// all, and has none of these checks.
func leftOut(b *ledger.Build, all, chosen []*Pack) []*Result {
	results, _ := evaluateBy(packsRule, b, func(b *ledger.Build, s *Sheet) {
		for _, p := range all {
			if !slices.Contains(chosen, p) {
				s.On(b.Info(), p.Name).At(placeOfPacks(b)).Work().
					Holds(quantity.Is(false), "the pack %s is left out: %s", p.Name, p.Title)
			}
		}
	})
	return results
}

// placeOfPacks is where packs are named; nowhere for an empty list, which has
// no places.
func placeOfPacks(b *ledger.Build) quantity.Place {
	if len(b.Packs) == 0 {
		return quantity.Place{}
	}
	return b.Packs[0].Source().Place
}

// shopPacks notes a shop's file that chooses the packs of a build, so that
// nobody takes silence for a pass.
func shopPacks(b *ledger.Build, all, chosen []*Pack) []ledger.Fault {
	shop := b.Shop().Entry()
	if shop == nil || b.Packs == nil || b.Info().Packs != nil || len(chosen) == len(all) {
		return nil
	}
	return []ledger.Fault{{Place: shop.Place, Message: fmt.Sprintf("the shop has %d of %d packs run", len(chosen), len(all))}}
}

// shopFile is the shop's file that has a say in a build, by an entry or a limit
// that it gives; "" where there is none.
func shopFile(b *ledger.Build) string {
	for _, e := range b.Entries() {
		if e.Shop {
			return e.Place.File
		}
	}
	for _, l := range b.Limits {
		return l.Place.File
	}
	return ""
}
