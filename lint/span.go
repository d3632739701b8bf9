package lint

import (
	"math"

	"fishplate/ledger/quantity"
)

// celsius is the way from freezing to boiling water, in kelvins.
const celsius = 100

// Span is what the margin of a check is a share of where checks are ranked by how
// near they are to their limits: the limit, of two the farther from zero. A
// thermometer's zero is nobody's, so that 95 of 100 °C would be 98.7 % of the limit
// from absolute zero, and 95 % from ice: a temperature's margin is a share of the
// way from freezing to boiling water. False where there is nothing to share.
func (r *Result) Span() (float64, bool) {
	if !r.Numeric() || !r.Limit.Known() || !r.Margin.Known() {
		return 0, false
	}
	if r.Limit.Dim() == quantity.Temperature {
		return celsius, true
	}
	of := math.Abs(r.Limit.Value())
	if r.Sense == Between && r.Upper.Known() {
		of = max(of, math.Abs(r.Upper.Value()))
	}
	return of, of > 0
}
