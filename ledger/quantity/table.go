package quantity

import (
	"fmt"
	"math"
)

// Table is a published table of Y against rising X, both in SI.
type Table struct {
	Name string
	X, Y []float64
	XDim Dim
	YDim Dim
	Step bool // take the row at or below instead of interpolating
}

// At reads the table. Reading past either end gives a missing value.
func (t *Table) At(q Quantity) Quantity {
	agree(t.Name, t.XDim, q.Dim())
	n := &node{op: opTable, dim: t.YDim, args: []*node{q.node()}, table: t}
	if q.Known() && math.IsNaN(t.enclose(n.args[0].fwd).lo) {
		need := Need{Key: fmt.Sprintf("a row of %s for %s", t.Name, symbol(n.args[0]))}
		if l := firstStanding(n); l != nil {
			need.Place = l.src.Place
		}
		n.needs = []Need{need}
		return Quantity{n}
	}
	return n.done()
}

// clamp takes what rounding put past an end back to it, and what lies further
// out to NaN.
func (t *Table) clamp(x float64) float64 {
	first, last := t.X[0], t.X[len(t.X)-1]
	if x >= first && x <= last {
		return x
	}
	slack := 1e-12 * math.Max(math.Abs(first), math.Abs(last))
	switch {
	case x < first && x >= first-slack:
		return first
	case x > last && x <= last+slack:
		return last
	}
	return math.NaN()
}

// row is the last row at or below x.
func (t *Table) row(x float64) int {
	i := 0
	for i+1 < len(t.X) && t.X[i+1] <= x {
		i++
	}
	return i
}

func (t *Table) value(x float64) float64 {
	x = t.clamp(x)
	if math.IsNaN(x) {
		return x
	}
	i := t.row(x)
	if t.Step || x == t.X[i] {
		return t.Y[i]
	}
	return t.Y[i] + (x-t.X[i])*t.slope(i)
}

func (t *Table) slope(i int) float64 { return (t.Y[i+1] - t.Y[i]) / (t.X[i+1] - t.X[i]) }

func (t *Table) enclose(x interval) interval {
	x = interval{t.clamp(x.lo), t.clamp(x.hi)}
	out := at(t.value(x.lo)).hull(at(t.value(x.hi)))
	for i, k := range t.X {
		if k > x.lo && k <= x.hi {
			out = out.hull(at(t.Y[i]))
		}
	}
	return out
}

// slopes is the hull of the slopes of the rows that x lies in or touches; of a
// step that x crosses none is claimed.
func (t *Table) slopes(x interval) interval {
	x = interval{t.clamp(x.lo), t.clamp(x.hi)}
	if t.Step || len(t.X) == 1 {
		if x.lo == x.hi {
			return at(0)
		}
		for _, k := range t.X {
			if k > x.lo && k <= x.hi {
				return whole
			}
		}
		return at(0)
	}
	first := true
	var out interval
	for i := 0; i+1 < len(t.X); i++ {
		if t.X[i+1] < x.lo || t.X[i] > x.hi {
			continue
		}
		if s := at(t.slope(i)); first {
			out, first = s, false
		} else {
			out = out.hull(s)
		}
	}
	return out
}
