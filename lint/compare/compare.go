// Package compare holds two ledgers against each other: which checks are not
// what they were, which entries changed, and which of these are to blame.
package compare

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/revision"
	"fishplate/lint"
)

// Comparison is what changed between two ledgers, in checks and in entries, and
// why.
type Comparison struct {
	Before, After *lint.Report // both as of the same day; the older one under the newer one's names
	Changes       []*Change
	Edits         []*Edit   // entry by entry
	Notices       []*Notice // what changed in how the build is judged
	Moves         []*MovedAssembly
	Again         []*Again // the readings to take again
	Asks          []*Ask   // before or after the weighing?
	Parents       []string // of a Union, all of them
	Elsewhere     bool     // of two trees: the build stands in another folder than before
}

// ChangeKind says what became of a check.
type ChangeKind string

// What can become of a check.
const (
	Worse   ChangeKind = "worse"
	Better  ChangeKind = "better"
	Drifted ChangeKind = "moved" // the verdict is the same, its numbers are not
	Gone    ChangeKind = "gone"
	New     ChangeKind = "new"
	Lapsed  ChangeKind = "not applicable"
)

var changeOrder = []ChangeKind{Worse, Better, Drifted, Gone, New, Lapsed}

// Change is one check that is not what it was.
type Change struct {
	Rule          *lint.Rule
	Entry, Aspect string // by the newer name
	Kind          ChangeKind
	Before, After *lint.Result // nil where there is no such check
	Why           string       // where the numbers do not say it
	Counts        bool         // it makes the comparison fail
	// Delta is how much margin was won, in SI; NaN where either end has none.
	Delta  float64
	Causes []*Cause // the greatest loss first
	// Together is what of Delta no entry accounts for alone.
	Together float64

	ruled bool // the packs changed, and no entry is to blame
}

// Failed tells that some check got worse, or rests on what is to be read again.
func (c *Comparison) Failed() bool {
	return len(c.Again)+len(c.Asks) > 0 || slices.ContainsFunc(c.Changes, func(x *Change) bool { return x.Counts })
}

// Unread tells that one of the two ledgers cannot be judged.
func (c *Comparison) Unread() bool { return len(c.Before.Faults)+len(c.After.Faults) > 0 }

// Lone is a build that only one of two trees has, or that can be read in the newer one
// only.
type Lone struct {
	*lint.Report
	Added  bool           // the newer one has it
	Before []ledger.Fault // why the older one's cannot be read
}

// Failed tells that a check of a build fails that cannot be read in the older tree:
// whether it did there nobody can say.
func (l *Lone) Failed() bool { return len(l.Before) > 0 && l.Report.Failed() }

// Alone reads and checks a build that only one of two trees has.
func Alone(b *revision.Build, added bool, packs []*lint.Pack, opt lint.Options) *Lone {
	l := &Lone{Added: added}
	lint.Run([]*revision.Build{b}, packs, opt, func(r *lint.Report) { l.Report = r })
	return l
}

// Sources reads and compares two builds, both as of the newer one's date, which
// is its delivery's where it was delivered.
func Sources(before, after *revision.Build, packs []*lint.Pack, opt lint.Options) *Comparison {
	opt.Today = max(dateOf(before, opt), dateOf(after, opt))
	l := ledger.NewLoader()
	a, af := l.Load(before)
	b, bf := l.Load(after)
	if a == nil || b == nil {
		failed := func(src *revision.Build, faults []ledger.Fault) *lint.Report {
			return &lint.Report{Folder: src.Folder(), Revision: src.Revision(), Title: src.Folder(), AsOf: cmp.Or(opt.AsOf, opt.Today), Faults: faults}
		}
		return &Comparison{Before: failed(before, af), After: failed(after, bf)}
	}
	opt.AsOf = opt.Day(b)
	c := Builds(a, b, packs, opt)
	c.Before.Revision, c.After.Revision = before.Revision(), after.Revision()
	return c
}

func dateOf(b *revision.Build, opt lint.Options) string {
	if d, ok := b.Date(); ok {
		return d.Format("2006-01-02")
	}
	return opt.Today
}

