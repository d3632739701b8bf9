package lint

import (
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
)

// Room is how far the numbers that a check lacks may go for it to pass; false
// where it lacks something else, or where that cannot be said by one bound. Nor
// is there any of where a thing is, which nobody chooses for a check's sake, and
// none beyond what its key takes or a vehicle has.
func (r *Result) Room() (quantity.Room, bool) {
	if r.Verdict != Missing || !r.Numeric() || !slices.Equal(r.Needs, r.Margin.Needs()) {
		return quantity.Room{}, false
	}
	room, ok := quantity.RoomOf(r.Margin)
	return room, ok && !slices.ContainsFunc(room.Leaves, func(l quantity.Quantity) bool { return beside(room, l) })
}

// mostLength is how long, in meters, anything in a vehicle may be that a shop
// reads: a road train has no more (common practice, no source).
const mostLength = 20

// beside tells that a bound says nothing of a value: it is a position, or all
// that its key takes lies on one side.
func beside(room quantity.Room, leaf quantity.Quantity) bool {
	entry := leaf.Source().Entry
	k := ledger.KindOf(entry)
	if k == nil {
		return false
	}
	f := k.At(strings.TrimPrefix(leaf.Source().Path(), entry+"."))
	switch {
	case f == nil:
		return false
	case f.Position:
		return true
	case f.High > 0:
		return room.Each <= f.Low || room.Each >= f.High
	}
	return f.Dim == quantity.Length && room.Each > mostLength
}
