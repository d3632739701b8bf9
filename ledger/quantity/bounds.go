package quantity

import (
	"math"
	"slices"
	"strings"
)

// tape is an expression laid out so that every operand stands before what is
// made of it, with one leaf possibly set to another interval.
type tape struct {
	nodes []*node
	index map[*node]int
	box   []interval
	slope []interval
}

func (q Quantity) tape(leaf *node, set interval) *tape {
	t := &tape{index: make(map[*node]int)}
	t.visit(q.node())
	t.box = make([]interval, len(t.nodes))
	for i, n := range t.nodes {
		switch {
		case n == leaf:
			t.box[i] = set
		case leaf == nil || n.op == opLeaf:
			t.box[i] = n.fwd
		default:
			t.box[i] = n.enclose(func(a *node) interval { return t.box[t.index[a]] })
		}
	}
	return t
}

func (t *tape) visit(n *node) {
	if _, seen := t.index[n]; seen {
		return
	}
	for _, a := range n.args {
		t.visit(a)
	}
	t.index[n] = len(t.nodes)
	t.nodes = append(t.nodes, n)
}

// reverse fills in the hull of the slopes of the result by every node over the
// boxes given.
func (t *tape) reverse(box []interval) []interval {
	slope := make([]interval, len(t.nodes))
	last := len(t.nodes) - 1
	slope[last] = at(1)
	of := func(a *node) interval { return box[t.index[a]] }
	for i := last; i >= 0; i-- {
		if n := t.nodes[i]; slope[i] != at(0) {
			for j, a := range n.args {
				k := t.index[a]
				slope[k] = slope[k].add(slope[i].mul(n.slope(j, of)))
			}
		}
	}
	return slope
}

// bounds narrows the forward interval by the mean-value form about the middle
// of the box and by evaluation at its two corners.
func (t *tape) bounds(mid func(*node, interval) float64) interval {
	last := len(t.nodes) - 1
	out := t.box[last]
	t.slope = t.reverse(t.box)
	center := make([]float64, len(t.nodes))
	mean, finite := at(0), true
	for i, n := range t.nodes {
		if n.op != opLeaf {
			center[i] = n.point(func(a *node) float64 { return center[t.index[a]] })
			continue
		}
		b := t.box[i]
		center[i] = mid(n, b)
		s := t.slope[i]
		if b.lo == b.hi {
			continue
		}
		if !s.finite() {
			finite = false
		} else {
			mean = mean.add(s.mul(b.sub(at(center[i]))))
		}
	}
	if c := center[last]; finite && !math.IsNaN(c) {
		out = out.meet(mean.add(at(c)))
	}
	return out.meet(interval{t.corner(false).lo, t.corner(true).hi})
}

// corner evaluates with every leaf in which the result is monotone set to the
// end that makes it least or most.
func (t *tape) corner(most bool) interval {
	box := make([]interval, len(t.nodes))
	for i, n := range t.nodes {
		if n.op != opLeaf {
			box[i] = n.enclose(func(a *node) interval { return box[t.index[a]] })
			continue
		}
		b, s := t.box[i], t.slope[i]
		switch {
		case s.lo >= 0 && most, s.hi <= 0 && !most:
			b = at(b.hi)
		case s.lo >= 0, s.hi <= 0:
			b = at(b.lo)
		}
		box[i] = b
	}
	return box[len(box)-1]
}

// Bounds is the least and the most that the value can be, in SI, given the
// intervals of its leaves; shared leaves cancel. NaN where it is missing.
func (q Quantity) Bounds() (low, high float64) {
	n := q.node()
	if len(n.needs) > 0 {
		return math.NaN(), math.NaN()
	}
	if n.op == opLeaf || n.fwd.lo == n.fwd.hi {
		return n.fwd.lo, n.fwd.hi
	}
	b := q.tape(nil, interval{}).bounds(func(l *node, _ interval) float64 { return l.val })
	return b.lo, b.hi
}

// With gives value and bounds as they would be with the leaf at src moved to
// value, its tolerance unchanged.
func (q Quantity) With(src *Source, value float64) (mid, low, high float64) {
	for _, l := range q.leaves() {
		if l.src == src {
			by := value - l.val
			set := interval{l.fwd.lo + by, l.fwd.hi + by}
			t := q.tape(l, set)
			b := t.bounds(func(n *node, _ interval) float64 {
				if n == l {
					return value
				}
				return n.val
			})
			vals := make([]float64, len(t.nodes))
			for i, n := range t.nodes {
				switch {
				case n == l:
					vals[i] = value
				case n.op == opLeaf:
					vals[i] = n.val
				default:
					vals[i] = n.point(func(a *node) float64 { return vals[t.index[a]] })
				}
			}
			return vals[len(vals)-1], b.lo, b.hi
		}
	}
	low, high = q.Bounds()
	return q.Value(), low, high
}

