package quantity

import (
	"math"
	"slices"
)

// What many values share as a quotient t = n/d, such as a center of gravity that
// every mass is weighed against, leaves the sign of nearly every slope open
// while t has a width. So it is searched as a variable of its own, and what it
// should be is paid for: for any pull u,
//
//	least of f(x, n(x)/d(x))  >=  least over x and t of f(x, t) + u (n(x) - t d(x))
//
// (Lagrange's relaxation; for one quotient alone W. Dinkelbach, On Nonlinear
// Fractional Programming, Management Science 13, 1967). With u as the slope of f
// by n at one point, the slopes by all else hang on t, which is then halved, and
// hardly on each other.

// raised is how much more work a search with lifted quotients may take: of a
// region halved it gains far more, and seldom needs it all.
const raised = 40

// fewVars are halved as fast without.
const fewVars = 6

// mostLifts is how many quotients are lifted: each adds to what is halved.
const mostLifts = 4

// lift finds the quotients to lift and how far they range, and tells whether there
// are any.
func (p *problem) lift() bool {
	if len(p.vars) < fewVars {
		return false
	}
	stands := make([]bool, len(p.nodes))
	for _, v := range p.vars {
		stands[v] = true
	}
	for _, i := range p.order {
		if p.ops[i] == opDiv && p.liftable(i, stands) {
			p.lifts, stands[i] = append(p.lifts, i), true
		}
	}
	if len(p.lifts) > mostLifts {
		p.lifts = p.lifts[len(p.lifts)-mostLifts:]
	}
	for _, i := range p.lifts {
		stands[i] = false
	}
	for _, i := range p.lifts {
		out := p.problem(i, func(k int) bool { return stands[k] }).solve(0)
		p.spans = append(p.spans, out.meet(p.box[i]))
	}
	return len(p.lifts) > 0
}

// liftable tells that the two sides of a quotient share what they are made of,
// the quotients that are lifted already aside.
func (p *problem) liftable(i int, stands []bool) bool {
	over, under := p.operands(i)[0], p.operands(i)[1]
	if b := p.box[under]; !p.wide[over] || !p.wide[under] || b.lo <= 0 && b.hi >= 0 || !p.box[i].finite() {
		return false
	}
	mine := make([]bool, len(p.nodes))
	for _, v := range p.problem(over, func(k int) bool { return stands[k] }).vars {
		mine[v] = true
	}
	return slices.ContainsFunc(p.problem(under, func(k int) bool { return stands[k] }).vars, func(v int) bool { return mine[v] })
}

// raise begins the search anew with the lifted quotients as variables, those that
// still have a width.
func (e *end) raise() {
	p := *e.problem
	p.lifts, p.spans = nil, nil
	for j, i := range e.lifts {
		if p.live[i] {
			p.lifts, p.spans = append(p.lifts, i), append(p.spans, e.spans[j])
		}
	}
	if e.problem = &p; len(p.lifts) == 0 {
		return
	}
	p.lifted = make([]int, len(p.nodes))
	p.vars = slices.Concat(p.vars, p.lifts)
	for j, i := range p.lifts {
		p.lifted[i] = j + 1
	}
	roots := e.heap
	e.heap = nil
	for _, x := range roots {
		x.box = slices.Concat(x.box, p.spans)
		e.add(x)
	}
}

// mostTugs is how often a region's pulls are mended before it is halved.
const mostTugs = 6

// tug bounds a region with the pulls of the one that it is a part of, and mends
// them as long as that helps: the more the sides of a quotient are off where the
// bound is taken, the harder they are pulled, each step as far as would bring the
// bound up to the best point (B. T. Polyak, Minimization of Unsmooth Functionals,
// 1969).
func (e *end) tug(x *region) {
	if x.pull == nil {
		e.hold(x)
	}
	x.open, x.split = -1, -1
	best, free := *x, len(x.box)-len(e.lifts)
	best.last = math.Inf(-1)
	var lost float64
	e.turned = sized(e.turned, len(x.box))
	turned := e.turned // the slopes of each variable, where they were of one sign and the other
	var before []float64
	far := 1.0
	for tries := range mostTugs {
		copy(e.at, e.enclosed) // what going forward would come to again
		e.work++
		e.reverse(x)
		x.last = math.Inf(-1)
		box, held := e.shrink(x)
		if !held {
			break
		}
		off := e.off()
		for i, v := range e.vars {
			if s := e.signed(e.slope[v]); s.finite() {
				turned[i] = turned[i].hull(at(mid(s)))
			}
		}
		if x.last > best.last {
			best.last, best.pull, best.open = x.last, x.pull, e.choice(x)
			lost = e.loss(box, free)
			copy(box[free:], x.box[free:])
			best.split = e.costliest(box)
		}
		if tries == 0 {
			e.try(box)
		}
		if dot(off, before) < 0 {
			far /= 2
		}
		if before = off; x.bound >= e.best || math.IsInf(x.last, 0) || !e.mend(x, off, far) {
			break
		}
	}
	x.pull, x.open, x.split = best.pull, best.open, best.split
	if lost < (e.best-best.last)/4 && e.slim(x) {
		x.split = e.turner(x, turned, x.split)
	}
}

