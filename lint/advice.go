package lint

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"fishplate/ledger/quantity"
)

// Wanted is one value that would settle checks if it were measured, or written
// down at all.
type Wanted struct {
	Key    string
	Place  quantity.Place
	Checks []*Result // those that it would settle, or bring nearer
	Alone  int       // how many of them it would settle by itself
	// Of a check that its own tolerance leaves open: the value as it is, and
	// the half width in SI that would settle all of them; 0 where better
	// knowledge of this value alone settles none.
	Leaf quantity.Quantity
	Half float64
	// TooFine tells that to settle a check by this value alone it would have to be
	// known better than a plain gauge reads. With are the values that settle it
	// together with this one, each as such a gauge reads; empty where none do.
	TooFine bool
	With    []*quantity.Source

	worth float64
}

// Next lists what is most worth measuring or writing down, the most worth
// first: the values that missing checks wait for, and of each check that is
// left open the value that contributes most to its doubt.
func Next(rs []*Result) []*Wanted {
	by := map[string]*Wanted{}
	for _, r := range rs {
		switch {
		case r.Verdict == Missing && len(r.Needs) == 1 && r.Needs[0].Key == r.Reason: // work, no value
		case r.Verdict == Missing:
			for _, n := range r.Needs {
				w := wanted(by, n.Key, n.Place)
				w.add(r, 1/float64(len(r.Needs)))
				w.Alone += oneIf(len(r.Needs) == 1)
			}
		case r.Verdict == Unproven:
			margin := r.Analysis(r.Margin)
			doubts := margin.Doubts()
			if len(doubts) == 0 {
				continue
			}
			d := largest(doubts)
			w := wanted(by, d.Source.Path(), d.Source.Place)
			half := Settling(margin, d)
			w.Leaf = d.Leaf
			if half > 0 && half < Finest(d.Leaf)*(1-1e-6) {
				w.TooFine, half = true, 0
			}
			if w.Half == 0 && half == 0 && w.With == nil {
				for _, o := range Together(margin) {
					if o.Source != d.Source {
						w.With = append(w.With, o.Source)
					}
				}
			}
			if half > 0 {
				w.Alone++
				if w.Half == 0 || half < w.Half {
					w.Half = half
				}
			}
			w.add(r, 1)
		}
	}
	out := make([]*Wanted, 0, len(by))
	for _, w := range by {
		out = append(out, w)
	}
	slices.SortFunc(out, func(a, b *Wanted) int { return cmp.Or(cmp.Compare(b.worth, a.worth), strings.Compare(a.Key, b.Key)) })
	return out
}

func wanted(by map[string]*Wanted, key string, place quantity.Place) *Wanted {
	if by[key] == nil {
		by[key] = &Wanted{Key: key, Place: place}
	}
	return by[key]
}

// add counts a check: what makes the run fail weighs most, and a check that
// waits for many values is only a share nearer to its verdict by each.
func (w *Wanted) add(r *Result, share float64) {
	weight := 2.0
	switch {
	case r.Counts:
		weight = 4
	case r.Should:
		weight = 1
	}
	w.Checks = append(w.Checks, r)
	w.worth += weight * share
}

func oneIf(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Settling is the half width in SI at which a leaf would no longer leave the
// margin open, its value and all else as they are; 0 where none would do.
func Settling(margin *quantity.Analysis, d quantity.Doubt) float64 {
	low, high := d.Leaf.Bounds()
	half := (high - low) / 2
	if !(d.Doubt > 0) || !(half > 0) || math.IsInf(d.Doubt, 0) {
		return 0
	}
	low, high = margin.Bounds()
	cut := -low
	if margin.Of().Value() < 0 {
		cut = high
	}
	// A hair less, so that the verdict does not hang on rounding.
	return max(0, half-cut/(d.Doubt/half)*(1+1e-9))
}
