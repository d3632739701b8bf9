package quantity

import (
	"math"
	"sync"
)

// Doubt is what one leaf contributes to the width of a result: its slope, its
// part of the half width, and the value itself.
type Doubt struct {
	Source *Source
	Leaf   Quantity
	Slope  float64 // of the result by the leaf, at the nominal values, in SI
	Doubt  float64 // its part of the half width, in SI of the result
	leaf   *node
	steady bool // the slope is the same everywhere
}

// slate is what doubts and shares are worked out on, kept for the next.
type slate struct {
	points, nominal, slopes []interval
	leads                   []string
	additive, reached       []bool
	scale                   []float64
}

var slates = sync.Pool{New: func() any { return new(slate) }}

// doubts lists the leaves in the order of the formula, each by how steep the
// result is in it times its own half width. Of a least or a most the leaves of
// the branch count that it takes at the nominal values; where those have no
// doubt, those of all.
func (t *tape) doubts() []Doubt {
	w := slates.Get().(*slate)
	defer slates.Put(w)
	w.points = sized(w.points, len(t.nodes))
	for i, n := range t.nodes {
		w.points[i] = at(n.val)
	}
	w.nominal, w.slopes = t.reverse(w.nominal, w.points), t.telling(w.slopes)
	nominal, list := w.nominal, t.steep(w.slopes, w.nominal)
	if last := t.box[len(t.box)-1]; sum(list) == 0 && last.lo < last.hi {
		w.slopes = t.reverse(w.slopes, t.box)
		list = t.steep(w.slopes, nominal)
		if sum(list) == 0 { // no slope tells: to all alike
			for i, d := range list {
				list[i].Doubt = float64(boolToInt(d.leaf.fwd.lo < d.leaf.fwd.hi))
			}
		}
	}
	return list
}

// factor is what doubts are taken times to add up to half a width: those whose
// slopes vary, and the others.
type factor struct{ varied, steady float64 }

func (f factor) of(d Doubt) float64 {
	if d.steady {
		return d.Doubt * f.steady
	}
	return d.Doubt * f.varied
}

// adding makes doubts add up to the half width of the result: where slopes vary
// they sum to a little more or less, and the leaves whose slopes vary make up for
// it.
func adding(list []Doubt, half float64) factor {
	total, steady := sum(list), 0.0
	for _, d := range list {
		if d.steady {
			steady += d.Doubt
		}
	}
	if !(total > 0) || math.IsInf(half+total, 0) {
		return factor{1, 1}
	}
	if by := (half - steady) / (total - steady); by > 0.5 && by < 2 {
		return factor{by, 1}
	}
	return factor{half / total, half / total}
}

func sum(list []Doubt) (total float64) {
	for _, d := range list {
		total += d.Doubt
	}
	return total
}

// listed tells a leaf that can bear on the doubt: it has a width, or stands in the
// ledger or in a publication.
func (n *node) listed() bool {
	return n.op == opLeaf && (n.fwd.lo < n.fwd.hi || n.src.Entry != "" || n.src.Cite != "")
}

func (t *tape) steep(slopes, nominal []interval) []Doubt {
	size := 0
	for _, n := range t.nodes {
		size += boolToInt(n.listed())
	}
	list := make([]Doubt, 0, size)
	for i, n := range t.nodes {
		if !n.listed() {
			continue
		}
		s := slopes[i]
		d := Doubt{Source: n.src, Leaf: Quantity{n}, Slope: mid(nominal[i]), leaf: n, steady: s.hi-s.lo <= 1e-9*math.Abs(s.hi)}
		steep := (math.Abs(s.lo) + math.Abs(s.hi)) / 2
		if !s.finite() {
			steep = t.secant(i)
		}
		if math.IsNaN(d.Slope) {
			d.Slope = t.secant(i)
		}
		d.Doubt = steep * (n.fwd.hi - n.fwd.lo) / 2
		list = append(list, d)
	}
	return list
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