// Builds compares two ledgers, each judged at its own stage unless the options
// give one.
func Builds(before, after *ledger.Build, packs []*lint.Pack, opt lint.Options) *Comparison {
	names := pair(before, after)
	old := before.Renamed(names)
	c := &Comparison{Before: lint.Check(old, packs, opt), After: lint.Check(carried(old, after, true), packs, opt)}
	if c.Unread() {
		return c
	}
	if len(names) > 0 {
		putOwn(c.Before, lint.Check(before, packs, opt), names)
	}
	c.Edits = edits(old, after, names)
	c.Notices = notices(c, packs)
	outlived := after.Outlived(old)
	c.Again, c.Moves = again(outlived), moves(old, after, outlived)
	if w, ok := weighed(old, after); ok {
		c.Asks = w.asks
	}
	c.match(packs)
	if len(c.Again) > 0 {
		c.rest(lint.Check(carried(old, after, false), packs, opt))
	}
	slices.SortFunc(c.Changes, compareChanges)
	c.blame(opt)
	c.Before.Build = before
	return c
}

// Verdicts are the checks whose verdict is not the same in two reports of one
// build, with what did it. A check that is new is one of them where it fails.
func Verdicts(before, after *lint.Report, packs []*lint.Pack, opt lint.Options) []*Change {
	names := pair(before.Build, after.Build)
	old := *before
	if len(names) > 0 {
		asOf := opt
		asOf.AsOf = before.AsOf
		old = *lint.Check(before.Build.Renamed(names), packs, asOf)
		putOwn(&old, before, names)
	}
	c := &Comparison{Before: &old, After: after}
	c.match(packs)
	c.Changes = slices.DeleteFunc(c.Changes, func(x *Change) bool {
		return x.Kind != Worse && x.Kind != Better && !(x.Kind == New && x.After.Verdict == lint.Fail)
	})
	if len(c.Changes) > 0 {
		c.blame(opt)
	}
	return c.Changes
}

// putOwn puts the program's own checks of the ledger as it was written in place
// of those under other names: a signature holds for the former only.
func putOwn(rep, written *lint.Report, names map[string]string) {
	own := func(r *lint.Result) bool { return slices.Contains(lint.Own.Rules, r.Rule) }
	rep.Results = slices.DeleteFunc(rep.Results, own)
	for _, r := range written.Results {
		if own(r) {
			if n, ok := names[r.Entry]; ok {
				r.Entry = n
			}
			rep.Results = append(rep.Results, r)
		}
	}
	lint.Sort(rep.Results)
}

// match finds the checks that are not what they were.
func (c *Comparison) match(packs []*lint.Pack) {
	was := map[string]*lint.Result{}
	for _, r := range c.Before.Results {
		was[r.Key()] = r
	}
	m := matcher{c, packNames(c.Before.Build, packs), packNames(c.After.Build, packs)}
	for _, r := range c.After.Results {
		m.add(was[r.Key()], r)
		delete(was, r.Key())
	}
	for _, r := range was {
		m.add(r, nil)
	}
}

func packNames(b *ledger.Build, packs []*lint.Pack) map[string]bool {
	out := map[string]bool{}
	for _, p := range lint.Chosen(b, packs) {
		for _, r := range p.Rules {
			out[r.Name] = true
		}
	}
	return out
}

// matcher makes the changes of a comparison. It knows which rules each side
// was judged by; the program's own are on neither list.
type matcher struct {
	c         *Comparison
	had, have map[string]bool
}

func (m *matcher) add(a, b *lint.Result) {
	some := b
	if some == nil {
		some = a
	}
	x := &Change{Rule: some.Rule, Entry: some.Entry, Aspect: some.Aspect, Before: a, After: b, Delta: math.NaN(), Together: math.NaN()}
	switch {
	case !applies(a) && !applies(b):
		return
	case !applies(a):
		m.come(x)
	case !applies(b):
		m.left(x)
	default:
		stayed(x)
	}
	if x.Kind != "" {
		m.c.Changes = append(m.c.Changes, x)
	}
}

func applies(r *lint.Result) bool { return r != nil && r.Verdict != lint.NotApplicable }

// come: a check that there was not. One that fails from the start is worse, if
// it was looked for before.
func (m *matcher) come(x *Change) {
	x.Kind = New
	name := x.Rule.Name
	_, was := m.c.Before.Build.Entry(x.Entry)
	_, is := m.c.After.Build.Entry(x.Entry)
	switch {
	case !m.had[name] && m.have[name]:
		x.Why, x.ruled = "the pack "+lint.PackOf(name)+" is new", true
		if lint.PackOf(name) == ledger.OwnRules {
			x.Why = "the shop's rule is new"
		}
		return
	case x.Before != nil:
		x.Why = "it applies now; before: " + x.Before.Reason
	case is && !was:
		x.Why = x.Entry + " is new"
	}
	if x.After.Verdict == lint.Fail && x.After.Counts {
		x.Kind, x.Counts = Worse, true
	}
}

