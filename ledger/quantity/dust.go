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

// scale is the greatest magnitude among the terms of a sum, so many sums deep;
// 0 where there is none.
func (n *node) scale(deep int) float64 {
	if deep == 0 {
		return 0
	}
	switch n.op {
	case opAdd, opSub, opSum, opNeg, opSame, opAbs:
	default:
		return 0
	}
	most := 0.0
	for _, a := range n.args {
		if n.op == opAdd || n.op == opSub || n.op == opSum {
			most = math.Max(most, math.Abs(a.val))
		}
		most = math.Max(most, a.scale(deep-1))
	}
	return most
}

// withoutDust takes a bound that is no further from zero than rounding left it
// back to zero.
func withoutDust(bound, left float64) float64 {
	if math.Abs(bound) <= 64*math.Abs(left) {
		return 0
	}
	return bound
}
