package quantity

import (
	"math"
	"slices"
)

// What bends is a minimum, a maximum or a magnitude, whose branches are a value and
// its negative.
//
// A minimum is the most where two of its branches are alike, in the middle of the
// box: neither corners nor middles come near. Yet it lies between the corners in
// which either branch is the most, and on the way from one to the other the value
// rises and then falls. The same holds of a maximum or a magnitude that is the
// least.

const (
	mostRidges = 4  // that are looked for at one end, those nearest to the result
	ridgeSteps = 24 // each takes three fifths of the way that is left
)

// ridges tries points on the ridges of a region.
func (e *end) ridges(x *region) {
	bend := opMin
	if e.sign > 0 {
		bend = opMax
	}
	left := mostRidges
	for j := len(e.order) - 1; j >= 0 && left > 0; j-- {
		i := e.order[j]
		if o := e.ops[i]; o != bend && o != opAbs {
			continue
		}
		left--
		a, b := e.summit(x, i, 0), e.summit(x, i, 1)
		if a != nil && b != nil {
			e.climb(a, b)
		}
	}
}

// summit is the corner to which the slopes of one branch point; nil where it has
// no value.
func (e *end) summit(x *region, choice, branch int) []float64 {
	y := &region{box: x.box, took: map[int]int{choice: branch}}
	if !e.forward(y, y.box) {
		return nil
	}
	e.reverse(y)
	_, corner := e.points(y.box)
	return slices.Clone(corner)
}

// climb goes to the best point between two by the golden section (J. Kiefer,
// Sequential Minimax Search for a Maximum, Proc. AMS 4, 1953).
func (e *end) climb(a, b []float64) {
	point := make([]float64, len(a))
	try := func(t float64) float64 {
		for i := range a {
			point[i] = a[i] + t*(b[i]-a[i])
		}
		v := e.value(point)
		e.best = min(e.best, v)
		return v
	}
	golden := (math.Sqrt(5) - 1) / 2
	low, high := 0.0, 1.0
	s, t := 1-golden, golden
	vs, vt := try(s), try(t)
	for range ridgeSteps {
		if vs < vt {
			high, t, vt = t, s, vs
			s = high - golden*(high-low)
			vs = try(s)
		} else {
			low, s, vs = s, t, vt
			t = low + golden*(high-low)
			vt = try(t)
		}
	}
}

// lean takes a bend for a line between its two branches,
//
//	min(a, b) <= (1 - k) a + k b <= max(a, b)
//
// for any k from 0 to 1, so that what follows from the one or the other bounds the
// value as well. The k that bounds it best is that where the branches come to be
// alike in the place where the bound is taken (Lagrange's relaxation).
type lean struct {
	node int
	by   float64
}

// mostLeans is how often k is halved.
const mostLeans = 16

// steep is the slope of the line by an operand.
func (l *lean) steep(o op, operand int) float64 {
	switch {
	case o == opAbs:
		return 1 - 2*l.by
	case operand == 0:
		return 1 - l.by
	}
	return l.by
}

// branches are the boxes of a bend's two branches.
func (e *end) branches(i int) (a, b interval) {
	args := e.operands(i)
	if a = e.at[args[0]]; e.ops[i] == opAbs {
		return a, a.neg()
	}
	return a, e.at[args[1]]
}

func (e *end) leaned(l *lean) interval {
	a, b := e.branches(l.node)
	if e.ops[l.node] == opAbs {
		return a.mul(at(1 - 2*l.by))
	}
	return a.mul(at(1 - l.by)).add(b.mul(at(l.by)))
}

// bend is the bend nearest to the result that is open over the last enclosure and
// bends away from the end that is sought; -1 where there is none.
func (e *end) bend(x *region) int {
	for j := len(e.order) - 1; j >= 0; j-- {
		i := e.order[j]
		s := e.signed(e.slope[i])
		switch e.ops[i] {
		case opAbs, opMax:
			if s == at(0) || s.lo < 0 {
				continue
			}
		case opMin:
			if s == at(0) || s.hi > 0 {
				continue
			}
		default:
			continue
		}
		if _, took := x.took[i]; took {
			continue
		}
		if e.open(i) {
			return i
		}
	}
	return -1
}

// open tells that either of a bend's branches may count over the last enclosure.
func (e *end) open(i int) bool {
	a, b := e.branches(i)
	return a.lo < b.hi && b.lo < a.hi
}

// lean bounds a region by a line in place of its first bend.
func (e *end) lean(x *region, slack float64) {
	if !e.forward(x, x.box) {
		return
	}
	e.reverse(x)
	i := e.bend(x)
	if i < 0 {
		return
	}
	defer func(before bool) { e.hasty = before }(e.hasty)
	e.hasty = true
	low, high := 0.0, 1.0
	var one, other []float64 // where the bound was taken last with either branch the better
	defer func() {
		if one != nil && other != nil {
			e.climb(one, other)
		}
	}()
	for range mostLeans {
		k := (low + high) / 2
		y := &region{box: x.box, took: x.took, bound: math.Inf(-1), lean: &lean{i, k}}
		if !e.forward(y, y.box) {
			return
		}
		e.reverse(y)
		box, held := e.shrink(y)
		if !held {
			return
		}
		_, corner := e.points(box)
		if y.bound > x.bound {
			x.bound, x.lean, x.split = y.bound, y.lean, e.costliest(x.box)
		}
		if e.best-x.bound <= slack {
			return
		}
		a, b := e.branches(i)
		if (mid(b) > mid(a)) == (e.ops[i] != opMin) {
			low, one = k, copied(one, corner)
		} else {
			high, other = k, copied(other, corner)
		}
	}
}
