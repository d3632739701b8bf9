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
	p, q, r, s := prod(a.lo, b.lo), prod(a.lo, b.hi), prod(a.hi, b.lo), prod(a.hi, b.hi)
	return interval{math.Min(math.Min(p, q), math.Min(r, s)), math.Max(math.Max(p, q), math.Max(r, s))}
}

// prod takes zero times infinity as zero, as interval arithmetic does.
func prod(x, y float64) float64 {
	if x == 0 || y == 0 {
		return 0
	}
	return x * y
}

func (a interval) inv() interval {
	if a.lo > 0 || a.hi < 0 {
		return interval{1 / a.hi, 1 / a.lo}
	}
	return whole
}

func (a interval) div(b interval) interval { return a.mul(b.inv()) }

func (a interval) hull(b interval) interval {
	return interval{math.Min(a.lo, b.lo), math.Max(a.hi, b.hi)}
}

// meet is the common part; where rounding leaves none, the first is kept.
func (a interval) meet(b interval) interval {
	c := interval{math.Max(a.lo, b.lo), math.Min(a.hi, b.hi)}
	if c.lo > c.hi {
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
	return interval{0, math.Max(-a.lo, a.hi)}
}

func (a interval) finite() bool {
	return !math.IsInf(a.lo, 0) && !math.IsInf(a.hi, 0) && !math.IsNaN(a.lo) && !math.IsNaN(a.hi)
}

// rising and falling apply a monotone function to both ends.
func (a interval) rising(f func(float64) float64) interval  { return interval{f(a.lo), f(a.hi)} }
func (a interval) falling(f func(float64) float64) interval { return interval{f(a.hi), f(a.lo)} }

func (a interval) cos() interval {
	if a.hi-a.lo >= 2*math.Pi || !a.finite() {
		return interval{-1, 1}
	}
	x, y := math.Cos(a.lo), math.Cos(a.hi)
	out := interval{math.Min(x, y), math.Max(x, y)}
	if math.Floor(a.hi/(2*math.Pi)) >= math.Ceil(a.lo/(2*math.Pi)) {
		out.hi = 1
	}
	if math.Floor((a.hi-math.Pi)/(2*math.Pi)) >= math.Ceil((a.lo-math.Pi)/(2*math.Pi)) {
		out.lo = -1
	}
	return out
}

func (a interval) sin() interval { return interval{a.lo - math.Pi/2, a.hi - math.Pi/2}.cos() }
