package lint

import (
	"fishplate/ledger"
	"fishplate/ledger/quantity"
)

// inherit lets no check pass on a figure of another vehicle: in a build that was
// begun from another, an estimate of what is of one vehicle alone was read on
// that other one. The check waits until it is read on this one, and so does one of
// whether something was read at all, or is likely.
func (r *Result) inherit(b *ledger.Build) {
	if r.Verdict != Pass || !b.Info().From.Known() {
		return
	}
	var needs []quantity.Need
	for _, n := range b.ReadOnAnother(r.Entry) {
		if r.reading || n.Key == r.Entry+"."+r.Aspect {
			needs = append(needs, n)
		}
	}
	for _, v := range []quantity.Quantity{r.Value, r.Limit, r.Upper} {
		for _, leaf := range v.Leaves() {
			if b.OfAnother(leaf) {
				needs = append(needs, quantity.Need{Key: leaf.Source().Path(), Place: leaf.Source().Place})
			}
		}
	}
	if len(needs) > 0 {
		r.Verdict, r.Needs = Missing, quantity.SortNeeds(needs)
		r.Reason = "the figure was read on the vehicle that this build was begun from"
	}
}
