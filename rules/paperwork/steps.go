package paperwork

import (
	"fmt"
	"slices"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

var fabricating = data.Table("fabricating").Rows()

var workOrder = &lint.Rule{
	Name:    "paperwork/work-order",
	Title:   "no step of the work was done before what it comes after, or before its parts came in, and none comes after itself",
	Due:     ledger.AtIntake,
	Sources: practice,
	Note:    "Steps on one day are in order. A part that has no arrived counts as in hand.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		o := orderOf(b)
		for _, w := range b.Works() {
			u := s.On(w, "").When(quantity.Is(len(w.After)+len(w.PartsInHand) > 0 || b.IsPhantom()), "it waits for nothing")
			wrong := o.wrong(b, w)
			u.Holds(quantity.Is(wrong == ""), "%s", wrong)
		}
	},
}

var stepsDone = &lint.Rule{
	Name:    "paperwork/steps-done",
	Title:   "no step of the work that has a stage is still to do at delivery",
	Due:     ledger.AtDelivery,
	Sources: practice,
	Note:    "A step has a date once it is done. What is put off for good, or is for a later visit, has no stage, or is waived by name.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, w := range b.Works() {
			s.On(w, "").When(w.Stage.Given().Or(quantity.Is(b.IsPhantom())), "it has no stage").Holds(w.Date.Required(), "")
		}
	},
}

var measureFirst = &lint.Rule{
	Name:    "paperwork/measure-first",
	Title:   "what is made or welded where something is measured waits for the measuring",
	Should:  true,
	Due:     ledger.AtIntake,
	Sources: practice,
	Note: "A question, not a failure: which comes first is the shop's to say, with after, or with dates. Asked where a step that measures and one that makes name the same part, or parts that hang on the same assembly. " +
		"Gaps that were measured before a later move are told by clearance/remeasured.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		o := orderOf(b)
		for _, w := range b.Works() {
			u := s.On(w, "").When(w.Did.Is(fabricating...).OrElse(b.IsPhantom()), "nothing is made in it")
			wrong := ""
			for _, m := range b.Works() {
				if !m.Did.Is("measured").Holds() || m == w || !o.meets(b, m, w) {
					continue
				}
				if o.first(m, w) {
					wrong = ""
					break
				}
				wrong = fmt.Sprintf("%s measures there, and no step measures before; does it not come first? Write after = [%q], or the dates", m.Path(), m.Path())
			}
			u.Holds(quantity.Is(wrong == ""), "%s", wrong)
		}
	},
}

// order is the order of the steps.
type order struct {
	step   map[string]*ledger.Work
	before map[string]map[string]bool // of those asked for: what comes before a step, through however many
	circle map[string]bool            // the steps that come before themselves

	// While circles are looked for: when a step was met, the first that is met
	// again from it, and the steps of which that is not settled.
	met, back map[string]int
	unsettled []string
}

type orderKey struct{}

func orderOf(b *ledger.Build) *order {
	return ledger.Memo(b, orderKey{}, func() *order {
		o := &order{step: map[string]*ledger.Work{}, before: map[string]map[string]bool{}, circle: map[string]bool{}, met: map[string]int{}, back: map[string]int{}}
		for _, w := range b.Works() {
			o.step[w.Path()] = w
		}
		for _, w := range b.Works() {
			if o.met[w.Path()] == 0 {
				o.circles(w)
			}
		}
		return o
	})
}

// circles finds the steps that come before themselves among those before a step:
// Tarjan's strongly connected components, each step visited once.
func (o *order) circles(w *ledger.Work) {
	path := w.Path()
	o.met[path] = len(o.met) + 1
	o.back[path] = o.met[path]
	at := len(o.unsettled)
	o.unsettled = append(o.unsettled, path)
	for _, r := range w.After {
		to := o.step[r.String()]
		if to == nil {
			continue
		}
		if to == w {
			o.circle[path] = true
		}
		if o.met[to.Path()] == 0 {
			o.circles(to)
		}
		if back := o.back[to.Path()]; back > 0 { // settled ones have none
			o.back[path] = min(o.back[path], back)
		}
	}
	if o.back[path] < o.met[path] {
		return
	}
	for _, one := range o.unsettled[at:] {
		o.back[one] = 0
		o.circle[one] = o.circle[one] || len(o.unsettled)-at > 1
	}
	o.unsettled = o.unsettled[:at]
}

// comesBefore tells whether one step comes before another.
func (o *order) comesBefore(m, w *ledger.Work) bool {
	seen := o.before[w.Path()]
	if seen == nil {
		seen = map[string]bool{}
		o.reach(w, seen)
		o.before[w.Path()] = seen
	}
	return seen[m.Path()]
}

func (o *order) reach(w *ledger.Work, seen map[string]bool) {
	for _, r := range w.After {
		if to := o.step[r.String()]; to != nil && !seen[to.Path()] {
			seen[to.Path()] = true
			o.reach(to, seen)
		}
	}
}

// wrong says what contradicts the order of a step; "" where nothing does.
func (o *order) wrong(b *ledger.Build, w *ledger.Work) string {
	if o.circle[w.Path()] {
		return "it comes after itself: one of the steps that it is after is after it"
	}
	if !w.Date.Known() {
		return ""
	}
	for _, r := range w.After {
		switch before := o.step[r.String()]; {
		case before == nil:
		case !before.Date.Known():
			return fmt.Sprintf("it was done on %s, and %s, which it comes after, is not done", w.Date, r)
		case before.Date.After(w.Date).Holds():
			return fmt.Sprintf("it was done on %s, before %s on %s, which it comes after", w.Date, r, before.Date)
		}
	}
	for _, r := range w.PartsInHand {
		switch p := b.Part(r); {
		case p.Arrived.After(w.Date).Holds():
			return fmt.Sprintf("it was done on %s, before %s came in on %s", w.Date, r, p.Arrived)
		case p.Ordered.Known() && !p.Arrived.Known():
			return fmt.Sprintf("it was done on %s, and %s has not come in", w.Date, r)
		}
	}
	return ""
}

// first tells whether a step comes before another: the other is after it, or it
// was done no later.
func (o *order) first(m, w *ledger.Work) bool {
	if o.comesBefore(m, w) {
		return true
	}
	return m.Date.Known() && (!w.Date.Known() || w.Date.After(m.Date).OrElse(false).Holds() || w.Date.String() == m.Date.String())
}

// meets tells whether two steps are about the same part, or about parts that
// hang on the same assembly.
func (o *order) meets(b *ledger.Build, m, w *ledger.Work) bool {
	of := func(w *ledger.Work) []string {
		var out []string
		for _, r := range w.Parts {
			out = append(out, r.String())
			if on := b.Part(r).At.From; on.Known() {
				out = append(out, on.String())
			}
		}
		return out
	}
	theirs := of(w)
	return slices.ContainsFunc(of(m), func(name string) bool { return slices.Contains(theirs, name) })
}
