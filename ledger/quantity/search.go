package quantity

import (
	"container/heap"
	"math"
	"slices"
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
	live   []bool     // what of all nodes is either, or rests on it
	steps  []step     // order, each with what it takes
	sums   []sumOf    // those of the steps
	spans  []interval // how far each of lifts ranges
	lifts  []int      // quotients that are searched as variables of their own
	lifted []int      // their places in lifts, counted from 1, by node; nil while none is
}

const (
	mostWork  = 100_000 // evaluations of a node for one end of a range
	mostWidth = 0.004   // of the range: what is not worth a search at either end
	rounds    = 12      // of taking slopes again over a smaller box
)

// end is the search for one end of the range: the least of sign times the value.
type end struct {
	*problem
	sign float64
	best float64 // the least that a point has come to
	work int     // how often everything was gone through
	heap regions
	rest float64 // what bounds the regions that were left

	hasty bool // narrowing is not worth its while where something bends
}

// copied is a list written over another, where that is long enough.
func copied[T any](over, list []T) []T { return append(over[:0], list...) }

// end begins the search for one end.
func (p *problem) end(sign float64, hasty bool) *end {
	box := p.cut(p.within[:len(p.vars)])
	for i, v := range p.vars {
		box[i] = p.within[v]
	}
	e := &end{problem: p, sign: sign, best: math.Inf(1), rest: math.Inf(1), hasty: hasty}
	e.add(&region{box: box, bound: math.Inf(-1)})
	e.choose(0)
	return e
}

// slackOf is how far a bound may be from the points that were found, which came to
// this at either end.
func slackOf(least, most float64) float64 {
	slack := mostWidth * (most - least)
	if !(slack > 0) || math.IsInf(slack, 0) {
		return 0
	}
	return slack
}

// solve gives the range.
func (p *problem) solve(work int) interval {
	ends := [2]*end{p.end(1, work == 0), p.end(-1, work == 0)}
	slack := slackOf(ends[lowEnd].best, -ends[highEnd].best)
	budget := work / max(1, len(p.order))
	if budget > 0 && len(ends[0].heap)+len(ends[1].heap) > 0 && p.lift() {
		budget *= raised
	}
	for _, e := range ends {
		if len(p.lifts) > 0 {
			e.choose(slack)
		}
		roots := e.heap
		e.heap = nil
		for _, x := range roots {
			e.problem, e.heap = p, append(e.heap[:0:0], x)
			if budget > 0 {
				e.ready(x, slack)
			}
			e.search(slack, budget)
			e.rest = e.bound()
		}
	}
	return interval{ends[lowEnd].bound(), -ends[highEnd].bound()}
}

// mostChosen is how many choices are settled before anything is halved.
const mostChosen = 4

// choose settles open choices before anything is halved and any quotient is lifted:
// more is fixed in what comes of them.
func (e *end) choose(slack float64) {
	for range mostChosen {
		if len(e.heap) == 0 || e.heap[0].open < 0 || e.best-e.heap[0].bound <= slack {
			return
		}
		for _, part := range e.settle(heap.Pop(&e.heap).(*region)) {
			e.add(part)
		}
	}
}

// ready does once what makes the search from a region short.
func (e *end) ready(x *region, slack float64) {
	before := e.work
	e.leave(x)
	if !(e.best-x.bound <= slack) {
		e.ridges(x)
		e.lean(x, slack)
	}
	e.work = before // what is left to do is not less for it
	e.raise()
}

// leave leaves out of the search what a region has fixed: what has no width in it
// stands as it is, and of a sum only the terms with a width are added up each time.
func (e *end) leave(x *region) {
	live := make([]bool, len(e.nodes))
	p, box := *e.problem, x.box[:0:0]
	p.vars, p.order, p.live = nil, nil, live
	for i, v := range e.vars {
		if x.box[i].lo < x.box[i].hi {
			if x.split == i {
				x.split = len(box)
			}
			live[v], p.vars, box = true, append(p.vars, v), append(box, x.box[i])
		}
	}
	if len(box) == len(x.box) {
		return
	}
	center, _ := e.points(x.box)
	e.value(center)
	e.forward(x, x.box)
	for _, i := range e.order {
		if slices.ContainsFunc(e.operands(i), func(a int) bool { return live[a] }) {
			live[i], p.order = true, append(p.order, i)
		}
	}
	p.lay()
	x.box, e.problem = box, &p
}

// bound is what no value is less than.
func (e *end) bound() float64 {
	if len(e.heap) == 0 {
		return min(e.best, e.rest)
	}
	return min(e.best, e.rest, e.heap[0].bound)
}

func (e *end) search(slack float64, budget int) {
	for e.work < budget && len(e.heap) > 0 && !(e.best-e.heap[0].bound <= slack) {
		x := e.heap[0]
		var parts []*region
		switch {
		case x.open >= 0:
			parts = e.settle(x)
		case x.split >= 0:
			parts = e.halves(x)
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

// signed is an interval times the sign.
func (e *end) signed(b interval) interval {
	if e.sign < 0 {
		return b.neg()
	}
	return b
}

func (e *end) least(b interval) float64 { return e.signed(b).lo }

// try takes the value at the middle of a region and at the corner that the
// slopes point to.
func (e *end) try(box []interval) {
	center, corner := e.points(box)
	e.best = min(e.best, e.value(center), e.value(corner))
}

// points are both, until they are asked for again.
func (e *end) points(box []interval) (center, corner []float64) {
	e.center, e.corner = sized(e.center, len(box)), sized(e.corner, len(box))
	for i, v := range e.vars {
		b, s := box[i], e.signed(e.slope[v])
		e.center[i], e.corner[i] = b.lo/2+b.hi/2, b.lo
		if b.lo == b.hi {
			e.center[i] = b.lo
		}
		if s.hi < -s.lo {
			e.corner[i] = b.hi
		}
	}
	return e.center, e.corner
}
