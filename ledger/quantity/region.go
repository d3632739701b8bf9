package quantity

import "math"

// Regions: parts of the boxes that a search goes through, and how they are cut.

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

// halves cuts a region in two along the variable that costs most; nil where it is
// too thin to cut.
func (e *end) halves(x *region) []*region {
	b := x.box[x.split]
	m := b.lo/2 + b.hi/2
	if !(b.lo < m && m < b.hi) {
		return nil
	}
	low, high := e.cut(x.box), e.cut(x.box)
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