func dot(a, b []float64) (sum float64) {
	for i := range b {
		sum += a[i] * b[i]
	}
	return sum
}

// loss is what the mean-value form gives away in the variables that are left open,
// lifted quotients aside.
func (e *end) loss(box []interval, free int) (sum float64) {
	for i, v := range e.vars[:free] {
		if c := (box[i].hi - box[i].lo) * min(-e.slope[v].lo, e.slope[v].hi); c > 0 {
			sum += c
		}
	}
	return sum
}

// slim tells that the lifted quotients span little of what they did.
func (e *end) slim(x *region) bool {
	free := len(x.box) - len(e.lifts)
	for j, s := range e.spans {
		if b := x.box[free+j]; b.hi-b.lo > (s.hi-s.lo)/10 {
			return false
		}
	}
	return true
}

// turner is the variable that the pulls turned from one end to the other with
// the most at stake.
func (e *end) turner(x *region, turned []interval, split int) int {
	most := 0.0
	for i, t := range turned {
		if c := (x.box[i].hi - x.box[i].lo) * min(-t.lo, t.hi); c > most {
			most, split = c, i
		}
	}
	return split
}

// off is how far each quotient is from what its sides make, where the last
// bound was taken.
func (e *end) off() []float64 {
	out := make([]float64, len(e.lifts))
	for j, i := range e.lifts {
		over, under := e.operands(i)[0], e.operands(i)[1]
		out[j] = mid(e.at[over]) - mid(e.at[i])*mid(e.at[under])
	}
	return out
}

// mend gives the region the next pulls to try.
func (e *end) mend(x *region, off []float64, far float64) bool {
	size := 0.0
	scale := make([]float64, len(off))
	for j, i := range e.lifts {
		scale[j] = 1 / (mid(e.box[e.operands(i)[1]]) * (e.spans[j].hi - e.spans[j].lo))
		size += off[j] * off[j] * scale[j] * scale[j]
	}
	step := far * (e.best - x.last) / size
	if !(step > 0) || math.IsInf(step, 0) {
		return false
	}
	x.pull = slices.Clone(x.pull)
	for j, d := range off {
		x.pull[j] += e.sign * step * d * scale[j] * scale[j]
	}
	return true
}

// hold takes the pull on each lifted quotient's two sides from the slopes at the
// middle of a region.
func (e *end) hold(x *region) {
	e.middle = copied(e.middle, x.box)
	for i, b := range e.middle {
		e.middle[i] = at(b.lo/2 + b.hi/2)
	}
	if e.forward(x, e.middle) {
		e.reverse(x)
	}
	x.pull = make([]float64, len(e.lifts))
	for j, i := range e.lifts {
		if u := e.slope[i].lo; !math.IsNaN(u) && !math.IsInf(u, 0) {
			x.pull[j] = u
		}
	}
}

// apart carries the slope by a lifted quotient on to its two sides, by the pull;
// what is left is its own. While there is no pull yet, its slope is what the pull
// is to be.
func (e *end) apart(x *region, j int) {
	i := e.lifts[j]
	over, under := e.operands(i)[0], e.operands(i)[1]
	var u float64
	if x.pull == nil {
		e.slope[i] = e.slope[i].div(e.at[under])
		u = e.slope[i].lo
	} else {
		u = x.pull[j]
		e.slope[i] = e.slope[i].sub(at(u).mul(e.at[under]))
	}
	e.slope[over] = e.slope[over].add(at(u))
	e.slope[under] = e.slope[under].sub(at(u).mul(e.at[i]))
}

// total is what the value comes to with what the lifted quotients are held by.
func (e *end) total(x *region) interval {
	out := e.at[e.top]
	for j, u := range x.pull {
		i := e.lifts[j]
		over, under := e.operands(i)[0], e.operands(i)[1]
		out = out.add(at(u).mul(e.at[over].sub(e.at[i].mul(e.at[under]))))
	}
	return out
}
