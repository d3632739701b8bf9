package quantity

import "math"

// dust is how small a sum may be beside the greatest of its terms before it is
// what rounding left of nothing.
const dust = 1e-13

// Shown is the nominal value for print: that of a sum or a difference which
// comes to nothing is 0, where Value may keep what rounding left of it.
func (q Quantity) Shown() float64 {
	n := q.node()
	if q.Known() && math.Abs(n.val) < dust*n.scale(8) {
		return 0
	}
	return q.Value()
}

// mostTerms is how many terms of sums are looked through for the greatest. Of
// more, those that stand first count.
const mostTerms = 1000

// scale is the greatest magnitude among the terms of a sum, so many sums deep;
// 0 where there is none. A sum that stands in several is looked through once.
func (n *node) scale(deep int) float64 {
	if !sums(n.op) {
		return 0
	}
	most := 0.0
	seen := map[*node]bool{n: true}
	for level := []*node{n}; len(level) > 0 && deep > 0; deep-- {
		var next []*node
		for _, n := range level {
			if !sums(n.op) {
				continue
			}
			for _, a := range n.args {
				if n.op == opAdd || n.op == opSub || n.op == opSum {
					most = math.Max(most, math.Abs(a.val))
				}
				if sums(a.op) && !seen[a] && len(seen) < mostTerms {
					seen[a] = true
					next = append(next, a)
				}
			}
		}
		level = next
	}
	return most
}

// sums tells an operation that gives a sum of what it is made of, or the same.
func sums(o op) bool {
	switch o {
	case opAdd, opSub, opSum, opNeg, opSame, opAbs:
		return true
	}
	return false
}

// withoutDust takes a bound that is no further from zero than rounding left it
// back to zero.
func withoutDust(bound, left float64) float64 {
	if math.Abs(bound) <= 64*math.Abs(left) {
		return 0
	}
	return bound
}
