package quantity

import "math"

// point evaluates the operation on its operands' values.
func (n *node) point(v []float64) float64 {
	x := v[0]
	switch n.op {
	case opAdd:
		return x + v[1]
	case opSub:
		return x - v[1]
	case opMul:
		return x * v[1]
	case opDiv:
		return x / v[1]
	case opNeg:
		return -x
	case opSum:
		for _, y := range v[1:] {
			x += y
		}
		return x
	case opSqrt:
		return math.Sqrt(x)
	case opPow:
		return math.Pow(x, n.pow)
	case opExp:
		return math.Exp(x)
	case opLog:
		return math.Log(x)
	case opSin:
		return math.Sin(x)
	case opCos:
		return math.Cos(x)
	case opTan:
		return math.Tan(x)
	case opAtan:
		return math.Atan(x)
	case opAsin:
		return math.Asin(x)
	case opAbs:
		return math.Abs(x)
	case opMin:
		return min(x, v[1])
	case opMax:
		return max(x, v[1])
	case opHypot:
		return math.Hypot(x, v[1])
	case opTable:
		return n.table.value(x)
	case opBelow:
		switch {
		case x < v[1]:
			return v[2]
		case x >= v[1]:
			return v[3]
		}
		return math.NaN() // what decides has no value
	}
	return x
}

// enclose evaluates the operation on its operands' intervals.
func (n *node) enclose(v []interval) interval {
	x := v[0]
	switch n.op {
	case opAdd:
		return x.add(v[1])
	case opSub:
		return x.sub(v[1])
	case opMul:
		if n.args[0] == n.args[1] {
			return square(x)
		}
		return x.mul(v[1])
	case opDiv:
		return x.div(v[1])
	case opNeg:
		return x.neg()
	case opSum:
		for _, y := range v[1:] {
			x = x.add(y)
		}
		return x
	case opSqrt:
		return interval{max(0, x.lo), x.hi}.rising(math.Sqrt)
	case opPow:
		return power(x, n.pow)
	case opExp:
		return x.rising(math.Exp)
	case opLog:
		return interval{max(0, x.lo), x.hi}.rising(math.Log)
	case opSin:
		return x.sin()
	case opCos:
		return x.cos()
	case opTan:
		if x.pole() {
			return whole
		}
		return x.rising(math.Tan)
	case opAtan:
		return x.rising(math.Atan)
	case opAsin:
		if x.lo < x.hi { // near 1 it makes much of what rounding did to its argument
			x = interval{x.lo - asinRounding, x.hi + asinRounding}
		}
		return interval{max(-1, x.lo), min(1, x.hi)}.rising(math.Asin)
	case opAbs:
		return x.abs()
	case opMin:
		y := v[1]
		return interval{min(x.lo, y.lo), min(x.hi, y.hi)}
	case opMax:
		y := v[1]
		return interval{max(x.lo, y.lo), max(x.hi, y.hi)}
	case opHypot:
		a, b := x.abs(), v[1].abs()
		return interval{math.Hypot(a.lo, b.lo), math.Hypot(a.hi, b.hi)}
	case opTable:
		return n.table.enclose(x)
	case opBelow:
		y := v[1]
		switch {
		case x.hi < y.lo:
			return v[2]
		case x.lo >= y.hi:
			return v[3]
		}
		return v[2].hull(v[3])
	}
	return x
}

func square(x interval) interval { a := x.abs(); return interval{a.lo * a.lo, a.hi * a.hi} }

func power(x interval, k float64) interval {
	f := func(v float64) float64 { return math.Pow(v, k) }
	integer := k == math.Trunc(k)
	even := integer && math.Mod(k, 2) == 0
	switch {
	case k == 0:
		return at(1)
	case !integer:
		x.lo = max(0, x.lo)
		if k > 0 {
			return x.rising(f)
		}
		return x.falling(f)
	case k > 0 && even:
		return x.abs().rising(f)
	case k > 0:
		return x.rising(f)
	case x.lo <= 0 && x.hi >= 0:
		return whole
	case even:
		return x.abs().falling(f)
	}
	return x.falling(f)
}

