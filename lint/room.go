package lint

import (
	"slices"

	"fishplate/ledger/quantity"
)

// Room is how far the numbers that a check lacks may go for it to pass; false
// where it lacks something else, or where that cannot be said by one bound.
func (r *Result) Room() (quantity.Room, bool) {
	if r.Verdict != Missing || !r.Numeric() || !slices.Equal(r.Needs, r.Margin.Needs()) {
		return quantity.Room{}, false
	}
	return quantity.RoomOf(r.Margin)
}
