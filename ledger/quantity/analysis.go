package quantity

import (
	"math"
	"slices"
	"strings"
)

// Analysis is what can be asked of a result besides its value: it lays the
// expression out once and keeps what it found. It is for one goroutine at a
// time. That of a missing value has nothing to say.
type Analysis struct {
	of     Quantity
	tape   *tape
	seen   *glance // where one was taken
	ends   interval
	ranged bool
	doubts []Doubt // in the order of the formula
	listed bool
	fitted bool // they add up to half the width
	mirror *mirror
}

// mirror is what a difference with an exact value is the range of: by - like, or
// like - by.
type mirror struct {
	like *Analysis
	by   float64
	less bool // it is like - by
}

// Analyze makes the analysis of a value; nothing is worked out before it is
// asked.
func Analyze(q Quantity) *Analysis { return &Analysis{of: q} }

// AnalyzeBeside makes the analysis of a difference of which one side has an
// analysis of its own, and the other is an exact value, so that it need not be
// searched for its range again. Of any other value it is Analyze.
func AnalyzeBeside(q Quantity, like *Analysis) *Analysis {
	a := Analyze(q)
	n := q.node()
	for n.op == opSame && len(n.args) == 1 && n.dim == n.args[0].dim {
		n = n.args[0]
	}
	if n.op != opSub || len(n.needs) > 0 || like.of.n == nil {
		return a
	}
	x, y := n.args[0], n.args[1]
	switch like.of.n {
	case y:
		if x.fwd.lo == x.fwd.hi {
			a.mirror = &mirror{like: like, by: x.val}
		}
	case x:
		if y.fwd.lo == y.fwd.hi {
			a.mirror = &mirror{like: like, by: y.val, less: true}
		}
	}
	return a
}

// ends are those of the difference.
func (m *mirror) ends() interval {
	low, high := m.like.Bounds()
	if m.less {
		return interval{low - m.by, high - m.by}
	}
	return interval{m.by - high, m.by - low}
}

// Of is what the analysis is of.
func (a *Analysis) Of() Quantity { return a.of }

func (a *Analysis) layout() *tape {
	if a.tape == nil {
		a.tape = a.of.tape()
	}
	return a.tape
}

func (a *Analysis) glance() *glance {
	if a.seen == nil {
		a.seen = a.layout().glance()
	}
	return a.seen
}

// Bounds is the least and the most that the value can be, in SI, given the
// intervals of its leaves; shared leaves cancel. NaN where it is missing. It
// encloses the true range, and is at most 1.02 times as wide unless that would
// take too much work.
func (a *Analysis) Bounds() (low, high float64) {
	n := a.of.node()
	switch {
	case len(n.needs) > 0:
		return math.NaN(), math.NaN()
	case n.op == opLeaf || n.fwd.lo == n.fwd.hi:
		return n.fwd.lo, n.fwd.hi
	case !a.ranged && a.mirror != nil:
		a.ends, a.ranged = a.mirror.ends().hull(at(n.val)), true
	case !a.ranged:
		a.ends, a.ranged = a.layout().searched(a.glance()), true
	}
	return a.ends.lo, a.ends.hi
}

// Side tells whether the value may be less than a bound, and whether it may be at
// least that, as Bounds has it, and searches no further than it takes to tell.
// Of a missing value it is neither.
func (a *Analysis) Side(of float64) (less, atLeast bool) {
	n := a.of.node()
	switch ready := a.ranged || a.mirror != nil && a.mirror.like.ranged; {
	case len(n.needs) > 0:
		return false, false
	case n.fwd.lo >= of:
		return false, true
	case n.fwd.hi < of:
		return true, false
	case !ready:
		if less, atLeast, told := a.layout().side(a.glance(), of); told {
			return less, atLeast
		}
	}
	low, high := a.Bounds()
	return low < of, high >= of
}

// Doubts lists the leaves that stand in the ledger, are assumed or cited, by
// what they contribute to the doubt of the result, most first. They add up to
// half its width.
func (a *Analysis) Doubts() []Doubt {
	list := a.inOrder()
	if !a.fitted {
		low, high := a.Bounds()
		addUp(list, (high-low)/2)
		a.fitted = true
	}
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b Doubt) int {
		switch {
		case a.Doubt > b.Doubt:
			return -1
		case a.Doubt < b.Doubt:
			return 1
		}
		return strings.Compare(a.Source.Path(), b.Source.Path())
	})
	return list
}

func (a *Analysis) inOrder() []Doubt {
	if a.of.Known() && !a.listed {
		a.doubts, a.listed = a.layout().doubts(), true
	}
	return a.doubts
}

// Grade is that of the worst leaf that contributes more than a hundredth of
// the doubt; Stated where there is no doubt.
func (a *Analysis) Grade() Grade {
	n := a.of.node()
	if len(n.needs) > 0 {
		return Assumed
	}
	if n.op == opLeaf {
		return n.grade
	}
	worst, any := Measured, false
	total := sum(a.inOrder())
	for _, d := range a.inOrder() {
		if d.Doubt > total/100 {
			worst, any = min(worst, d.leaf.grade), true
		}
	}
	if !any {
		return Stated
	}
	return worst
}

// Bounds, Doubts, Shares and Grade ask an analysis made for this one question.
func (q Quantity) Bounds() (low, high float64) { return Analyze(q).Bounds() }

// Doubts: see Analysis.
func (q Quantity) Doubts() []Doubt { return Analyze(q).Doubts() }

// Shares: see Analysis.
func (q Quantity) Shares() []Share { return Analyze(q).Shares() }

// Grade: see Analysis.
func (q Quantity) Grade() Grade { return Analyze(q).Grade() }
