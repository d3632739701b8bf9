package quantity

import (
	"math"
	"slices"
)

// tape is an expression laid out so that every operand stands before what is
// made of it, with values and boxes of its own.
type tape struct {
	nodes []*node
	args  []int         // the operands of all nodes, one after the other
	first []int         // where in args those of each node begin
	index map[*node]int // where each node stands, once there are more than fewNodes
	val   []float64
	box   []interval
	slope []interval

	vals  []float64
	boxes []interval
}

// fewNodes are found without a map.
const fewNodes = 24

func (q Quantity) tape() *tape {
	t := &tape{}
	t.visit(q.node())
	t.val = make([]float64, len(t.nodes))
	t.box = make([]interval, len(t.nodes))
	for i, n := range t.nodes {
		t.val[i], t.box[i] = n.val, n.fwd
	}
	return t
}

func (t *tape) visit(n *node) int {
	if at, seen := t.find(n); seen {
		return at
	}
	var few [4]int
	mine := few[:0]
	for _, a := range n.args {
		mine = append(mine, t.visit(a))
	}
	at := len(t.nodes)
	t.nodes = append(t.nodes, n)
	switch {
	case t.index != nil:
		t.index[n] = at
	case len(t.nodes) > fewNodes:
		t.index = make(map[*node]int, 4*fewNodes)
		for i, m := range t.nodes {
			t.index[m] = i
		}
	}
	t.first = append(t.first, len(t.args))
	t.args = append(t.args, mine...)
	return at
}

func (t *tape) find(n *node) (at int, seen bool) {
	if t.index != nil {
		at, seen = t.index[n]
		return at, seen
	}
	at = slices.Index(t.nodes, n)
	return at, at >= 0
}

func (t *tape) operands(i int) []int {
	return t.args[t.first[i]:][:len(t.nodes[i].args)]
}

// gather lays out the boxes of a node's operands.
func (t *tape) gather(i int, box []interval) []interval {
	t.boxes = t.boxes[:0]
	for _, a := range t.operands(i) {
		t.boxes = append(t.boxes, box[a])
	}
	return t.boxes
}

// point evaluates a node on values of its operands.
func (t *tape) point(i int, val []float64) float64 {
	t.vals = t.vals[:0]
	for _, a := range t.operands(i) {
		t.vals = append(t.vals, val[a])
	}
	return t.nodes[i].point(t.vals)
}

// again works all values and boxes out anew from those of the leaves, and
// tells whether every operation still had a result.
func (t *tape) again() bool {
	for i, n := range t.nodes {
		if n.op != opLeaf {
			t.val[i] = t.point(i, t.val)
			t.box[i] = n.enclose(t.gather(i, t.box))
			if !sound(t.val[i], t.box[i]) {
				return false
			}
			t.box[i] = t.box[i].hull(at(t.val[i]))
		}
	}
	return true
}

// reverse gives the hull of the slopes of the result by every node over the
// boxes given.
func (t *tape) reverse(box []interval) []interval {
	slope := make([]interval, len(t.nodes))
	last := len(t.nodes) - 1
	slope[last] = at(1)
	for i := last; i >= 0; i-- {
		if slope[i] == at(0) {
			continue
		}
		boxes := t.gather(i, box)
		for j, a := range t.operands(i) {
			slope[a] = slope[a].add(slope[i].mul(t.nodes[i].slope(j, boxes)))
		}
	}
	return slope
}

// bounds narrows the forward interval by the mean-value form about the nominal
// values and by evaluation at the two corners.
func (t *tape) bounds() interval {
	last := len(t.nodes) - 1
	t.slope = t.reverse(t.box)
	mean, finite := at(0), true
	for i, n := range t.nodes {
		b, s := t.box[i], t.slope[i]
		if n.op != opLeaf || b.lo == b.hi || s == at(0) {
			continue
		}
		if !s.finite() {
			finite = false
			break
		}
		mean = mean.add(s.mul(b.sub(at(t.val[i]))))
	}
	out := t.box[last]
	if finite {
		out = out.meet(mean.add(at(t.val[last])))
	}
	return out.meet(interval{t.corner(false).lo, t.corner(true).hi}).hull(at(t.val[last]))
}

// corner evaluates with every leaf in which the result is monotone set to the
// end that makes it least or most.
func (t *tape) corner(most bool) interval {
	box := make([]interval, len(t.nodes))
	for i, n := range t.nodes {
		if n.op != opLeaf {
			box[i] = n.enclose(t.gather(i, box))
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
	b := q.tape().bounds()
	return b.lo, b.hi
}

// With gives value and bounds as they would be with the leaf at src moved to
// value, its tolerance unchanged; NaN where the result would be missing.
func (q Quantity) With(src *Source, value float64) (mid, low, high float64) {
	if !q.Known() {
		return math.NaN(), math.NaN(), math.NaN()
	}
	t := q.tape()
	for i, n := range t.nodes {
		if n.op == opLeaf && n.src == src {
			t.val[i] = value
			t.box[i] = interval{value - (n.val - n.fwd.lo), value + (n.fwd.hi - n.val)}
		}
	}
	last := len(t.nodes) - 1
	if !t.again() || !sound(t.val[last], t.box[last]) {
		return math.NaN(), math.NaN(), math.NaN()
	}
	b := t.bounds()
	return t.val[last], b.lo, b.hi
}

// leaves lists the leaves in the order of the formula.
func (q Quantity) leaves() []*node {
	var out []*node
	seen := map[*node]bool{}
	var walk func(n *node)
	walk = func(n *node) {
		if seen[n] {
			return
		}
		seen[n] = true
		for _, a := range n.args {
			walk(a)
		}
		if n.op == opLeaf {
			out = append(out, n)
		}
	}
	walk(q.node())
	return out
}
