package quantity

import (
	"container/heap"
	"math"
	"slices"
	"sync"
)

// problem is how far one node of a tape ranges over the boxes of its variables:
// a search by branch and bound (R. B. Kearfott, Rigorous Global Search:
// Continuous Problems, 1996). Every region's bound holds, so that what is left
// of the work when the budget ends only leaves the range wider.
type problem struct {
	*ranger
	top    int
	vars   []int      // what stands for itself
	order  []int      // what is made of it, operands first
	steps  []step     // order, each with what it takes
	spans  []interval // how far each of lifts ranges
	lifts  []int      // quotients that are searched as variables of their own
	seen   interval   // the least and the most that points came to before quotients were lifted
	lifted []int      // their places in lifts, counted from 1, by node; nil while none is
}

const (
	mostWork  = 100_000 // evaluations of a node for one end of a range
	mostWidth = 0.004   // of the range: what is not worth a search at either end
	rounds    = 12      // of taking slopes again over a smaller box
)

// region is a part of the boxes, in the order of the problem's variables, and
// what it takes each choice for that it leaves open.
type region struct {
	box   []interval
	took  map[int]int
	bound float64   // no value in it is less
	last  float64   // what the mean-value form bounded it by
	pull  []float64 // what each lifted quotient is held to its two sides by
	split int       // the variable to halve, or -1
	open  int       // the choice to settle first, or -1
	lean  *lean     // a bend that is taken for a line
}

type regions []*region

func (h regions) Len() int           { return len(h) }
func (h regions) Less(i, j int) bool { return h[i].bound < h[j].bound }
func (h regions) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }
func (h *regions) Push(x any)        { *h = append(*h, x.(*region)) }
func (h *regions) Pop() any {
	last := len(*h) - 1
	x := (*h)[last]
	*h = (*h)[:last]
	return x
}

// end is the search for one end of the range: the least of sign times the value.
type end struct {
	*problem
	sign float64
	best float64 // the least that a point has come to
	work int     // how often everything was gone through
	heap regions

	hasty bool // narrowing is not worth its while where something bends

	shrunk, middle []interval // what shrink and those that it calls write on
	enclosed       []interval // the boxes of the region that is tightened
}

// copied is a list written over another, where that is long enough.
func copied(over, list []interval) []interval { return append(over[:0], list...) }

// solve gives the range, and whether it is as tight as is asked.
func (p *problem) solve(work int) (out interval, sure bool) {
	box := make([]interval, len(p.vars))
	for i, v := range p.vars {
		box[i] = p.within[v]
	}
	ends := [2]*end{{problem: p, sign: 1, best: math.Inf(1)}, {problem: p, sign: -1, best: math.Inf(1)}}
	for _, e := range ends {
		e.hasty = work == 0
		e.add(&region{box: box, bound: math.Inf(-1)})
	}
	p.seen = interval{ends[0].best, -ends[1].best}
	slack := mostWidth * (-ends[1].best - ends[0].best)
	if !(slack > 0) || math.IsInf(slack, 0) {
		slack = 0
	}
	budget := work / max(1, len(p.order))
	if budget > 0 {
		for _, e := range ends {
			if before := e.work; len(e.heap) > 0 && !(e.best-e.heap[0].bound <= slack) {
				e.ridges(e.heap[0])
				e.lean(e.heap[0], slack)
				e.work = before // what is left to do is not less for it
			}
		}
	}
	if budget > 0 && p.lift() {
		budget *= raised
		p.raise(ends)
	}
	for _, e := range ends {
		e.search(slack, budget)
	}
	low, high := ends[0].bound(), ends[1].bound()
	sure = ends[0].best-low <= slack && ends[1].best-high <= slack
	return interval{low, -high}, sure
}

// bound is what no value is less than.
func (e *end) bound() float64 {
	if len(e.heap) == 0 {
		return e.best
	}
	return min(e.best, e.heap[0].bound)
}

