package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/job"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

// chapter is a part of what is to be done: its heading, what is in it in the order
// of the work, and how to see the rest where not all of it is shown.
type chapter struct {
	name, title string
	items       []item
}

// item is one thing to do.
type item struct {
	say   string
	place quantity.Place
}

// agendaOf is what is to be done about a build, in the order of the work. What
// passes is not in it.
func (s *screen) agendaOf(r *lint.Report) []chapter {
	j := job.Of(r.Build, r.AsOf)
	var fails, waits []*lint.Result
	for _, c := range InOrderOfHarm(s.pressing(r)) {
		if c.Verdict == lint.Fail && !c.Undone() {
			fails = append(fails, c)
		} else {
			waits = append(waits, c)
		}
	}
	var read, write []item
	for _, w := range inOrderOfWork(lint.Waits(waits)) {
		at := item{s.waitWords(w, r), quantity.Place{}}
		if w.Reading() {
			at.say = gauge(w) + ": " + at.say
			read = append(read, at)
		} else {
			write = append(write, at)
		}
	}
	slices.SortStableFunc(read, func(a, b item) int { return cmp.Compare(rankOfGauge(a.say), rankOfGauge(b.say)) })
	start, wait := s.steps(j)
	return []chapter{
		{"mend", "Mend what fails", s.mends(fails, r)},
		{"read", "Read on the vehicle", read},
		{"start", "Start or carry on: what comes before is done, and the parts are there", start},
		{"wait", "Wait, or ask", wait},
		{"write", "Write down, settle or do", write},
		{"order", "Order", s.orders(j)},
	}
}

// pressing are the checks that call for something now: what is due, and what
// is due at the next stage; or those that are asked for, less what is settled.
func (s *screen) pressing(r *lint.Report) []*lint.Result {
	if !s.opt.selects() {
		t := tallyOf(r)
		return append(t.fix, t.next...)
	}
	var out []*lint.Result
	for _, c := range r.Results {
		if s.opt.lists(c) && !settled(c) && (s.opt.Advice || s.opt.narrows() || !c.Should) {
			out = append(out, c)
		}
	}
	return out
}

// narrows tells that something is asked for by name.
func (o Options) narrows() bool { return o.Pack != "" || o.About != "" }

// inOrderOfWork sorts things by the first stage at which a check of theirs is
// due.
func inOrderOfWork(list []*lint.Wait) []*lint.Wait {
	first := func(w *lint.Wait) ledger.Stage {
		due := ledger.AtNever
		for _, c := range w.Checks {
			due = min(due, c.Due)
		}
		return due
	}
	slices.SortStableFunc(list, func(a, b *lint.Wait) int { return cmp.Compare(first(a), first(b)) })
	return list
}

// gauges are what is read with, by dimension, in the order in which they are
// taken up.
var gauges = []struct {
	name string
	dims []quantity.Dim
}{
	{"tape", []quantity.Dim{quantity.Length}},
	{"angle gauge", []quantity.Dim{quantity.Angle}},
	{"scale", []quantity.Dim{quantity.Mass, quantity.Force}},
	{"meter", []quantity.Dim{quantity.Current, quantity.Voltage, quantity.Resistance, quantity.Power}},
	{"thermometer", []quantity.Dim{quantity.Temperature, quantity.TemperatureDiff}},
	{"pressure gauge", []quantity.Dim{quantity.Pressure}},
}

// gauge is what a value is read with; work goes by what it is about.
func gauge(w *lint.Wait) string {
	dim, ok := w.Dim()
	for _, g := range gauges {
		if ok && slices.Contains(g.dims, dim) {
			return g.name
		}
	}
	if !ok && (strings.HasPrefix(w.Checks[0].Entry, "gap.") || strings.HasPrefix(w.Checks[0].Entry, "shaft.")) {
		return gauges[0].name
	}
	return "test"
}

// rankOfGauge is the place of what a line is read with among the gauges.
func rankOfGauge(say string) int {
	name, _, _ := strings.Cut(say, ":")
	for i, g := range gauges {
		if g.name == name {
			return i
		}
	}
	return len(gauges)
}

