package quantity

import "math"

// interval is a closed interval of the extended reals, low end first.
type interval struct{ lo, hi float64 }

var whole = interval{math.Inf(-1), math.Inf(1)}

func at(v float64) interval { return interval{v, v} }

func (a interval) add(b interval) interval { return interval{a.lo + b.lo, a.hi + b.hi} }
func (a interval) sub(b interval) interval { return interval{a.lo - b.hi, a.hi - b.lo} }
func (a interval) neg() interval           { return interval{-a.hi, -a.lo} }

func (a interval) mul(b interval) interval {
	if a == at(1) {
		return b
	}
	if b == at(1) {
		return a
	}
	if out := corners(a, b); out.lo <= out.hi {
		return out
	}
	p, q, r, s := prod(a.lo, b.lo), prod(a.lo, b.hi), prod(a.hi, b.lo), prod(a.hi, b.hi)
	return interval{min(min(p, q), min(r, s)), max(max(p, q), max(r, s))}
}

// corners is the product by the two corners that the signs point to. It is not an
// interval where one of those has no product.
func corners(a, b interval) interval {
	if a.lo < 0 && a.hi > 0 {
		a, b = b, a
	}
	switch {
	case a.lo >= 0:
		switch {
		case b.lo >= 0:
			return interval{a.lo * b.lo, a.hi * b.hi}
		case b.hi <= 0:
			return interval{a.hi * b.lo, a.lo * b.hi}
		}
		return interval{a.hi * b.lo, a.hi * b.hi}
	case a.hi <= 0:
		switch {
		case b.lo >= 0:
			return interval{a.lo * b.hi, a.hi * b.lo}
		case b.hi <= 0:
			return interval{a.hi * b.hi, a.lo * b.lo}
		}
		return interval{a.lo * b.hi, a.lo * b.lo}
	}
	return interval{math.NaN(), math.NaN()}
}

// prod takes zero times infinity as zero, as interval arithmetic does.
func prod(x, y float64) float64 {
	p := x * y
	if math.IsNaN(p) && !math.IsNaN(x) && !math.IsNaN(y) {
		return 0
	}
	return p
}

func (a interval) inv() interval {
	switch {
	case a.lo > 0 || a.hi < 0:
		return interval{1 / a.hi, 1 / a.lo}
	case a.lo == 0 && a.hi > 0:
		return interval{1 / a.hi, math.Inf(1)}
	case a.hi == 0 && a.lo < 0:
		return interval{math.Inf(-1), 1 / a.lo}
	}
	return whole
}

func (a interval) div(b interval) interval {
	if !(b.lo > 0 || b.hi < 0) {
		return a.mul(b.inv())
	}
	if b.lo > 0 {
		var out interval
		switch {
		case a.lo >= 0:
			out = interval{a.lo / b.hi, a.hi / b.lo}
		case a.hi <= 0:
			out = interval{a.lo / b.lo, a.hi / b.hi}
		default:
			out = interval{a.lo / b.lo, a.hi / b.lo}
		}
		if out.lo <= out.hi {
			return out
		}
	}
	p, q, r, s := quot(a.lo, b.lo), quot(a.lo, b.hi), quot(a.hi, b.lo), quot(a.hi, b.hi)
	return interval{min(min(p, q), min(r, s)), max(max(p, q), max(r, s))}
}

// quot takes infinity over infinity as zero: of an interval's other corners,
// one is the infinity that the quotient can also be.
func quot(x, y float64) float64 {
	q := x / y
	if math.IsNaN(q) && !math.IsNaN(x) && !math.IsNaN(y) {
		return 0
	}
	return q
}

func (a interval) hull(b interval) interval {
	return interval{min(a.lo, b.lo), max(a.hi, b.hi)}
}

// meet is the common part; where rounding leaves none, the first is kept.
func (a interval) meet(b interval) interval {
	c := interval{max(a.lo, b.lo), min(a.hi, b.hi)}
	if !(c.lo <= c.hi) {
		return a
	}
	return c
}

func (a interval) abs() interval {
	if a.lo >= 0 {
		return a
	}
	if a.hi <= 0 {
		return a.neg()
	}
	return interval{0, max(-a.lo, a.hi)}
}

func (a interval) finite() bool {
	return !math.IsInf(a.lo, 0) && !math.IsInf(a.hi, 0) && !math.IsNaN(a.lo) && !math.IsNaN(a.hi)
}

// rising and falling apply a monotone function to both ends.
func (a interval) rising(f func(float64) float64) interval  { return interval{f(a.lo), f(a.hi)} }
func (a interval) falling(f func(float64) float64) interval { return interval{f(a.hi), f(a.lo)} }

func (a interval) cos() interval { return a.wave(math.Cos, 0) }
func (a interval) sin() interval { return a.wave(math.Sin, math.Pi/2) }

// wave encloses a function of period 2 pi that is 1 at the crest and -1 half a
// period from it.
func (a interval) wave(f func(float64) float64, crest float64) interval {
	if !a.finite() || a.hi-a.lo >= 2*math.Pi {
		return interval{-1, 1}
	}
	out := at(f(a.lo)).hull(at(f(a.hi)))
	if a.lo == a.hi {
		return out
	}
	holds := func(p float64) bool {
		return math.Floor((a.hi-p)/(2*math.Pi)) >= math.Ceil((a.lo-p)/(2*math.Pi))
	}
	if holds(crest) {
		out.hi = 1
	}
	if holds(crest + math.Pi) {
		out.lo = -1
	}
	return out
}

// pole tells whether the tangent has a pole within.
func (a interval) pole() bool {
	branch := func(v float64) float64 { return math.Floor(v/math.Pi + 0.5) }
	return !a.finite() || branch(a.lo) != branch(a.hi)
}