func (e *end) search(slack float64, budget int) {
	for e.work < budget && len(e.heap) > 0 && !(e.best-e.heap[0].bound <= slack) {
		x := e.heap[0]
		var parts []*region
		switch {
		case x.open >= 0:
			parts = e.settle(x)
		case x.split >= 0:
			parts = halves(x)
		}
		if parts == nil {
			return // the region stays, and its bound with it
		}
		heap.Pop(&e.heap)
		for _, part := range parts {
			e.add(part)
		}
	}
}

// halves cuts a region in two along the variable that costs most; nil where it is
// too thin to cut.
func halves(x *region) []*region {
	b := x.box[x.split]
	m := b.lo/2 + b.hi/2
	if !(b.lo < m && m < b.hi) {
		return nil
	}
	low, high := slices.Clone(x.box), slices.Clone(x.box)
	low[x.split].hi, high[x.split].lo = m, m
	return []*region{{box: low, took: x.took, bound: x.bound, pull: x.pull, lean: x.lean}, {box: high, took: x.took, bound: x.bound, pull: x.pull, lean: x.lean}}
}

// settle takes an open choice for each of its operands in turn.
func (e *end) settle(x *region) []*region {
	var out []*region
	first, beyond := 0, 2
	if e.nodes[x.open].op == opBelow {
		first, beyond = 2, 4
	}
	for k := first; k < beyond; k++ {
		took := map[int]int{x.open: k}
		for n, v := range x.took {
			took[n] = v
		}
		out = append(out, &region{box: x.box, took: took, bound: x.bound, pull: x.pull, lean: x.lean})
	}
	return out
}

// add bounds a region, tries points in it, and keeps it if it may hold less
// than the best.
func (e *end) add(x *region) {
	if !e.tighten(x) {
		return
	}
	if x.bound < e.best {
		heap.Push(&e.heap, x)
	}
}

// tighten fixes every variable in which the value is monotone at the end that
// makes it least, takes the slopes again over the box that is left, and bounds
// what remains by the mean-value form. It tells whether the region can hold
// anything.
func (e *end) tighten(x *region) bool {
	if !e.forward(x, x.box) || !e.allowed(x) {
		return false
	}
	if x.lean != nil && !e.open(x.lean.node) {
		x.lean = nil
	}
	if e.lifted != nil {
		e.enclosed = copied(e.enclosed, e.at)
		e.tug(x)
		return true
	}
	edge := e.edge()
	e.reverse(x)
	x.open, x.split = e.choice(x), e.costliest(x.box)
	box, held := e.shrink(x)
	if held && !e.constrained(x) {
		x.box = slices.Clone(x.box)
		for i, v := range e.vars {
			if !edge[v] {
				x.box[i] = box[i]
			}
		}
		x.split = e.costliest(x.box)
	}
	e.try(box)
	return true
}

// edge tells what an operation that has no value in a part of the last enclosure
// rests on. A variable that does must not be fixed for good: where it makes the
// value least, there may be none.
func (e *end) edge() map[int]bool {
	var out map[int]bool
	for j := len(e.order) - 1; j >= 0; j-- {
		i := e.order[j]
		if out == nil {
			switch e.ops[i] {
			case opSqrt, opLog, opPow, opAsin:
			default:
				continue
			}
		}
		if e.isLifted(i) >= 0 {
			continue
		}
		beyond := out[i]
		if !beyond {
			switch n, a := e.nodes[i], e.at[e.operands(i)[0]]; n.op {
			case opSqrt, opLog:
				beyond = a.lo < 0
			case opPow:
				beyond = a.lo < 0 && n.pow != math.Trunc(n.pow)
			case opAsin:
				beyond = a.lo < -1 || a.hi > 1
			}
		}
		if beyond {
			if out == nil {
				out = map[int]bool{}
			}
			for _, a := range e.operands(i) {
				out[a] = true
			}
		}
	}
	return out
}