// left: a check that there is no more. With its subject gone that is as it
// should be.
func (m *matcher) left(x *Change) {
	x.Kind = Gone
	name := x.Rule.Name
	_, was := m.c.Before.Build.Entry(x.Entry)
	_, is := m.c.After.Build.Entry(x.Entry)
	switch {
	case m.had[name] && !m.have[name]:
		x.Why, x.ruled = "the pack "+lint.PackOf(name)+" is no longer chosen", true
		if lint.PackOf(name) == ledger.OwnRules {
			x.Why = "the shop's rule is gone"
		}
	case x.After != nil:
		x.Kind, x.Why = Lapsed, "it no longer applies: "+x.After.Reason
	case was && !is:
		x.Why = x.Entry + " is gone"
	default:
		x.Why = "no longer checked, though " + x.Entry + " is still there"
	}
	if (is || !was) && !x.Before.Should {
		x.Kind, x.Counts = Worse, true
	}
}

// stayed: a check that there still is.
func stayed(x *Change) {
	a, b := x.Before, x.After
	if a.Margin.Known() && b.Margin.Known() && a.Margin.Dim() == b.Margin.Dim() {
		x.Delta = b.Margin.Value() - a.Margin.Value()
	}
	switch {
	case b.Verdict > a.Verdict:
		x.Kind, x.Counts = Worse, !a.Should || !b.Should
	case b.Verdict < a.Verdict:
		x.Kind = Better
	case a.Should != b.Should:
		x.Kind = Drifted
		x.Why = map[bool]string{false: "it is a must now", true: "it is only advice now"}[b.Should]
	case a.Underlying != b.Underlying:
		x.Kind = Drifted
		x.Why = fmt.Sprintf("under the waiver: %s, before %s", b.Underlying, a.Underlying)
	case a.Counts != b.Counts:
		x.Kind = Drifted
		x.Why = map[bool]string{false: "it is no longer due", true: "it is due now"}[b.Counts]
	case drifted(a, b):
		x.Kind = Drifted
	}
}

// noise is the relative difference that rounding may make.
const noise = 1e-9

// drifted tells that a check's numbers changed, its doubts among them.
func drifted(a, b *lint.Result) bool {
	for _, p := range [][2]quantity.Quantity{{a.Value, b.Value}, {a.Limit, b.Limit}, {a.Upper, b.Upper}, {a.Margin, b.Margin}} {
		x, y := p[0], p[1]
		if x.Known() != y.Known() {
			return true
		}
		if !x.Known() {
			continue
		}
		size := max(scale(a), scale(b))
		xl, xh := x.Forward()
		yl, yh := y.Forward()
		if apart(x.Value(), y.Value(), size) || apart(xl, yl, size) || apart(xh, yh, size) {
			return true
		}
	}
	return false
}

func apart(x, y, size float64) bool {
	return x != y && !(math.Abs(x-y) <= noise*max(size, math.Abs(x), math.Abs(y)))
}

// scale is the size of the numbers that a check's margin is the difference of.
func scale(r *lint.Result) float64 {
	size := 0.0
	for _, q := range []quantity.Quantity{r.Value, r.Limit, r.Upper} {
		if q.Known() {
			size = max(size, math.Abs(q.Value()))
		}
	}
	return size
}

// compareChanges puts the worst first.
func compareChanges(x, y *Change) int {
	return cmp.Or(
		lint.CompareBools(y.Counts, x.Counts),
		slices.Index(changeOrder, x.Kind)-slices.Index(changeOrder, y.Kind),
		lint.CompareBools(failsMore(y), failsMore(x)),
		cmp.Compare(badness(y), badness(x)),
		cmp.Compare(lost(x), lost(y)),
		cmp.Compare(x.Rule.Name, y.Rule.Name), cmp.Compare(x.Entry, y.Entry), cmp.Compare(x.Aspect, y.Aspect),
	)
}

// badness ranks where a change has led; what is no longer checked lies between
// a waived check and one that is open.
func badness(x *Change) int {
	if !applies(x.After) {
		return 2*int(lint.Waived) + 1
	}
	return 2 * int(x.After.Verdict)
}

// failsMore tells that a check failed before and is further from its limit now.
func failsMore(x *Change) bool {
	return x.Kind == Drifted && x.After.Verdict == lint.Fail && !x.After.Should && x.Delta < 0
}

// lost is the margin won, for checks that drifted as a share of the numbers
// compared, so that those of different kinds can be put in order.
func lost(x *Change) float64 {
	if x.Kind != Drifted || math.IsNaN(x.Delta) || scale(x.Before) == 0 {
		return 0
	}
	return x.Delta / scale(x.Before)
}
