package lint

import (
	"fmt"
	"slices"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
)

// Sheet is what a rule writes its checks on.
type Sheet struct {
	rule    *Rule
	build   *ledger.Build
	kept    *quantity.Kept
	results []*Result
	defects []string
	faults  []ledger.Fault
}

// respect is what tells the checks of one rule apart.
type respect struct{ entry, aspect string }

// Subject is a check in the making: the entry that is judged, in one respect.
type Subject struct {
	sheet *Sheet
	res   *Result
	needs []quantity.Need
	out   bool          // it does not apply
	why   func() string // the reason, where it costs something to find
}

// On starts a check on an entry. The aspect tells several checks of one rule
// on one entry apart; "" where there is only one.
func (s *Sheet) On(e ledger.Subject, aspect string) *Subject {
	r := &Result{Rule: s.rule, Entry: e.Path(), Aspect: aspect, Place: e.Place(), Should: s.rule.Should, Due: s.rule.Due, kept: s.kept}
	return &Subject{sheet: s, res: r}
}

// None says that there is nothing of the kind that the rule checks.
func (s *Sheet) None(e ledger.Subject, why string) {
	s.On(e, "").When(quantity.Is(false), why).Holds(quantity.Is(true), "")
}

// When says that the check only applies where the truth holds; the reason is
// given where it does not. Where the truth is missing, so is the check.
func (u *Subject) When(t quantity.Truth, reason string) *Subject {
	switch {
	case u.out:
	case t.Fails():
		u.out = true
		u.res.Verdict, u.res.Reason = NotApplicable, reason
		u.sheet.add(u.res)
	case !t.Known():
		u.needs = append(u.needs, t.Needs()...)
	}
	return u
}

// Due moves the stage at which this check is due from the rule's.
func (u *Subject) Due(s ledger.Stage) *Subject { u.res.Due = s; return u }

// Recommended makes this check a should.
func (u *Subject) Recommended() *Subject { u.res.Should = true; return u }

// Work says that the check is about work to be done: not done, it is missing
// and not failed until it is due.
func (u *Subject) Work() *Subject { u.res.work = true; return u }

// Reading says that the work is to read something on the vehicle, with a tape,
// on a scale or on a test.
func (u *Subject) Reading() *Subject { u.res.reading = true; return u.Work() }

// Says adds a reason in words, shown where the check does not pass.
func (u *Subject) Says(format string, args ...any) *Subject {
	if !u.out {
		u.res.Reason = fmt.Sprintf(format, args...)
	}
	return u
}

// SaysWhy adds a reason in words that is only worked out where a comparison does not
// pass.
func (u *Subject) SaysWhy(why func() string) *Subject {
	u.why = why
	return u
}

// Settled adds what settles the check, in words, shown where it passes: the
// answer that was given, the document that proves it.
func (u *Subject) Settled(format string, args ...any) *Subject {
	if !u.out {
		u.res.Settled = fmt.Sprintf(format, args...)
	}
	return u
}

// At points the check at another place than its entry's.
func (u *Subject) At(p quantity.Place) *Subject {
	if p.Line > 0 {
		u.res.Place = p
	}
	return u
}

// AtMost checks that the value is no more than the limit.
func (u *Subject) AtMost(value, limit quantity.Quantity) {
	limit = u.tighter(limit, func(a, b quantity.Quantity) quantity.Quantity { return quantity.Min(a, b) })
	u.compare(AtMost, value, limit, quantity.Quantity{}, func() quantity.Quantity { return limit.Sub(value) })
}

// AtLeast checks that the value is no less than the limit.
func (u *Subject) AtLeast(value, limit quantity.Quantity) {
	limit = u.tighter(limit, func(a, b quantity.Quantity) quantity.Quantity { return quantity.Max(a, b) })
	u.compare(AtLeast, value, limit, quantity.Quantity{}, func() quantity.Quantity { return value.Sub(limit) })
}

// Between checks that the value is neither below low nor above high.
func (u *Subject) Between(value, low, high quantity.Quantity) {
	u.compare(Between, value, low, high, func() quantity.Quantity {
		return quantity.Min(value.Sub(low), high.Sub(value))
	})
}

