package job

import (
	"cmp"
	"slices"
	"strings"

	"fishplate/ledger"
)

// Step is a step of the work, and what it waits for.
type Step struct {
	*ledger.Work
	IsDone bool
	Stage  ledger.Stage // AtNever where it does not say
	After  []*ledger.Work
	Lacks  []Awaited
}

// Awaited is a part that has to be in hand and is not.
type Awaited struct {
	Path, Waits string // "part.radiator", "ordered 2026-10-02 from ..."
}

// Step is a step of the work as of the job's day.
func (j *Job) Step(w *ledger.Work) *Step {
	s := &Step{Work: w, IsDone: j.Done(w), Stage: ledger.AtNever}
	if stage, err := ledger.StageNamed(w.Stage.String()); err == nil {
		s.Stage = stage
	}
	if s.IsDone {
		return s
	}
	for _, r := range w.After {
		if before := j.step[r.String()]; before != nil && !j.Done(before) {
			s.After = append(s.After, before)
		}
	}
	wants := w.PartsInHand
	if w.Did.Known() && w.Did.Is("made").Fails() { // what is not there can be made, and nothing else be done to it
		wants = slices.Concat(wants, w.Parts)
	}
	for i, r := range wants {
		if t := ofPart(j.Part(r)); !ledger.Refer(wants[:i], r.String()) && !j.there(t) {
			s.Lacks = append(s.Lacks, Awaited{r.String(), j.awaited(t)})
		}
	}
	return s
}

// Ready tells that the step can start: it is not done, what comes before it
// is, and its parts are there.
func (s *Step) Ready() bool { return !s.IsDone && len(s.After) == 0 && len(s.Lacks) == 0 }

// Words says how far the step has come.
func (s *Step) Words() string {
	switch {
	case s.IsDone:
		return "done " + s.Date.String()
	case s.Ready():
		return "can start"
	}
	return "waits for " + strings.Join(s.WaitsFor(), ", ")
}

// WaitsFor names what the step waits for.
func (s *Step) WaitsFor() []string {
	var out []string
	for _, w := range s.After {
		out = append(out, w.Path())
	}
	for _, a := range s.Lacks {
		out = append(out, a.Path)
	}
	return out
}

// Says is what the step is called: its title, or what is done to which parts.
func (s *Step) Says() string {
	if s.Title.Known() {
		return s.Title.String()
	}
	var parts []string
	for _, r := range s.Parts {
		parts = append(parts, r.String())
	}
	if s.Did.Known() && len(parts) > 0 {
		return s.Did.String() + ": " + strings.Join(parts, ", ")
	}
	return s.Path()
}

// Steps are all steps in the order of the work: by stage, then what comes
// before before what comes after it, then as they stand in the files.
func (j *Job) Steps() []*Step {
	var all []*Step
	for _, w := range j.works {
		all = append(all, j.Step(w))
	}
	depth := j.depths()
	slices.SortStableFunc(all, func(a, b *Step) int {
		return cmp.Or(cmp.Compare(a.Stage, b.Stage), cmp.Compare(depth[a.Path()], depth[b.Path()]),
			strings.Compare(a.Place().File, b.Place().File), cmp.Compare(a.Place().Line, b.Place().Line))
	})
	return all
}

// depths is how many steps come before each, one after another. Steps that are
// after one another in a ring stop counting at the number of steps.
func (j *Job) depths() map[string]int {
	depth, open := map[string]int{}, map[string]bool{}
	var of func(w *ledger.Work) int
	of = func(w *ledger.Work) int {
		path := w.Path()
		if d, known := depth[path]; known || open[path] {
			return d
		}
		open[path] = true
		d := 0
		for _, r := range w.After {
			if before := j.step[r.String()]; before != nil {
				d = max(d, of(before)+1)
			}
		}
		depth[path] = d
		return d
	}
	for _, w := range j.works {
		of(w)
	}
	return depth
}

// Order is something to be ordered, or on order.
type Order struct {
	Entry       *ledger.Entry
	OrderAs     string
	Supplier    string
	State       string
	On          string // the day it was ordered; "" where it was not
	Ordered     bool
	NeededBy    ledger.Stage
	NeededKnown bool
}

// Orders are the things that are to be bought and are not there: not ordered
// first, then by the stage at which they are needed, then by system.
func (j *Job) Orders() []Order {
	var out []Order
	take := func(e *ledger.Entry, t thing) {
		if e == nil || !t.bought || j.there(t) {
			return
		}
		o := Order{Entry: e, OrderAs: t.orderAs, Supplier: t.supplier, State: j.State(e), Ordered: j.by(t.ordered)}
		if o.Ordered {
			o.On = t.ordered.String()
		}
		o.NeededBy, o.NeededKnown = j.NeededBy(t.path)
		out = append(out, o)
	}
	for _, p := range j.Parts() {
		if !p.Fitted.Fails() && !p.Fate.Is("returned", "refused").Holds() {
			take(p.Entry(), ofPart(p))
		}
	}
	for _, h := range j.Hoses() {
		take(h.Entry(), ofHose(h))
	}
	entries := make([]*ledger.Entry, len(out))
	for i, o := range out {
		entries[i] = o.Entry
	}
	j.BySystem(entries)
	at := map[*ledger.Entry]int{}
	for i, e := range entries {
		at[e] = i
	}
	slices.SortStableFunc(out, func(a, b Order) int {
		return cmp.Or(compareBool(a.Ordered, b.Ordered), cmp.Compare(a.NeededBy, b.NeededBy), cmp.Compare(at[a.Entry], at[b.Entry]))
	})
	return out
}

// Undated is how many bought things stand on no list of orders because the ledger dates
// no order and no arrival at all: each is taken to be there.
func (j *Job) Undated() int {
	if j.orders || j.over() {
		return 0
	}
	n := 0
	count := func(t thing) {
		if t.bought && !j.by(t.fittedOn) && !j.worked(t.path) {
			n++
		}
	}
	for _, p := range j.Parts() {
		if !p.Fitted.Fails() && !p.Fate.Is("returned", "refused").Holds() {
			count(ofPart(p))
		}
	}
	for _, h := range j.Hoses() {
		count(ofHose(h))
	}
	return n
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}
