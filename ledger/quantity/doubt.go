package quantity

import "math"

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

// doubts shares the half width of the result out among its leaves, in the order
// of the formula: to each how steep the result is in it times its own half
// width. Where slopes vary that sums to a little more or less than there is, and
// the leaves whose slopes vary are scaled to make it up. Of a least or a most
// the leaves of the branch count that it takes at the nominal values; where
// those have no doubt, those of all.
func (t *tape) doubts(half float64) []Doubt {
	points := make([]interval, len(t.nodes))
	for i, n := range t.nodes {
		points[i] = at(n.val)
	}
	nominal := t.reverse(points)
	list, steady := t.steep(t.telling(), nominal)
	if half > 0 && sum(list) == 0 {
		list, steady = t.steep(t.reverse(t.box), nominal)
	}
	if total := sum(list); total > 0 && !math.IsInf(half+total, 0) {
		by, all := (half-steady)/(total-steady), false
		if !(by > 0.5 && by < 2) {
			by, all = half/total, true
		}
		for i := range list {
			if all || !list[i].steady {
				list[i].Doubt *= by
			}
		}
	}
	return list
}

func sum(list []Doubt) (total float64) {
	for _, d := range list {
		total += d.Doubt
	}
	return total
}

// steep lists the leaves by slope times half width, with the sum of those whose
// slope is the same everywhere.
func (t *tape) steep(slopes, nominal []interval) (list []Doubt, steady float64) {
	for i, n := range t.nodes {
		if n.op != opLeaf || n.fwd.lo == n.fwd.hi && n.src.Entry == "" && n.src.Cite == "" {
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
		if d.steady {
			steady += d.Doubt
		}
		list = append(list, d)
	}
	return list, steady
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
