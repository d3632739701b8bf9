package ledger

import (
	"cmp"
	"fmt"
	"slices"

	q "fishplate/ledger/quantity"
)

// Fault is something wrong in a ledger's files.
type Fault struct {
	Place   q.Place
	Message string
}

func (f Fault) String() string {
	if f.Place.Line == 0 {
		return fmt.Sprintf("%s: %s", f.Place.File, f.Message)
	}
	return fmt.Sprintf("%s:%d:%d: %s", f.Place.File, f.Place.Line, f.Place.Column, f.Message)
}

// SortFaults sorts by file, line and column, and drops repeats.
func SortFaults(faults []Fault) []Fault {
	slices.SortStableFunc(faults, func(a, b Fault) int {
		return cmp.Or(comparePlaces(a.Place, b.Place), cmp.Compare(a.Message, b.Message))
	})
	return slices.Compact(faults)
}

func comparePlaces(a, b q.Place) int {
	return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
}
