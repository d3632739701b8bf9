package quantity

import "math"

func compute(o op, dim Dim, args ...*node) Quantity {
	n := &node{op: o, dim: dim}
	n.args = append(n.pair[:0], args...)
	switch o {
	case opAdd, opSub, opSum, opNeg, opAbs, opMin, opMax, opBelow:
		for _, a := range args {
			n.percent = n.percent || a.percent && a.dim == dim
			n.air = n.air || a.air && a.dim == dim
		}
	}
	return n.done()
}

// done works out value and interval once the operands are in place.
func (n *node) done() Quantity {
	if n.needs = union(n.args); len(n.needs) > 0 {
		return Quantity{n}
	}
	var vals [4]float64
	var boxes [4]interval
	v, b := vals[:0], boxes[:0]
	for _, a := range n.args {
		v, b = append(v, a.val), append(b, a.fwd)
	}
	n.val, n.fwd = n.point(v), n.enclose(b)
	if !n.sound() {
		n.needs = []Need{n.noResult()}
		n.val, n.fwd = 0, interval{}
		return Quantity{n}
	}
	n.fwd = n.fwd.hull(at(n.val))
	return Quantity{n}
}

func (n *node) sound() bool { return sound(n.val, n.fwd) }

// sound tells that an operation had a result.
func sound(val float64, box interval) bool {
	return !math.IsNaN(val) && !math.IsInf(val, 0) && !math.IsNaN(box.lo) && !math.IsNaN(box.hi)
}

// noResult is what a value waits for whose formula has no result, such as the
// square root of a negative value.
func (n *node) noResult() Need {
	need := Need{Key: "values for which " + n.opName() + " has a result"}
	if l := firstStanding(n); l != nil {
		need.Key = "values for which " + n.opName() + " of " + l.src.Path() + " has a result"
		need.Place = l.src.Place
	}
	return need
}

// firstStanding is the first leaf that stands in the ledger, or nil.
func firstStanding(n *node) *node {
	for _, l := range (Quantity{n}).leaves() {
		if l.src.Entry != "" {
			return l
		}
	}
	return nil
}

// Add, Sub, Mul, Div and Neg are arithmetic. Add and Sub want equal dimensions.
func (q Quantity) Add(p Quantity) Quantity {
	a, b := q.Dim(), p.Dim()
	if a.Point && b.Point {
		panic(DimensionError("a sum of two points: " + a.String()))
	}
	d := agree("a sum", a.diff(), b.diff())
	d.Point = (a.Point || b.Point) && !d.any
	return compute(opAdd, d, q.node(), p.node())
}

// Sub of two points is a difference; of a point and a difference, a point.
func (q Quantity) Sub(p Quantity) Quantity {
	a, b := q.Dim(), p.Dim()
	d := agree("a difference", a.diff(), b.diff())
	if b.Point && !a.Point && !a.any {
		panic(DimensionError("a point taken from a difference: " + b.String()))
	}
	d.Point = a.Point && !b.Point && !b.any
	return compute(opSub, d, q.node(), p.node())
}

// Mul multiplies.
func (q Quantity) Mul(p Quantity) Quantity {
	return compute(opMul, q.Dim().mul(p.Dim(), 1), q.node(), p.node())
}

// Div divides. A divisor that is zero gives a missing value.
func (q Quantity) Div(p Quantity) Quantity {
	return compute(opDiv, q.Dim().mul(p.Dim(), -1), q.node(), p.node())
}

// Neg changes the sign.
func (q Quantity) Neg() Quantity {
	if q.Dim().Point {
		panic(DimensionError("the negative of " + q.Dim().String()))
	}
	return compute(opNeg, q.Dim(), q.node())
}

// Times multiplies by a plain number of the formula.
func (q Quantity) Times(k float64) Quantity { return Number(k).Mul(q) }

// Sum adds any number of values of one dimension. The sum of none is zero of
// that dimension.
func Sum(dim Dim, terms ...Quantity) Quantity {
	if len(terms) == 0 {
		return SI(0, dim)
	}
	if dim.Point {
		panic(DimensionError("a sum of points: " + dim.String()))
	}
	args := make([]*node, len(terms))
	for i, t := range terms {
		args[i] = t.node()
		agree("a sum", dim, t.Dim())
	}
	return compute(opSum, dim, args...)
}

// Sqrt is the square root.
func Sqrt(q Quantity) Quantity {
	d, ok := q.Dim().half()
	if !ok {
		panic(DimensionError("a square root of " + q.Dim().String()))
	}
	return compute(opSqrt, d, q.node())
}

// Pow raises to a whole power, or a pure number to any power.
func Pow(q Quantity, k float64) Quantity {
	d := q.Dim()
	if k == math.Trunc(k) {
		d = d.times(int8(k))
	} else {
		pure("a fractional power", q)
	}
	return (&node{op: opPow, dim: d, args: []*node{q.node()}, pow: k}).done()
}

