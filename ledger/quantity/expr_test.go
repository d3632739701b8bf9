package quantity

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// expr is a random expression that can be built of quantities and worked out
// in plain arithmetic apart from the package: leaves first, then steps that
// each take earlier ones, so that any may be shared.
type expr struct {
	leaves []interval
	mids   []float64
	steps  []exprStep
}

type exprStep struct {
	op   string
	args [4]int
}

var (
	smoothOps = []string{"add", "sub", "mul", "div", "neg", "sum", "square", "cube", "inverse", "exp", "sin", "cos", "atan", "times", "as"}
	bentOps   = append(slices.Clone(smoothOps), "sqrt", "root", "log", "asin", "tan", "abs", "min", "max", "hypot", "linear", "step", "below", "itself", "zero")

	ramp   = &Table{Name: "ramp", X: []float64{-8, -1, 0, 0.5, 3, 8}, Y: []float64{2, -1, 0, 4, 4, -6}}
	stairs = &Table{Name: "stairs", X: []float64{-8, -1, 0, 0.5, 3, 8}, Y: []float64{2, -1, 0, 4, 4, -6}, Step: true}
)

func (s exprStep) build(v []Quantity) Quantity {
	a, b, c, d := v[s.args[0]], v[s.args[1]], v[s.args[2]], v[s.args[3]]
	switch s.op {
	case "add":
		return a.Add(b)
	case "sub":
		return a.Sub(b)
	case "mul":
		return a.Mul(b)
	case "div":
		return a.Div(b)
	case "neg":
		return a.Neg()
	case "sum":
		return Sum(Ratio, a, b, c, d, a)
	case "square":
		return Pow(a, 2)
	case "itself":
		return a.Mul(a)
	case "cube":
		return Pow(a, 3)
	case "inverse":
		return Pow(a, -1)
	case "root":
		return Pow(a, 0.4)
	case "sqrt":
		return Sqrt(a)
	case "exp":
		return Exp(a)
	case "log":
		return Log(a)
	case "sin":
		return Sin(InRadians(a))
	case "cos":
		return Cos(InRadians(a))
	case "tan":
		return Tan(InRadians(a))
	case "atan":
		return Radians(Atan(a))
	case "asin":
		return Radians(Asin(a))
	case "times":
		return a.Times(-2.5)
	case "as":
		return a.As("it", "a")
	case "abs":
		return Abs(a)
	case "min":
		return Min(a, b, c)
	case "max":
		return Max(a, b, c)
	case "hypot":
		return Hypot(a, b)
	case "linear":
		return ramp.At(a)
	case "step":
		return stairs.At(a)
	case "below":
		return Below(a, b, c, d)
	case "zero":
		return a.Times(0)
	}
	panic(s.op)
}

// plain works the step out in plain arithmetic; NaN where there is no result
// or, at a jump, where rounding alone decides.
func (s exprStep) plain(v []float64) float64 {
	a, b, c, d := v[s.args[0]], v[s.args[1]], v[s.args[2]], v[s.args[3]]
	switch s.op {
	case "add":
		return a + b
	case "sub":
		return a - b
	case "mul":
		return a * b
	case "div":
		return a / b
	case "neg":
		return -a
	case "sum":
		return a + b + c + d + a
	case "square", "itself":
		return a * a
	case "cube":
		return a * a * a
	case "inverse":
		return 1 / a
	case "root":
		return math.Exp(0.4 * math.Log(a))
	case "sqrt":
		return math.Sqrt(a)
	case "exp":
		return math.Exp(a)
	case "log":
		return math.Log(a)
	case "sin":
		return math.Sin(a)
	case "cos":
		return math.Cos(a)
	case "tan":
		return math.Tan(a)
	case "atan":
		return math.Atan(a)
	case "asin":
		return math.Asin(a)
	case "times":
		return -2.5 * a
	case "as":
		return a
	case "abs":
		return math.Abs(a)
	case "min":
		return min(a, b, c)
	case "max":
		return max(a, b, c)
	case "hypot":
		return math.Hypot(a, b)
	case "linear", "step":
		return plainTable(s.op, a)
	case "below":
		if a != b && math.Abs(a-b) < 1e-9*(math.Abs(a)+math.Abs(b)) {
			return math.NaN()
		}
		if a < b {
			return c
		}
		return d
	case "zero":
		return 0 * a
	}
	panic(s.op)
}

