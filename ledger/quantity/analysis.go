package quantity

import (
	"math"
	"slices"
	"strings"
	"sync"
)

// Analysis is what can be asked of a result besides its value: it lays the
// expression out once and keeps what it found. That of a missing value has
// nothing to say.
type Analysis struct {
	of   Quantity
	kept *Kept

	mu     sync.Mutex
	tape   *tape
	seen   [2]glance // of the ends that were glanced at
	looked [2]bool
	ends   interval
	ranged bool
	doubts []Doubt // in the order of the formula, by slope and width alone
	listed bool
	terms  []summand
	summed bool
}

// Analyze makes the analysis of a value; nothing is worked out before it is
// asked.
func Analyze(q Quantity) *Analysis { return (&Kept{}).Analyze(q) }

// Of is what the analysis is of.
func (a *Analysis) Of() Quantity { return a.of }

func (a *Analysis) layout() *tape {
	if a.tape == nil {
		a.tape = a.of.tape()
		a.tape.kept = a.kept
	}
	return a.tape
}

// glance is what can be told of one end of the range without a search.
func (a *Analysis) glance(end int) glance {
	n := a.of.node()
	if i, on := n.hinge(); on != nil {
		if n.falls(i) {
			end = 1 - end
		}
		g := a.kept.Analyze(Quantity{on}).glance(end)
		return glance{n.across(i, at(g.bound)).lo, n.across(i, at(g.point)).lo}
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	var want [2]bool
	want[end] = true
	a.look(want)
	return a.seen[end]
}

// look glances at the ends that are asked for and were not glanced at yet.
func (a *Analysis) look(want [2]bool) {
	for end, was := range a.looked {
		want[end] = want[end] && !was
	}
	if !want[lowEnd] && !want[highEnd] {
		return
	}
	found := a.layout().glances(want)
	for end, now := range want {
		if now {
			a.seen[end], a.looked[end] = found[end], true
		}
	}
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
	}
	if i, on := n.hinge(); on != nil {
		low, high := a.kept.Analyze(Quantity{on}).Bounds()
		out := n.across(i, interval{low, high}).hull(at(n.val))
		return out.lo, out.hi
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	if !a.ranged {
		a.look([2]bool{true, true})
		a.ends, a.ranged = a.layout().searched(a.seen), true
	}
	return a.ends.lo, a.ends.hi
}

// settled tells that the range is found already.
func (a *Analysis) settled() bool {
	if _, on := a.of.node().hinge(); on != nil {
		return a.kept.Analyze(Quantity{on}).settled()
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	return a.ranged
}

// Side tells whether a value may be less than a bound, and whether it may be at
// least that, as Bounds has it, and searches no further than it takes to tell.
// Of a missing value it is neither.
func (k *Kept) Side(q Quantity, of float64) (less, atLeast bool) {
	n := q.node()
	switch {
	case len(n.needs) > 0:
		return false, false
	case n.fwd.lo >= of:
		return false, true
	case n.fwd.hi < of:
		return true, false
	}
	a := k.Analyze(q)
	if n.op != opLeaf && n.fwd.lo < n.fwd.hi && !a.settled() {
		is := n.val >= of
		if may, told := a.glance(ahead(is)).beyond(is, of); told {
			return !is || may, is || may
		}
	}
	low, high := a.Bounds()
	return low < of, high >= of
}

// Doubts lists the leaves that stand in the ledger, are assumed or cited, by
// what they contribute to the doubt of the result, most first. They add up to
// half its width.
func (a *Analysis) Doubts() []Doubt {
	list := slices.Clone(a.inOrder())
	low, high := a.Bounds()
	by := adding(list, (high-low)/2)
	for i, d := range list {
		list[i].Doubt = by.of(d)
	}
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

// inOrder lists the doubts in the order of the formula, before they are made to
// add up.
func (a *Analysis) inOrder() []Doubt {
	a.mu.Lock()
	defer a.mu.Unlock()
	if n := a.of.node(); !a.listed && a.of.Known() {
		if n.op == opLeaf && n.listed() {
			a.doubts = []Doubt{{Source: n.src, Leaf: a.of, Slope: 1, Doubt: (n.fwd.hi - n.fwd.lo) / 2, leaf: n, steady: true}}
		} else if i, on := n.hinge(); on != nil && a.alone(i) {
			a.doubts = a.beyond(i)
		} else {
			a.doubts = a.layout().doubts()
		}
	}
	a.listed = true
	return a.doubts
}

// Grade is that of the worst leaf that contributes more than a hundredth of
// the doubt; Stated where there is no doubt.
func (a *Analysis) Grade() Grade {
	n := a.of.node()
	if len(n.needs) > 0 {
		return Assumed
	}
	switch {
	case n.op == opLeaf:
		return n.grade
	case n.firm(6):
		return Stated
	}
	worst, any := Measured, false
	list := a.inOrder()
	total := sum(list)
	for _, d := range list {
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