// Exp and Log are e^q and the natural logarithm of a pure number.
func Exp(q Quantity) Quantity { pure("exp", q); return compute(opExp, Ratio, q.node()) }

// Log is the natural logarithm of a pure number.
func Log(q Quantity) Quantity { pure("log", q); return compute(opLog, Ratio, q.node()) }

// Log10 is the decimal logarithm of a pure number.
func Log10(q Quantity) Quantity { return Log(q).Times(1 / math.Ln10) }

// Sin, Cos and Tan take an angle; Atan and Asin give one.
func Sin(q Quantity) Quantity { angle("sin", q); return compute(opSin, Ratio, q.node()) }

// Cos is the cosine of an angle.
func Cos(q Quantity) Quantity { angle("cos", q); return compute(opCos, Ratio, q.node()) }

// Tan is the tangent of an angle between -90 and 90 degrees.
func Tan(q Quantity) Quantity { angle("tan", q); return compute(opTan, Ratio, q.node()) }

// Atan is the angle whose tangent is q.
func Atan(q Quantity) Quantity { pure("atan", q); return compute(opAtan, Angle, q.node()) }

// Asin is the angle whose sine is q.
func Asin(q Quantity) Quantity { pure("asin", q); return compute(opAsin, Angle, q.node()) }

// Abs is the magnitude.
func Abs(q Quantity) Quantity { return compute(opAbs, q.Dim(), q.node()) }

// Min is the least of one or more values.
func Min(q Quantity, more ...Quantity) Quantity {
	for _, p := range more {
		q = compute(opMin, agree("a minimum", q.Dim(), p.Dim()), q.node(), p.node())
	}
	return q
}

// Max is the greatest of one or more values.
func Max(q Quantity, more ...Quantity) Quantity {
	for _, p := range more {
		q = compute(opMax, agree("a maximum", q.Dim(), p.Dim()), q.node(), p.node())
	}
	return q
}

// Hypot is the square root of the sum of two squares.
func Hypot(q, p Quantity) Quantity {
	d := agree("a hypotenuse", q.Dim(), p.Dim())
	if d.Point {
		panic(DimensionError("a hypotenuse of " + d.String()))
	}
	return compute(opHypot, d, q.node(), p.node())
}

// Arc takes an angle (or a speed of rotation) on a radius to the length (or
// speed) along the arc: r times the angle in radians.
func Arc(r, a Quantity) Quantity {
	return Radians(a).Mul(r)
}

// Radians counts an angle in radians as a pure number; a speed of rotation
// becomes a frequency, revolutions a mile a reciprocal length.
func Radians(a Quantity) Quantity {
	d := a.Dim()
	if !d.any && d.Angle != 1 {
		panic(DimensionError("radians of " + d.String()))
	}
	d.Angle = 0
	return compute(opSame, d, a.node())
}

// PerRadian is the reverse of Radians for a reciprocal: a count a revolution
// becomes a pure number of radians' share.
func PerRadian(a Quantity) Quantity {
	d := a.Dim()
	if !d.any && d.Angle != -1 {
		panic(DimensionError("a value a radian of " + d.String()))
	}
	d.Angle = 0
	return compute(opSame, d, a.node())
}

// InRadians makes an angle of a pure number, as an arc over its radius gives.
func InRadians(q Quantity) Quantity {
	d := q.Dim()
	if !d.any {
		if d.Angle != 0 {
			panic(DimensionError("an angle made of " + d.String()))
		}
		d.Angle = 1
	}
	return compute(opSame, d, q.node())
}

// FromZero measures a point from its scale's absolute zero: kelvins of a
// temperature, the plain pressure of an absolute one.
func FromZero(q Quantity) Quantity { return compute(opSame, q.Dim().diff(), q.node()) }

// OnScale is the reverse: a point so far above absolute zero.
func OnScale(q Quantity) Quantity {
	d := q.Dim()
	d.Point = !d.any
	return compute(opSame, d, q.node())
}

// Below is the first of two where q is below the threshold and the second
// where it is not. Where q's doubt leaves that open, the result's interval is
// the hull of both.
func Below(q, threshold, below, notBelow Quantity) Quantity {
	agree("a comparison", q.Dim(), threshold.Dim())
	return compute(opBelow, agree("a choice", below.Dim(), notBelow.Dim()), q.node(), threshold.node(), below.node(), notBelow.node())
}

func pure(what string, q Quantity) {
	if d := q.Dim(); !d.any && d != Ratio {
		panic(DimensionError(what + " of " + d.String()))
	}
}

func angle(what string, q Quantity) {
	if d := q.Dim(); !d.any && d != Angle {
		panic(DimensionError(what + " of " + d.String()))
	}
}
