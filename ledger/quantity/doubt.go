package quantity

import (
	"math"
	"slices"
	"strings"
)

// Doubt is what one leaf contributes to the width of a result: its slope, the
// half width that it leaves, and the value itself.
type Doubt struct {
	Source *Source
	Leaf   Quantity
	Slope  float64 // of the result by the leaf, at the nominal values, in SI
	Doubt  float64 // |slope| times half width, in SI of the result
	leaf   *node
}

// Doubts lists the leaves that stand in the ledger or are assumed, by what
// they contribute to the doubt of the result, most first.
func (q Quantity) Doubts() []Doubt {
	list, _ := q.doubts()
	slices.SortStableFunc(list, func(a, b Doubt) int {
		switch {
		case a.Doubt > b.Doubt:
			return -1
		case a.Doubt < b.Doubt:
			return 1
		}
		return strings.Compare(a.Source.Path(), b.Source.Path())
	})
	return list
}

// doubts lists them in the order of the formula, with what they sum to.
func (q Quantity) doubts() (list []Doubt, total float64) {
	if !q.Known() {
		return nil, 0
	}
	t := q.tape()
	slopes := t.reverse(t.box)
	points := make([]interval, len(t.nodes))
	for i, n := range t.nodes {
		points[i] = at(n.val)
	}
	nominal := t.reverse(points)
	for i, n := range t.nodes {
		if n.op != opLeaf || n.src.Entry == "" && n.src.Cite == "" {
			continue
		}
		half := (n.fwd.hi - n.fwd.lo) / 2
		d := Doubt{Source: n.src, Leaf: Quantity{n}, Slope: mid(nominal[i]), leaf: n}
		steep := math.Max(math.Abs(slopes[i].lo), math.Abs(slopes[i].hi))
		if !slopes[i].finite() {
			steep = t.secant(i)
		}
		if math.IsNaN(d.Slope) {
			d.Slope = t.secant(i)
		}
		d.Doubt = steep * half
		total += d.Doubt
		list = append(list, d)
	}
	return list, total
}

// secant is how steep the result is in one leaf alone where it has no slope to
// go by, at a jump or a root of zero: the width it takes on over the leaf's
// own, all others at their nominal values; 0 where that has no end.
func (t *tape) secant(leaf int) float64 {
	box := make([]interval, len(t.nodes))
	for i, n := range t.nodes {
		switch {
		case i == leaf:
			box[i] = n.fwd
		case n.op == opLeaf:
			box[i] = at(n.val)
		default:
			box[i] = n.enclose(t.gather(i, box))
		}
	}
	own, all := box[leaf], box[len(box)-1]
	if own.lo == own.hi || !all.finite() {
		return 0
	}
	return (all.hi - all.lo) / (own.hi - own.lo)
}

func mid(i interval) float64 {
	if !i.finite() {
		return math.NaN()
	}
	return i.lo/2 + i.hi/2
}