// slope is the hull of the partial derivatives by operand i over the intervals
// of the operands: a point for a smooth operation on points, the hull of the
// slopes on either side of a bend.
func (n *node) slope(i int, v []interval) interval {
	x := v[0]
	switch n.op {
	case opAdd, opSum, opSame:
		return at(1)
	case opSub:
		return at(float64(1 - 2*i))
	case opNeg:
		return at(-1)
	case opMul:
		return v[1-i]
	case opDiv:
		y := v[1]
		if i == 0 {
			return y.inv()
		}
		if y.lo < 0 && y.hi > 0 {
			return whole // falling on either side of the pole, yet not across it
		}
		return x.neg().div(square(y))
	case opSqrt:
		if x.lo <= 0 {
			return clipped(x.lo < 0)
		}
		return x.falling(func(v float64) float64 { return 0.5 / math.Sqrt(v) })
	case opPow:
		if x.lo < 0 && n.pow != math.Trunc(n.pow) {
			return whole
		}
		return power(x, n.pow-1).mul(at(n.pow))
	case opExp:
		return x.rising(math.Exp)
	case opLog:
		if x.lo <= 0 {
			return clipped(x.lo < 0)
		}
		return x.inv()
	case opSin:
		return x.cos()
	case opCos:
		return x.sin().neg()
	case opTan:
		if x.pole() {
			return whole
		}
		return square(x.rising(math.Tan)).add(at(1))
	case opAtan:
		return square(x).add(at(1)).inv()
	case opAsin:
		return asinSlope(x)
	case opAbs:
		switch {
		case x.lo >= 0:
			return at(1)
		case x.hi <= 0:
			return at(-1)
		}
		return interval{-1, 1}
	case opMin, opMax:
		return chosen(n.op == opMin, i, x, v[1])
	case opHypot:
		return hypotSlope(v[i], v[1-i])
	case opTable:
		return n.table.slopes(x)
	case opBelow:
		return n.belowSlope(i, x, v[1])
	}
	return whole
}

// clipped is the slope of a rising function that is steep without end where
// its domain ends. Where the box reaches further out, the end of the box is no
// place to look for the most, so nothing is claimed.
func clipped(beyond bool) interval {
	if beyond {
		return whole
	}
	return interval{0, math.Inf(1)}
}

// asinRounding is what the argument of asin may have lost to rounding.
const asinRounding = 16 * 0x1p-52

func asinSlope(x interval) interval {
	a := x.abs()
	if a.hi >= 1 {
		return clipped(a.hi > 1)
	}
	return a.rising(func(v float64) float64 { return 1 / math.Sqrt(1-v*v) })
}

// chosen is the slope of a minimum or maximum by one of its operands.
func chosen(least bool, i int, x, y interval) interval {
	own, other := x, y
	if i == 1 {
		own, other = y, x
	}
	if !least {
		own, other = own.neg(), other.neg()
	}
	switch {
	case own == other && own.lo == own.hi: // a tie of points goes to the first
		return at(float64(1 - i))
	case own.hi < other.lo:
		return at(1)
	case own.lo > other.hi:
		return at(0)
	}
	return interval{0, 1}
}

// hypotSlope is own / hypot(own, other), which rises with own.
func hypotSlope(own, other interval) interval {
	b := other.abs()
	f := func(v, w float64) float64 {
		if v == 0 {
			return 0
		}
		return v / math.Hypot(v, w)
	}
	out := interval{min(f(own.lo, b.lo), f(own.lo, b.hi)), max(f(own.hi, b.lo), f(own.hi, b.hi))}
	if b.lo == 0 && own.lo <= 0 && own.hi >= 0 {
		return out.hull(interval{-1, 1}.meet(interval{signOf(own.lo), signOf(own.hi)}))
	}
	return out
}

func signOf(v float64) float64 {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

// belowSlope: where the choice is open the result may jump with what it hangs on,
// so no slope is claimed by that; of what it chooses between, either may count.
func (n *node) belowSlope(i int, x, y interval) interval {
	switch {
	case x.hi < y.lo:
		return at(float64(boolToInt(i == 2)))
	case x.lo >= y.hi:
		return at(float64(boolToInt(i == 3)))
	case i >= 2:
		return interval{0, 1}
	}
	return whole
}

func boolToInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

var opNames = [...]string{
	opLeaf: "a value", opAdd: "a sum", opSub: "a difference", opMul: "a product", opDiv: "a quotient", opNeg: "a negation", opSum: "a sum",
	opSqrt: "a square root", opPow: "a power", opExp: "exp", opLog: "a logarithm", opSin: "sin", opCos: "cos", opTan: "tan", opAtan: "atan", opAsin: "asin",
	opAbs: "a magnitude", opMin: "a minimum", opMax: "a maximum", opHypot: "a hypotenuse", opTable: "a table", opChoose: "a choice", opBelow: "a choice", opSame: "a value",
}

func (n *node) opName() string { return opNames[n.op] }
