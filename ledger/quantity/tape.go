package quantity

import (
	"math"
	"slices"
	"sync"
)

// tape is an expression laid out so that every operand stands before what is
// made of it, with values and boxes of its own.
type tape struct {
	nodes []*node
	args  []int // the operands of all nodes, one after the other
	first []int // where in args those of each node begin
	val   []float64
	box   []interval

	kept  *Kept // what is known of the nodes' ranges; nil where boxes are not the nodes' own
	vals  []float64
	boxes []interval
}

// layer is what a tape is laid out on, kept for the next.
type layer struct {
	tape
	index map[*node]int // where each node stands, once there are more than fewNodes
}

var layers = sync.Pool{New: func() any { return &layer{index: map[*node]int{}} }}

// fewNodes are found without a map.
const fewNodes = 24

func (q Quantity) tape() *tape {
	l := layers.Get().(*layer)
	l.visit(q.node())
	ints := make([]int, len(l.args)+len(l.first))
	copy(ints[copy(ints, l.args):], l.first)
	t := &tape{nodes: slices.Clone(l.nodes), args: ints[:len(l.args):len(l.args)], first: ints[len(l.args):]}
	t.val = make([]float64, len(t.nodes))
	t.box = make([]interval, len(t.nodes))
	for i, n := range t.nodes {
		t.val[i], t.box[i] = n.val, n.fwd
	}
	clear(l.nodes)
	clear(l.index)
	l.nodes, l.args, l.first = l.nodes[:0], l.args[:0], l.first[:0]
	layers.Put(l)
	return t
}

func (l *layer) visit(n *node) int {
	if at, seen := l.find(n); seen {
		return at
	}
	var few [4]int
	mine := few[:0]
	for _, a := range n.args {
		mine = append(mine, l.visit(a))
	}
	at := len(l.nodes)
	l.nodes = append(l.nodes, n)
	switch {
	case len(l.nodes) == fewNodes+1:
		for i, m := range l.nodes {
			l.index[m] = i
		}
	case len(l.nodes) > fewNodes:
		l.index[n] = at
	}
	l.first = append(l.first, len(l.args))
	l.args = append(l.args, mine...)
	return at
}

func (l *layer) find(n *node) (at int, seen bool) {
	if len(l.nodes) > fewNodes {
		at, seen = l.index[n]
		return at, seen
	}
	at = slices.Index(l.nodes, n)
	return at, at >= 0
}

func (t *tape) operands(i int) []int {
	end := len(t.args)
	if i+1 < len(t.first) {
		end = t.first[i+1]
	}
	return t.args[t.first[i]:end]
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
// boxes given, written over another list.
func (t *tape) reverse(over, box []interval) []interval {
	return t.slopes(over, func(i int) []interval { return t.gather(i, box) })
}

// telling is reverse, save that of a minimum or a maximum only the operand
// counts that is the least or the most at the nominal values.
func (t *tape) telling(over []interval) []interval {
	return t.slopes(over, func(i int) []interval {
		boxes := t.gather(i, t.box)
		if o := t.nodes[i].op; o == opMin || o == opMax {
			for j, a := range t.operands(i) {
				boxes[j] = at(t.val[a])
			}
		}
		return boxes
	})
}

func (t *tape) slopes(over []interval, operands func(int) []interval) []interval {
	slope := sized(over, len(t.nodes))
	last := len(t.nodes) - 1
	slope[last] = at(1)
	for i := last; i >= 0; i-- {
		if slope[i] == at(0) {
			continue
		}
		boxes := operands(i)
		for j, a := range t.operands(i) {
			slope[a] = slope[a].add(slope[i].mul(t.nodes[i].slope(j, boxes)))
		}
	}
	return slope
}

// With gives value and bounds as they would be with the leaf at src moved to
// value, its tolerance unchanged; NaN where the result would be missing.
func (q Quantity) With(src *Source, value float64) (mid, low, high float64) {
	return Analyze(q).With(src, value)
}

// With gives value and bounds as they would be with the leaf at src moved to
// value, its tolerance unchanged; NaN where the result would be missing.
func (a *Analysis) With(src *Source, value float64) (mid, low, high float64) {
	if !a.of.Known() {
		return math.NaN(), math.NaN(), math.NaN()
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	t := a.layout().copy()
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
	b := t.ends()
	return t.val[last], b.lo, b.hi
}

// At is the value where some leaves have other values, all exact; NaN where it
// would be missing.
func (a *Analysis) At(values map[*Source]float64) float64 {
	if !a.of.Known() {
		return math.NaN()
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	t := a.layout()
	val := make([]float64, len(t.nodes))
	for i, n := range t.nodes {
		if n.op != opLeaf {
			val[i] = t.point(i, val)
		} else if v, ok := values[n.src]; ok {
			val[i] = v
		} else {
			val[i] = n.val
		}
	}
	return val[len(val)-1]
}

// copy is the tape with values and boxes of its own.
func (t *tape) copy() *tape {
	c := *t
	c.val, c.box, c.vals, c.boxes, c.kept = slices.Clone(t.val), slices.Clone(t.box), nil, nil, nil
	return &c
}

// leaves lists the leaves in the order of the formula.
func (q Quantity) leaves() []*node {
	var out []*node
	visit(q.node(), func(n *node) []*node { return n.args }, func(n *node) {
		if n.op == opLeaf {
			out = append(out, n)
		}
	})
	return out
}

// visit hands over each node of a formula once, after those below it.
func visit(top *node, below func(*node) []*node, each func(*node)) {
	seen := map[*node]bool{}
	var walk func(n *node)
	walk = func(n *node) {
		if seen[n] {
			return
		}
		seen[n] = true
		for _, a := range below(n) {
			walk(a)
		}
		each(n)
	}
	walk(top)
}
