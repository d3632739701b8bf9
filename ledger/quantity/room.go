package quantity

import (
	"math"
	"slices"
)

// Room is how far the values that a result lacks may go before it is less than
// zero: one value, or several of one dimension taken to be alike. SI.
type Room struct {
	Leaves []Quantity
	Each   float64 // the bound of each
	AtMost bool    // it passes up to there; else from there on
}

// All is what the values come to together at the bound.
func (r Room) All() float64 { return r.Each * float64(len(r.Leaves)) }

// mostLacking is of how many values room is sought.
const mostLacking = 12

// RoomOf solves a margin that lacks some numbers for them. It tells whether there
// is a bound: not where something else is lacking too, where the numbers are of
// several dimensions, where they pass or fail whatever they are, and where they
// pass in several stretches. The bound lies on the side that passes, within a
// millionth.
func RoomOf(margin Quantity) (Room, bool) {
	leaves, ok := wanting(margin.node(), nil)
	if !ok || len(leaves) == 0 || len(leaves) > mostLacking {
		return Room{}, false
	}
	dim := leaves[0].dim
	r := Room{}
	for _, l := range leaves {
		if l.dim != dim || dim.any {
			return Room{}, false
		}
		r.Leaves = append(r.Leaves, Quantity{l})
	}
	return r.solve(margin, dim)
}

// wanting gathers the numbers that a value lacks. Of a choice of the first that
// is known, it is the first that would do.
func wanting(n *node, out []*node) ([]*node, bool) {
	switch {
	case len(n.needs) == 0 || slices.Contains(out, n):
		return out, true
	case n.op == opLeaf:
		return append(out, n), n.asked && n.src.Entry != ""
	case n.op == opChoose && n.first:
		for _, a := range n.args {
			if all, ok := wanting(a, out); ok {
				return all, true
			}
		}
		return out, false
	case n.op == opChoose:
		return out, false
	}
	for _, a := range n.args {
		var ok bool
		if out, ok = wanting(a, out); !ok {
			return out, false
		}
	}
	return out, true
}

// tried are the sizes at which a margin is looked at first, in SI, between which
// its bound is sought.
var tried = func() []float64 {
	out := []float64{0}
	for k := -5; k <= 9; k++ {
		out = append(out, math.Pow10(k))
	}
	return out
}()

func (r Room) solve(margin Quantity, dim Dim) (Room, bool) {
	unit := &Unit{Symbol: siSymbol(dim), Dim: dim, Factor: 1}
	laid := margin.tape()
	open := slices.ContainsFunc(laid.nodes, func(n *node) bool { return n.op == opChoose }) // what is chosen may hang on them
	var known *tape                                                                         // the margin with values put in
	passes := func(v float64) (pass, ok bool) {
		if known == nil || open {
			put := map[*Source]Reading{}
			for _, l := range r.Leaves {
				put[l.Source()] = Reading{Value: v, Low: v, High: v, Grade: Stated, Unit: unit, Spelling: trim(v)}
			}
			m := laid.put(put)
			if !m.Known() {
				return false, false
			}
			known = m.tape()
		} else if !known.moved(r.Leaves, v) {
			return false, false
		}
		return !known.less(0), true
	}
	var a, b, last float64
	var before, any bool
	turns := 0
	for _, v := range tried {
		now, ok := passes(v)
		if !ok {
			continue
		}
		if any && now != before {
			turns++
			a, b, r.AtMost = last, v, before
		}
		last, before, any = v, now, true
	}
	if turns != 1 {
		return Room{}, false
	}
	for range 60 { // halves the stretch sixty times: far below a millionth, also from zero
		if b-a <= b/1e6 {
			break
		}
		m := a/2 + b/2
		if pass, ok := passes(m); ok && pass == r.AtMost {
			a = m
		} else {
			b = m
		}
	}
	if r.Each = b; r.AtMost {
		r.Each = a
	}
	return r, r.Each > 0
}

// moved puts an exact value in place of leaves, and tells whether every operation
// still has a result.
func (t *tape) moved(leaves []Quantity, v float64) bool {
	for i, n := range t.nodes {
		if n.op == opLeaf && slices.ContainsFunc(leaves, func(l Quantity) bool { return l.n.src == n.src }) {
			t.val[i], t.box[i] = v, at(v)
		}
	}
	return t.again()
}