// Same checks that two values agree within a share of the second.
func (u *Subject) Same(value, other, within quantity.Quantity) {
	within = u.tighter(within, func(a, b quantity.Quantity) quantity.Quantity { return quantity.Min(a, b) })
	u.res.Within = within
	u.compare(Same, value, other, quantity.Quantity{}, func() quantity.Quantity {
		return within.Mul(quantity.Abs(other)).Sub(quantity.Abs(value.Sub(other)))
	})
}

// Holds checks a truth; the message says what is wrong where it does not hold.
func (u *Subject) Holds(t quantity.Truth, format string, args ...any) {
	if u.out {
		return
	}
	r := u.res
	r.Sense = Holds
	r.Needs = append(u.needs, t.Needs()...)
	switch {
	case len(r.Needs) > 0:
		r.Verdict = Missing
	case t.Holds():
		r.Verdict = Pass
	default:
		r.Verdict = Fail
		r.Reason = fmt.Sprintf(format, args...)
	}
	u.sheet.add(r)
}

// Open says of a truth that the doubt of a margin leaves it open: it holds where
// that is above zero, or where it is below.
func (u *Subject) Open(margin quantity.Quantity, reason string) {
	if u.out {
		return
	}
	r := u.res
	r.Sense, r.Margin, r.Needs, r.Verdict, r.Reason = Holds, margin, u.needs, Unproven, reason
	if len(r.Needs) > 0 {
		r.Verdict = Missing
	}
	u.sheet.add(r)
}

func (u *Subject) compare(sense Sense, value, limit, upper quantity.Quantity, margin func() quantity.Quantity) {
	if u.out {
		return
	}
	r := u.res
	r.Sense, r.Value, r.Limit, r.Upper, r.Needs = sense, value, limit, upper, u.needs
	r.Margin = margin().As("margin", marginFormula[sense])
	r.judge()
	if u.why != nil && r.Verdict != Pass {
		r.Reason = u.why()
	}
	u.sheet.add(r)
}

var marginFormula = map[Sense]string{
	AtMost: "limit - value", AtLeast: "value - limit", Between: "min(value - lower limit, upper limit - value)", Same: "share allowed × |other| - |value - other|",
}

// tighter puts the shop's own limit in place of the rule's where it is the
// tighter of the two.
func (u *Subject) tighter(limit quantity.Quantity, pick func(a, b quantity.Quantity) quantity.Quantity) quantity.Quantity {
	own, ok := u.res.Rule.limit(u.sheet.build)
	if !ok || u.out {
		return limit
	}
	if own.Value.Dim() != limit.Dim() {
		u.sheet.defects = append(u.sheet.defects, fmt.Sprintf("limits.%s takes %s; got %s", own.Rule, limit.Dim().Takes(), own.Value.Dim()))
		return limit
	}
	if !limit.Known() {
		return limit
	}
	t := pick(limit, own.Value)
	u.res.Tight = t.Value() != limit.Value()
	return t
}

// Fault says that the rule itself cannot be worked out, and where that is.
func (s *Sheet) Fault(at quantity.Place, message string) {
	s.faults = append(s.faults, ledger.Fault{Place: at, Message: message})
}

func (s *Sheet) add(r *Result) {
	if len(r.Needs) > 1 {
		r.Needs = quantity.SortNeeds(r.Needs)
	}
	s.results = append(s.results, r)
}

// once puts the checks in the order of their entries and respects, and drops what
// checks the same entry in the same respect as a check before it: that is a defect.
func (s *Sheet) once() {
	if !slices.IsSortedFunc(s.results, inLedger) {
		slices.SortStableFunc(s.results, inLedger)
	}
	s.results = slices.CompactFunc(s.results, func(a, b *Result) bool {
		if inLedger(a, b) != 0 {
			return false
		}
		s.defects = append(s.defects, fmt.Sprintf("%s checks %s twice", b.Rule.Name, b.Subject()))
		return true
	})
}