// mends are the checks that fail, each with its nearest mend.
func (s *screen) mends(rs []*lint.Result, r *lint.Report) (out []item) {
	style := r.Build.Style()
	warned := ""
	for _, g := range together(rs) {
		say := Says(g.Result, style)
		if g.say != "" {
			say = []string{Clean(g.say)}
		}
		if len(say) == 0 {
			say = []string{"not so: " + g.Rule.Title}
		}
		text := g.Rule.Name + " on " + Clean(g.subject) + ": " + strings.Join(say, "; ")
		if g.Numeric() && g.Margin.Known() && s.opt.Propose != nil && len(out) < mostMends {
			if list := s.opt.Propose(r, g.Result); len(list) > 0 {
				text += "; mend: " + proposal(list[0], false) + "; " + others(list[0])
			}
		}
		if c := short(g.Rule.Caution); c != "" && g.Rule.Name != warned {
			warned = g.Rule.Name
			text += " Caution: " + c
		}
		out = append(out, item{text, g.Place})
	}
	return out
}

// steps are the steps of the work that can start, and what waits and on whom.
func (s *screen) steps(j *job.Job) (start, wait []item) {
	told := map[string]bool{}
	for _, st := range j.Steps() {
		if st.IsDone || !s.wants(st) {
			continue
		}
		text := Clean(st.Says())
		if st.Says() != st.Path() {
			text += " (" + Clean(st.Path()) + ")"
		}
		if st.Stage != ledger.AtNever {
			text += ", for " + st.Stage.String()
		}
		if st.By.Known() && !st.By.Is("shop").Holds() {
			text += ", by " + Clean(st.By.String())
		}
		if st.Ready() {
			if st.Found.Known() {
				text += "; found so far: " + Clean(strings.TrimSuffix(st.Found.String(), "."))
			}
			start = append(start, item{text, st.Place()})
			continue
		}
		var on []string
		for _, a := range st.Lacks {
			told[a.Path] = true
			on = append(on, Clean(a.Path)+", "+Clean(a.Waits))
		}
		for _, w := range st.After {
			by := ""
			if w.By.Known() && !w.By.Is("shop").Holds() {
				by = " by " + Clean(w.By.String())
			}
			on = append(on, Clean(w.Path())+by)
		}
		wait = append(wait, item{text + ": waits for " + strings.Join(on, "; "), st.Place()})
	}
	for _, o := range j.Orders() {
		if o.Ordered && !told[o.Entry.Path()] && s.wantsOrder(o) {
			from := ""
			if o.Supplier != "" {
				from = " from " + Clean(o.Supplier)
			}
			wait = append(wait, item{Clean(o.Entry.Path()) + ": " + Clean(o.State) + from + ", not in yet", o.Entry.Place})
		}
	}
	return start, wait
}

// wants tells that a step is among what is asked for.
func (s *screen) wants(st *job.Step) bool {
	switch {
	case s.opt.Pack != "" || s.opt.Advice:
		return false
	case s.opt.Due != nil && st.Stage != *s.opt.Due:
		return false
	case s.opt.About != "":
		for _, list := range [][]ledger.Ref{st.Parts, st.PartsInHand, st.Work.After} {
			if slices.ContainsFunc(list, func(r ledger.Ref) bool { return r.String() == s.opt.About }) {
				return true
			}
		}
		return st.Path() == s.opt.About
	}
	return true
}

func (s *screen) wantsOrder(o job.Order) bool {
	switch {
	case s.opt.Pack != "" || s.opt.Advice:
		return false
	case s.opt.Due != nil && (!o.NeededKnown || o.NeededBy != *s.opt.Due):
		return false
	}
	return s.opt.About == "" || o.Entry.Path() == s.opt.About
}

// orders are what is to be ordered, first what is needed first.
func (s *screen) orders(j *job.Job) (out []item) {
	for _, o := range j.Orders() {
		if o.Ordered || !s.wantsOrder(o) {
			continue
		}
		text := Clean(o.Entry.Path())
		if o.OrderAs != "" {
			text += ": " + Clean(o.OrderAs)
		} else {
			text += ": write order-as, what to ask for"
		}
		if o.Supplier != "" {
			text += ", from " + Clean(o.Supplier)
		}
		if o.NeededKnown {
			text += fmt.Sprintf(", needed for %s", o.NeededBy)
		}
		out = append(out, item{text, o.Entry.Place})
	}
	return out
}