func plainTable(kind string, x float64) float64 {
	for i := len(ramp.X) - 1; i >= 0; i-- {
		switch at := ramp.X[i]; {
		case kind == "step" && x != at && math.Abs(x-at) < 1e-9:
			return math.NaN()
		case x < at:
			continue
		case kind == "step" || x == at:
			return ramp.Y[i]
		case i == len(ramp.X)-1:
			return math.NaN()
		default:
			f := (x - at) / (ramp.X[i+1] - at)
			return (1-f)*ramp.Y[i] + f*ramp.Y[i+1]
		}
	}
	return math.NaN()
}

// quantities builds the expression; ok is false where a step has no result.
func (e *expr) quantities() (leaves []Quantity, result Quantity) {
	for i, l := range e.leaves {
		r := Reading{Value: e.mids[i], Low: l.lo, High: l.hi, Grade: Measured, Unit: unitBySymbol[""]}
		leaves = append(leaves, Leaf(r, &Source{Entry: "part." + string(rune('a'+i)), Key: "k"}))
	}
	all := slices.Clone(leaves)
	for _, s := range e.steps {
		all = append(all, s.build(all))
	}
	return leaves, all[len(all)-1]
}

// at works the expression out at a point of its leaves, with the largest
// magnitude on the way, by which rounding is measured.
func (e *expr) at(leaves []float64) (result, size float64) {
	v := slices.Clone(leaves)
	for _, s := range e.steps {
		v = append(v, s.plain(v))
	}
	for _, x := range v {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return math.NaN(), 0
		}
		size = max(size, math.Abs(x))
	}
	return v[len(v)-1], size
}

// sample is a point of the leaves, their ends and middles often.
func (e *expr) sample(rnd *rand.Rand) []float64 {
	out := make([]float64, len(e.leaves))
	for i, l := range e.leaves {
		switch rnd.IntN(5) {
		case 0:
			out[i] = l.lo
		case 1:
			out[i] = l.hi
		case 2:
			out[i] = e.mids[i]
		default:
			out[i] = min(max(l.lo+rnd.Float64()*(l.hi-l.lo), l.lo), l.hi)
		}
	}
	return out
}

// drawExpr draws an expression that has a result at its nominal values.
func drawExpr(t *rapid.T, ops []string) *expr {
	e := &expr{}
	for i := range rapid.IntRange(1, 5).Draw(t, "leaves") {
		l := fmt.Sprint("leaf ", i)
		mid := coarse(rapid.OneOf(rapid.SampledFrom([]float64{0, 1, -1, 0.5, 2, 3}), rapid.Float64Range(-6, 6)).Draw(t, l))
		tol := rapid.OneOf(rapid.SampledFrom([]float64{0, 0.01, 0.5, 1}), rapid.Float64Range(0, 2))
		e.mids = append(e.mids, mid)
		e.leaves = append(e.leaves, interval{mid - coarse(tol.Draw(t, l+" down")), mid + coarse(tol.Draw(t, l+" up"))})
	}
	all, _ := e.quantities()
	for range rapid.IntRange(1, 14).Draw(t, "steps") {
		s := exprStep{op: rapid.SampledFrom(ops).Draw(t, "op")}
		for j := range s.args {
			// The latest is taken often, so that the expression grows deep.
			k := rapid.IntRange(0, 2*len(all)-1).Draw(t, "arg")
			s.args[j] = min(k, len(all)-1)
		}
		if n := s.build(all); n.Known() {
			all = append(all, n)
			e.steps = append(e.steps, s)
		}
	}
	return e
}

// coarse keeps values on a grid on which sums of them are exact.
func coarse(v float64) float64 { return math.Round(v*4096) / 4096 }

// atLeast is how many cases a test of drawn expressions has to come by: a fifth of
// them with -short, of which rapid makes a fifth as many checks.
func atLeast(n int) int {
	if testing.Short() {
		return n / 5
	}
	return n
}
