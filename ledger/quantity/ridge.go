package quantity

import "math"

// A minimum is the most where two of its branches are alike, in the middle of the
// box: neither corners nor middles come near. Yet it lies between the corners in
// which either branch is the most, and on the way from one to the other the value
// rises and then falls. The same holds of a maximum that is the least, and of a
// magnitude, whose branches are a value and its negative.

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
	return corner
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
