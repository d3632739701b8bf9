package quantity

import "math"

// Tightening: what a region's least value is bounded by, and how it is made smaller.

// tighten fixes every variable in which the value is monotone at the end that
// makes it least, takes the slopes again over the box that is left, and bounds
// what remains by the mean-value form. It tells whether the region can hold
// anything.
func (e *end) tighten(x *region) bool {
	line := x.lean
	x.lean = nil
	if !e.forward(x, x.box) || !e.allowed(x) {
		return false
	}
	if line != nil && e.open(line.node) {
		x.bound = max(x.bound, e.least(e.total(x))) // where the line is far from its bend
		if x.lean = line; !e.forward(x, x.box) {
			return false
		}
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
	// What a line in place of a bend falls with bounds the value, and need not be
	// what the value itself falls with.
	if held && x.lean == nil && !e.constrained(x) {
		x.box = e.cut(x.box)
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
