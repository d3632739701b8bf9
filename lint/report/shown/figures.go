package shown

import (
	"math"
	"slices"

	"fishplate/ledger/quantity"
	"fishplate/lint"
)

// Numbers are the figures of a check in words, in the build's units: what it
// comes to, what is allowed, how far off it is, and what grade it is where
// that calls for care.
type Numbers struct{ Value, Limit, Off, Grade string }

// NumbersOf words the figures of a check; all empty where it compares none.
func NumbersOf(r *lint.Result, s quantity.Style) Numbers {
	if !r.Numeric() {
		return Numbers{}
	}
	out := Numbers{Value: figure(r.Value, r, s), Limit: limitOf(r, s)}
	if r.Margin.Known() {
		out.Off, out.Grade = offOf(r, s), Grade(r.Analysis(r.Margin))
	}
	return out
}

func figure(q quantity.Quantity, r *lint.Result, s quantity.Style) string {
	if !q.Known() {
		return "not known"
	}
	low, high := r.Analysis(q).Bounds()
	return quantity.FormatBounds(q.Value(), low, high, UnitOf(q, r, s))
}

// American are the units of the American shop; what is not among them, and
// not a count, belongs to the other system.
var American = []string{"lb", "oz", "in", "ft", "mi", "gal", "qt", "pt", "psi", "inHg", "inH2O", "lbf", "lb-ft", "lb-in", "hp", "mph", "ft/min", "gpm", "gph", "cfm", "lb/in"}

// UnitOf is the unit in which a figure of a check is shown: the one in which
// its limit is written, where that is of the build's system (inHg for a
// vacuum, ft for a stopping distance, % for a share), else the build's own.
func UnitOf(q quantity.Quantity, r *lint.Result, s quantity.Style) *quantity.Unit {
	var written *quantity.Unit
	for _, l := range r.Limit.Leaves() {
		reading, ok := l.Reading()
		switch {
		case !ok:
			continue
		case written != nil && written.Symbol != reading.Unit.Symbol:
			return s.Unit(q)
		}
		written = reading.Unit
	}
	if written == nil || written.Dim != q.Dim() || written.Dim.Point {
		return s.Unit(q)
	}
	if sym := written.Symbol; sym == "%" || sym == "um" || slices.Contains(American, sym) != s.SI {
		return written
	}
	return s.Unit(q)
}

// Grade is the grade of a value, where it is less than stated.
func Grade(a *quantity.Analysis) string {
	if g := a.Grade(); a.Of().Known() && g < quantity.Stated {
		return g.String()
	}
	return ""
}

func limitOf(r *lint.Result, s quantity.Style) string {
	if !r.Limit.Known() || r.Sense == lint.Between && !r.Upper.Known() {
		return ""
	}
	limit := figure(r.Limit, r, s)
	switch r.Sense {
	case lint.AtMost:
		return "max " + limit
	case lint.AtLeast:
		return "min " + limit
	case lint.Between:
		return limit + " to " + figure(r.Upper, r, s)
	}
	if w := r.Within; w.Known() && w.Value() > 0 {
		return "within " + quantity.Digits(w.Value()*100, 3) + " % of " + limit
	}
	return "asked " + limit
}

// offOf says how far a check is from its limit. The tolerance is left to the
// value, save where it is what leaves the check open.
func offOf(r *lint.Result, s quantity.Style) string {
	u := UnitOf(r.Margin, r, s)
	m := math.Abs(r.Margin.Value())
	if m <= 1e-9*math.Abs(r.Limit.Value()) {
		m = 0 // what rounding left
	}
	text := u.Join(u.Number(m, 3))
	if r.Verdict == lint.Unproven || r.Verdict == lint.Waived && r.Underlying == lint.Unproven {
		low, high := r.Analysis(r.Margin).Bounds()
		half := max(high-r.Margin.Value(), r.Margin.Value()-low)
		text = quantity.FormatBounds(m, m-half, m+half, u)
	}
	switch {
	case r.Margin.Value() >= 0 || r.Verdict == lint.Pass || u.Number(m, 3) == "0":
		return text + " to spare"
	case r.Sense == lint.AtMost:
		return text + " over"
	case r.Sense == lint.AtLeast:
		return text + " short"
	}
	return text + " off"
}