func (q Quantity) leaves() []*node {
	t := &tape{index: make(map[*node]int)}
	t.visit(q.node())
	return slices.DeleteFunc(t.nodes, func(n *node) bool { return n.op != opLeaf })
}

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
	d, _ := q.doubts()
	return d
}

func (q Quantity) doubts() (list []Doubt, total float64) {
	if !q.Known() {
		return nil, 0
	}
	t := q.tape(nil, interval{})
	slopes := t.reverse(t.box)
	points := make([]interval, len(t.nodes))
	for i, n := range t.nodes {
		points[i] = at(n.val)
	}
	nominal := t.reverse(points)
	for i, n := range t.nodes {
		if n.op != opLeaf {
			continue
		}
		steep := math.Max(math.Abs(slopes[i].lo), math.Abs(slopes[i].hi))
		if math.IsInf(steep, 0) || math.IsNaN(steep) {
			steep = math.Abs(mid(nominal[i]))
		}
		d := Doubt{Source: n.src, Leaf: Quantity{n}, Slope: mid(nominal[i]), Doubt: prod(steep, (n.fwd.hi-n.fwd.lo)/2), leaf: n}
		if math.IsNaN(d.Doubt) || math.IsInf(d.Doubt, 0) {
			d.Doubt = 0
		}
		total += d.Doubt
		list = append(list, d)
	}
	slices.SortStableFunc(list, func(a, b Doubt) int {
		switch {
		case a.Doubt > b.Doubt:
			return -1
		case a.Doubt < b.Doubt:
			return 1
		}
		return strings.Compare(a.Source.Path(), b.Source.Path())
	})
	return list, total
}

func mid(i interval) float64 {
	if !i.finite() {
		return math.NaN()
	}
	return i.lo/2 + i.hi/2
}

// Share is what one entry contributes: to the value, where the result is a sum
// in which the entry leads terms, and to the doubt. Both are SI.
type Share struct {
	Entry            string
	OfValue, OfDoubt float64
}

// Shares lists what each entry contributes, most value first.
func (q Quantity) Shares() []Share {
	if !q.Known() {
		return nil
	}
	by := map[string]*Share{}
	get := func(e string) *Share {
		if by[e] == nil {
			by[e] = &Share{Entry: e}
		}
		return by[e]
	}
	terms(q.node(), 1, func(n *node, scale float64) {
		if e := leading(n); e != "" {
			get(e).OfValue += scale * n.val
		}
	})
	for _, d := range q.Doubts() {
		if d.Source.Entry != "" && d.Doubt != 0 {
			get(d.Source.Entry).OfDoubt += d.Doubt
		}
	}
	out := make([]Share, 0, len(by))
	for _, s := range by {
		out = append(out, *s)
	}
	slices.SortFunc(out, func(a, b Share) int {
		if x, y := math.Abs(a.OfValue), math.Abs(b.OfValue); x != y {
			if x > y {
				return -1
			}
			return 1
		}
		return strings.Compare(a.Entry, b.Entry)
	})
	return out
}

// terms walks down sums and the plain factors round them.
func terms(n *node, scale float64, visit func(*node, float64)) {
	switch n.op {
	case opAdd, opSum:
		for _, a := range n.args {
			terms(a, scale, visit)
		}
		return
	case opSub:
		terms(n.args[0], scale, visit)
		terms(n.args[1], -scale, visit)
		return
	case opNeg:
		terms(n.args[0], -scale, visit)
		return
	case opSame, opChoose:
		terms(n.args[0], scale, visit)
		return
	case opMul:
		for i := range 2 {
			if additive(n.args[i]) && !additive(n.args[1-i]) {
				terms(n.args[i], scale*n.args[1-i].val, visit)
				return
			}
		}
	case opDiv:
		if additive(n.args[0]) {
			terms(n.args[0], scale/n.args[1].val, visit)
			return
		}
	}
	visit(n, scale)
}

func additive(n *node) bool {
	switch n.op {
	case opSum:
		return true
	case opAdd, opSub:
		return leading(n.args[0]) != "" && leading(n.args[1]) != ""
	case opNeg, opSame:
		return additive(n.args[0])
	case opDiv:
		return additive(n.args[0])
	case opMul:
		return additive(n.args[0]) != additive(n.args[1])
	}
	return false
}

// leading is the entry of the first leaf that stands in the ledger.
func leading(n *node) string {
	if n.op == opLeaf {
		return n.src.Entry
	}
	for _, a := range n.args {
		if e := leading(a); e != "" {
			return e
		}
	}
	return ""
}
