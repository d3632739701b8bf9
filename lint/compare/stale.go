package compare

import (
	"cmp"
	"slices"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

// Again is a reading to be taken again: it was read before an edit moved one of
// its ends.
type Again struct {
	Entry    string
	Place    quantity.Place
	Moved    []MovedEnd
	Swapped  []string // the parts that it was read off, and that others stand for now
	Back     []string // the ends that went on since
	Gone     bool     // the ledger has it no more, though it has both ends
	Unlikely bool     // it says to have been taken again, and the same to the digit
}

// MovedEnd is an end of a reading, and how far it came since.
type MovedEnd struct {
	Entry string
	By    ledger.Point
}

// beforeEdit says why a check that rests on such a reading is worse.
const beforeEdit = "read before this edit"

// carried is the newer ledger with what was read before its edits carried over by
// them, as far as it does not know that itself: only the weighing, or the readings too.
func carried(old, now *ledger.Build, readings bool) *ledger.Build {
	moves := ledger.Carried{}
	if w, ok := weighed(old, now); ok {
		moves[w.weighing.Path()] = w.moves
	}
	if readings {
		for _, o := range now.Outlived(old) {
			if o.Stale {
				moves[o.Path] = o.Since
			}
		}
	}
	return now.Carrying(moves)
}

// again lists the readings to be taken again.
func again(outlived []ledger.Outlived) []*Again {
	var out []*Again
	for _, o := range outlived {
		if !o.Stale {
			continue
		}
		a := &Again{Entry: o.Path, Place: o.Entry.Place, Swapped: o.Swapped, Back: o.Back, Gone: o.Gone, Unlikely: o.Unlikely}
		for i, by := range o.By {
			if o.Ends[i].Names("part").Holds() && (far(by.X) || far(by.Y) || far(by.Z)) {
				a.Moved = append(a.Moved, MovedEnd{o.Ends[i].String(), by})
			}
		}
		out = append(out, a)
	}
	slices.SortFunc(out, func(a, b *Again) int { return cmp.Compare(a.Entry, b.Entry) })
	return out
}

// rest marks what rests on a reading that has to be taken again: it is worse until
// that was done, at any stage and whatever it comes to.
func (c *Comparison) rest(plain *lint.Report) {
	asWritten := map[string]*lint.Result{}
	for _, r := range plain.Results {
		asWritten[r.Key()] = r
	}
	for _, x := range c.Changes {
		if r := x.After; x.Before != nil && applies(r) && !same(asWritten[r.Key()], r) {
			x.Kind, x.Why = Worse, beforeEdit
			x.Counts = !r.Should && r.Verdict != lint.Waived
		}
	}
}

// same tells whether two results of a check are alike in verdict and numbers.
func same(a, b *lint.Result) bool {
	return a != nil && a.Verdict == b.Verdict && !drifted(a, b)
}
