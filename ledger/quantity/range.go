package quantity

import (
	"math"
	"slices"
	"sync"
)

// ranger finds how far the result of a tape ranges over the boxes of its
// leaves. A node is closed where no leaf below it bears on the result by any
// other way: what is closed can be ranged by itself, and then stands for a leaf
// in what is made of it. Where all operands of a node are closed, its enclosure
// is exact; elsewhere leaves are shared, and a search has to tell.
type ranger struct {
	*tape
	ops    []op   // of the nodes
	wide   []bool // some leaf below has a width
	closed []bool
	within []interval // of the closed nodes that are ranged already
	slope  []interval
	at     []interval // boxes of the search, and at its middle
	mid    []interval
	mark   []float64
	passed []int // the last round that came by a node, in laying a problem out
	round  int

	gate, depth, reach []int

	stand, inner []int      // what a problem is laid out on
	chunk, free  []interval // what the boxes of regions are cut from, and what is left of it

	// what a search writes on
	turned, shrunk, middle, enclosed []interval
	center, corner                   []float64
	left                             []int
	away, sheet                      []interval
	rows                             []row
}

// rangers are kept for the next, for what they write on.
var rangers = sync.Pool{New: func() any { return new(ranger) }}

// done gives the ranger back. What it found is nobody's afterwards.
func (r *ranger) done() {
	r.tape, r.within, r.free = nil, nil, r.chunk
	rangers.Put(r)
}

// leastMade is how many intervals are made at a time, at the least.
const leastMade = 256

// cut is a list of boxes like another, until the ranger is given back.
func (r *ranger) cut(list []interval) []interval {
	n := len(list)
	if len(r.free) < n {
		r.chunk = make([]interval, max(n, leastMade))
		r.free = r.chunk
	}
	out := r.free[:n:n]
	r.free = r.free[n:]
	copy(out, list)
	return out
}

// sized is a list of so many that stands where another stood, all zero.
func sized[T any](over []T, n int) []T {
	over = slices.Grow(over[:0], n)[:n]
	clear(over)
	return over
}

// glance is what can be told of one end of a range without a search: what bounds
// it, and the furthest that a point came to.
type glance struct{ bound, point float64 }

// Ends of a range.
const (
	lowEnd  = 0
	highEnd = 1
)

// signs are what a value is taken times for its least to be that end.
var signs = [...]float64{lowEnd: 1, highEnd: -1}

// glances glances at the ends that are asked for.
func (t *tape) glances(want [2]bool) (out [2]glance) {
	last := len(t.nodes) - 1
	if t.once() {
		b := t.box[last]
		return [2]glance{{b.lo, b.lo}, {b.hi, b.hi}}
	}
	r := t.ranger()
	defer r.done()
	p := r.problem(last, r.isLeaf)
	for which, sign := range signs {
		if want[which] {
			e := p.end(sign, true)
			out[which] = glance{sign * e.bound(), sign * e.best}
		}
	}
	return out
}

// sure tells that both ends are as tight as is asked.
func sure(g [2]glance) bool {
	slack := slackOf(g[lowEnd].point, g[highEnd].point)
	return g[lowEnd].point-g[lowEnd].bound <= slack && g[highEnd].bound-g[highEnd].point <= slack
}

// once tells that whatever has a width is used once: forward arithmetic is exact
// then. (That of asin is widened by what rounding may do.)
func (t *tape) once() bool {
	var few [64]bool
	used := few[:]
	if len(t.nodes) > len(used) {
		used = make([]bool, len(t.nodes))
	}
	for i, n := range t.nodes {
		if n.op == opAsin || !t.box[i].finite() {
			return false
		}
		args := t.operands(i)
		for j, a := range args {
			if b := t.box[a]; b.lo == b.hi || n.op == opMul && j == 1 && a == args[0] {
				continue
			}
			if used[a] {
				return false
			}
			used[a] = true
		}
	}
	return true
}

// ends is how far the result ranges. It encloses the true range, and is at most
// a hundredth wider unless the budget of the search ran out.
func (t *tape) ends() interval {
	last := len(t.nodes) - 1
	if t.box[last].lo == t.box[last].hi {
		return t.box[last]
	}
	return t.searched(t.glances([2]bool{true, true}))
}

// searched is ends after a glance at both.
func (t *tape) searched(g [2]glance) interval {
	last, out := len(t.nodes)-1, interval{g[lowEnd].bound, g[highEnd].bound}
	if !sure(g) {
		r := t.folded().ranger()
		out = out.meet(r.parts())
		r.done()
	}
	return out.meet(t.box[last]).hull(at(t.val[last]))
}

// beyond tells whether a result that is nominally at least a bound may be less than
// that, by a glance at its low end; of one that is less, whether it may be at least
// that, by the high end. And whether the glance can tell: by what bounds the end,
// or by a point that came out beyond.
func (g glance) beyond(atLeast bool, of float64) (may, told bool) {
	if atLeast {
		return !(g.bound >= of), g.bound >= of || g.point < of
	}
	return !(g.bound < of), g.bound < of || g.point >= of
}

// ahead is the end of a range that may lie beyond a bound.
func ahead(atLeast bool) int { return boolToInt(!atLeast) }

