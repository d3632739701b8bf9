package report

import (
	"math"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint/compare"
)

// againOf words why a reading has to be taken again.
func againOf(a *compare.Again, s quantity.Style) string {
	var say []string
	for _, m := range a.Moved {
		by := moveOf(m.By, s)
		if by == "" {
			by = "by an unknown way"
		}
		say = append(say, Clean(m.Entry)+" moved "+by)
	}
	for _, part := range a.Swapped {
		say = append(say, "it was read off "+Clean(part))
	}
	for _, part := range a.Back {
		say = append(say, Clean(part)+" went on since")
	}
	if a.Gone {
		say = append(say, "and the ledger has no such reading any more")
	}
	if a.Unlikely {
		say = append(say, "and it says that it was read again and came out the same to the digit: the move or the reading is not so")
	}
	return strings.Join(say, "; ")
}

// askOf words what is asked about a weighing.
func askOf(a *compare.Ask) string {
	before := "before or after " + Clean(a.Weighing) + "?"
	if a.Did == "is gone" {
		return "is gone from the ledger, " + before + " Leave its entry in, with " + a.Key
	}
	return a.Did + ", " + before + " Give its " + a.Key
}

// moveOf words how far something moved.
func moveOf(by ledger.Point, s quantity.Style) string {
	var say []string
	for _, a := range []struct {
		by         quantity.Quantity
		plus, less string
	}{{by.X, "back", "ahead"}, {by.Y, "to the right", "to the left"}, {by.Z, "up", "down"}} {
		if !a.by.Known() || math.Abs(a.by.Value()) <= 1e-9 {
			continue
		}
		way := a.plus
		if a.by.Value() < 0 {
			way = a.less
		}
		u := s.Unit(a.by)
		say = append(say, u.Join(u.Number(math.Abs(a.by.Value()), 3))+" "+way)
	}
	return strings.Join(say, ", ")
}