// shrink fixes what it can over the boxes and slopes of the last enclosure, bounds
// what is left, and tells whether it has any value.
func (e *end) shrink(x *region) (box []interval, held bool) {
	e.shrunk = copied(e.shrunk, x.box)
	box, held = e.shrunk, true
	narrowed := false
	for range rounds {
		x.bound = max(x.bound, e.least(e.total(x)))
		if e.fix(box) {
			if held = e.forward(x, box); !held { // the end is past a domain's
				copy(box, x.box)
				break
			}
			narrowed = false
		} else if narrowed || e.lifted != nil || e.hasty && (x.lean != nil || x.open >= 0 || e.bend(x) >= 0) || !e.narrow(x, box) {
			break
		} else {
			narrowed = true
		}
		e.reverse(x)
	}
	if held {
		e.mean(x, box)
	}
	return box, held
}

// fix puts every variable with a slope of one sign to its end, and tells
// whether there was one.
func (e *end) fix(box []interval) (some bool) {
	for i, v := range e.vars {
		if box[i].lo == box[i].hi {
			continue
		}
		switch s := e.signed(e.slope[v]); {
		case s.lo >= 0:
			box[i], some = at(box[i].lo), true
		case s.hi <= 0:
			box[i], some = at(box[i].hi), true
		}
	}
	return some
}

// signed is an interval times the sign.
func (e *end) signed(b interval) interval {
	if e.sign < 0 {
		return b.neg()
	}
	return b
}

func (e *end) least(b interval) float64 { return e.signed(b).lo }

// allowed tells whether the choices that the region took can be right in it.
func (e *end) allowed(x *region) bool {
	for i, k := range x.took {
		if e.nodes[i].op != opBelow {
			continue
		}
		args := e.operands(i)
		a, b := e.at[args[0]], e.at[args[1]]
		if k == 2 && a.lo >= b.hi || k == 3 && a.hi < b.lo {
			return false
		}
	}
	return true
}

// constrained tells that the region took choices that hold in a part of it only.
func (e *end) constrained(x *region) bool {
	for i := range x.took {
		if e.nodes[i].op == opBelow {
			return true
		}
	}
	return false
}

// choice is an open choice nearest to the result that can be settled: one
// between two branches, or a least or a most of which only one can count
// wherever the value is least. -1 where there is none.
func (e *end) choice(x *region) int {
	for j := len(e.order) - 1; j >= 0; j-- {
		i := e.order[j]
		switch e.ops[i] {
		case opAbs, opMin, opMax, opBelow:
		default:
			continue
		}
		if _, ok := x.took[i]; ok || e.slope[i] == at(0) {
			continue
		}
		s, args := e.signed(e.slope[i]), e.operands(i)
		a := e.at[args[0]]
		switch o := e.ops[i]; {
		case o == opAbs && a.lo < 0 && a.hi > 0 && s.hi <= 0:
			return i
		case o == opMin && s.lo >= 0 || o == opMax && s.hi <= 0, o == opBelow:
			if b := e.at[args[1]]; a.lo < b.hi && b.lo <= a.hi {
				return i
			}
		}
	}
	return -1
}

// costliest is the variable over which the value changes most; -1 where none
// has a width.
func (e *end) costliest(box []interval) int {
	most, out := 0.0, -1
	for i, v := range e.vars {
		w := box[i].hi - box[i].lo
		if !(w > 0) {
			continue
		}
		cost := w * max(math.Abs(e.slope[v].lo), math.Abs(e.slope[v].hi))
		if math.IsInf(cost, 0) || math.IsNaN(cost) {
			cost = math.MaxFloat64 * w / (e.within[v].hi - e.within[v].lo)
		}
		if cost > most {
			most, out = cost, i
		}
	}
	return out
}

// mostNarrowed is how many slopes narrowing may take, one a node and variable.
const mostNarrowed = 60_000

// sheets are what narrow writes on, kept for the next.
var sheets = sync.Pool{New: func() any { return new([]interval) }}