// less tells whether the result may be less than a bound.
func (t *tape) less(of float64) bool {
	last := len(t.nodes) - 1
	box := t.box[last]
	switch {
	case box.lo >= of || box.hi < of:
		return box.hi < of
	case t.val[last] < of:
		return true
	}
	if may, told := t.glances([2]bool{lowEnd: true})[lowEnd].beyond(true, of); told {
		return may
	}
	return t.ends().lo < of
}

func (t *tape) ranger() *ranger {
	r := rangers.Get().(*ranger)
	n := len(t.nodes)
	r.tape, r.within, r.round = t, t.box, 0
	r.slope, r.passed, r.ops = sized(r.slope, n), sized(r.passed, n), sized(r.ops, n)
	r.at, r.mid, r.mark = append(r.at[:0], t.box...), append(r.mid[:0], t.box...), append(r.mark[:0], t.val...)
	for i, n := range t.nodes {
		r.ops[i] = n.op
	}
	r.spread()
	return r
}

func (r *ranger) isLeaf(i int) bool { return r.nodes[i].op == opLeaf }

// spread finds what has a width.
func (r *ranger) spread() {
	r.wide = sized(r.wide, len(r.nodes))
	for i := range r.nodes {
		if r.isLeaf(i) {
			r.wide[i] = r.box[i].lo < r.box[i].hi
		}
		for _, a := range r.operands(i) {
			r.wide[i] = r.wide[i] || r.wide[a]
		}
	}
}

// parts ranges every closed node, from the leaves up.
func (r *ranger) parts() interval {
	r.close()
	r.within = slices.Clone(r.box)
	for i, n := range r.nodes {
		if n.op == opLeaf || r.wide[i] && !r.closed[i] || !r.wide[i] && r.box[i].lo == r.box[i].hi {
			continue
		}
		if !r.wide[i] || r.apart(i) { // what had a width may have come out of the sum
			r.within[i] = n.enclose(r.gather(i, r.within)).hull(at(r.val[i]))
			continue
		}
		out, found := r.kept.part(n)
		if !found {
			out = r.problem(i, func(j int) bool { return r.closed[j] && j != i }).solve(mostWork)
			r.kept.keep(n, out)
		}
		r.within[i] = out.meet(r.box[i]).hull(at(r.val[i]))
	}
	return r.within[len(r.nodes)-1]
}

// apart tells that the operands of a node have no leaf in common.
func (r *ranger) apart(i int) bool {
	args := r.operands(i)
	for j, a := range args {
		if !r.wide[a] {
			continue
		}
		if !r.closed[a] {
			return false
		}
		for _, b := range args[:j] {
			if a == b && r.nodes[i].op != opMul {
				return false
			}
		}
	}
	return true
}

// close finds what is closed. A node's gate is the nearest one above it that
// every way from it to the result leads through (its immediate dominator, found
// as the meeting point of those of all nodes that use it: K. D. Cooper, T. J.
// Harvey and K. Kennedy, A Simple, Fast Dominance Algorithm, 2001). It is closed
// where nothing below has a gate above it.
func (r *ranger) close() {
	n := len(r.nodes)
	r.gate, r.depth, r.reach = sized(r.gate, n), sized(r.depth, n), sized(r.reach, n)
	gate, depth, reach := r.gate, r.depth, r.reach
	for i := range gate {
		gate[i] = -1
	}
	for i := n - 1; i >= 0; i-- {
		if gate[i] >= 0 {
			depth[i] = depth[gate[i]] + 1
		}
		for _, a := range r.operands(i) {
			if gate[a] < 0 {
				gate[a] = i
				continue
			}
			x, y := gate[a], i
			for x != y {
				if x < y {
					x = gate[x]
				} else {
					y = gate[y]
				}
			}
			gate[a] = x
		}
	}
	r.closed = sized(r.closed, n)
	for i := range r.nodes {
		reach[i] = math.MaxInt
		for _, a := range r.operands(i) {
			if r.wide[a] {
				reach[i] = min(reach[i], reach[a], depth[gate[a]])
			}
		}
		r.closed[i] = r.wide[i] && reach[i] >= depth[i]
	}
	for i, g := range gate {
		if r.closed[i] && g >= 0 && r.ops[i] == r.ops[g] && (r.ops[i] == opMin || r.ops[i] == opMax) {
			r.closed[i] = false // how far it goes beyond the other branch is all one
		}
	}
}

// problem is the search for the range of one node, in the terms of those below
// it that stand for themselves.
func (r *ranger) problem(top int, stands func(int) bool) *problem {
	vars, order := r.stand[:0], r.inner[:0]
	r.round++
	var visit func(i int)
	visit = func(i int) {
		if r.passed[i] == r.round || !r.wide[i] {
			return
		}
		r.passed[i] = r.round
		if stands(i) {
			vars = append(vars, i)
			return
		}
		for _, a := range r.operands(i) {
			visit(a)
		}
		order = append(order, i)
	}
	visit(top)
	r.stand, r.inner = vars, order
	p := &problem{ranger: r, top: top, vars: slices.Clone(vars), order: slices.Clone(order), live: r.wide}
	p.lay()
	return p
}