// narrow encloses everything on the way once more, each by the mean-value form
// as well, so that slopes are taken over what it really spans. It tells whether
// there was anything to do.
func (e *end) narrow(x *region, box []interval) bool {
	var left []int
	for i := range box {
		if box[i].lo < box[i].hi {
			left = append(left, i)
		}
	}
	m := len(left)
	if m == 0 || m*len(e.order) > mostNarrowed {
		return false
	}
	e.middle = copied(e.middle, box)
	middle, off := e.middle, make([]interval, m)
	for j, i := range left {
		c := at(box[i].lo/2 + box[i].hi/2)
		middle[i], off[j] = c, box[i].sub(c)
	}
	if !e.forward(x, middle) {
		return false
	}
	for _, i := range e.order {
		e.mid[i] = e.at[i]
	}
	e.work += m
	slopes := make([][]interval, len(e.nodes))
	size := m * (len(e.order) + m)
	sheet := sheets.Get().(*[]interval)
	defer sheets.Put(sheet)
	*sheet = slices.Grow((*sheet)[:0], size)
	all := (*sheet)[:size]
	clear(all)
	next := func() []interval { s := all[:m:m]; all = all[m:]; return s }
	for i, v := range e.vars {
		e.at[v] = box[i]
	}
	for j, i := range left {
		slopes[e.vars[i]] = next()
		slopes[e.vars[i]][j] = at(1)
	}
	for _, i := range e.order {
		if e.isLifted(i) >= 0 {
			continue
		}
		n, args := e.nodes[i], e.operands(i)
		own := next()
		slopes[i] = own
		boxes := e.gather(i, e.at)
		for k, a := range args {
			if slopes[a] == nil {
				continue
			}
			s := e.partial(x, i, k, boxes)
			if s == at(0) {
				continue
			}
			for j, d := range slopes[a] {
				if d != at(0) {
					own[j] = own[j].add(s.mul(d))
				}
			}
		}
		b := whole
		if taken, ok := e.settled(x, i); ok {
			b = taken
		} else if out := n.enclose(boxes); !math.IsNaN(out.lo) && !math.IsNaN(out.hi) {
			b = out
		}
		sum := e.mid[i]
		for j, d := range own {
			if d != at(0) {
				sum = sum.add(d.mul(off[j]))
			}
		}
		if !math.IsNaN(sum.lo) && !math.IsNaN(sum.hi) {
			b = b.meet(sum)
		}
		e.at[i] = b
	}
	return true
}

// mean bounds a region by the mean-value form about the point that makes the most
// of it (E. Baumann, Optimal Centered Forms, BIT 28, 1988).
func (e *end) mean(x *region, box []interval) {
	e.middle = copied(e.middle, box)
	sum, middle := at(0), e.middle
	for i, v := range e.vars {
		if box[i].lo == box[i].hi {
			continue
		}
		if !e.slope[v].finite() {
			return
		}
		s, b := e.signed(e.slope[v]), box[i]
		m := b.lo/2 + b.hi/2
		if s.lo < 0 && s.hi > 0 {
			m = min(max(s.hi/(s.hi-s.lo)*b.lo-s.lo/(s.hi-s.lo)*b.hi, b.lo), b.hi)
		}
		middle[i] = at(m)
		sum = sum.add(e.slope[v].mul(b.sub(at(m))))
	}
	if e.forward(x, middle) {
		if b := e.least(e.total(x).add(sum)); !math.IsNaN(b) {
			x.bound, x.last = max(x.bound, b), b
		}
	}
}

// try takes the value at the middle of a region and at the corner that the
// slopes point to.
func (e *end) try(box []interval) {
	middle, corner := e.points(box)
	e.best = min(e.best, e.value(middle), e.value(corner))
}

func (e *end) points(box []interval) (middle, corner []float64) {
	middle, corner = make([]float64, len(box)), make([]float64, len(box))
	for i, v := range e.vars {
		b, s := box[i], e.signed(e.slope[v])
		middle[i], corner[i] = b.lo/2+b.hi/2, b.lo
		if b.lo == b.hi {
			middle[i] = b.lo
		}
		if s.hi < -s.lo {
			corner[i] = b.hi
		}
	}
	return middle, corner
}
