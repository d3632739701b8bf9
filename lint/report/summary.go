package report

import (
	"fmt"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/lint"
)

// tally sorts a build's checks by when something has to be done about them.
type tally struct {
	fix, next, later, advice, waived, pass, other []*lint.Result
	stage                                         ledger.Stage // of next
}

func tallyOf(r *lint.Report) *tally {
	t := &tally{stage: ledger.AtNever}
	for _, c := range r.Results {
		if !c.Counts && !c.Should && open(c) {
			t.stage = min(t.stage, c.Due)
		}
	}
	for _, c := range r.Results {
		to := &t.other
		switch {
		case c.Counts:
			to = &t.fix
		case !c.Should && open(c) && c.Due == t.stage:
			to = &t.next
		case !c.Should && open(c):
			to = &t.later
		case advised(c):
			to = &t.advice
		case c.Verdict == lint.Waived:
			to = &t.waived
		case c.Verdict == lint.Pass:
			to = &t.pass
		}
		*to = append(*to, c)
	}
	return t
}

// Summary says in plain words what a build's checks come to: what to fix now,
// what is due next and later, what is advised.
func Summary(r *lint.Report) string {
	if len(r.Results) == 0 {
		return "Nothing to check yet."
	}
	t := tallyOf(r)
	var say []string
	tell := func(n int, one, many string) {
		switch {
		case n == 1:
			say = append(say, one)
		case n > 1:
			say = append(say, fmt.Sprintf(many, n))
		}
	}
	with := func(v lint.Verdict) int {
		return count(t.fix, func(c *lint.Result) bool { return c.Verdict == v })
	}
	tell(with(lint.Fail), "1 check fails", "%d checks fail")
	tell(with(lint.Missing), "1 that is due lacks something", "%d that are due lack something")
	tell(with(lint.Unproven), "1 that is due is left open by its tolerance", "%d that are due are left open by their tolerances")
	head := "Nothing needs fixing now."
	if n := len(r.Faults); n > 0 {
		head = fmt.Sprintf("Its files cannot all be read (%s, listed separately): this is what could be judged without that.", Plural(n, "fault"))
	}
	if len(say) > 0 {
		if len(r.Faults) == 0 {
			head = ""
		}
		head = strings.TrimSpace(head + " To fix now: " + strings.Join(say, "; ") + ".")
	}
	say = nil
	if n := len(t.next); n > 0 {
		due := fmt.Sprintf("Before %s: %s", t.stage, Plural(n, "check"))
		if things := len(lint.Waits(t.next)); things > 1 {
			due = fmt.Sprintf("Before %s: %d things to do (%s)", t.stage, things, Plural(n, "check"))
		}
		if n := len(t.later); n > 0 {
			due += fmt.Sprintf("; later: %s", Plural(n, "check"))
		}
		say = append(say, due)
	}
	tell(len(t.advice), "1 advisory", "%d advisory")
	tell(len(t.waived), "1 waived", "%d waived")
	tell(len(t.pass), "1 passes", "%d pass")
	if len(say) == 0 {
		return head
	}
	return head + " " + strings.Join(say, "; ") + "."
}

func count(rs []*lint.Result, is func(*lint.Result) bool) int {
	n := 0
	for _, r := range rs {
		if is(r) {
			n++
		}
	}
	return n
}

// oneLine is a build's line among many.
func oneLine(r *lint.Report) string {
	t := tallyOf(r)
	out := fmt.Sprintf("%s  %s  fix %d  due %d  later %d  pass %d", Clean(r.Folder), r.Stage, len(t.fix), len(t.next), len(t.later), len(t.pass))
	if n := len(t.waived); n > 0 {
		out += fmt.Sprintf("  waived %d", n)
	}
	return out
}

// byStage counts checks by the stage at which they are due, in order.
func byStage(rs []*lint.Result) (stages []ledger.Stage, n map[ledger.Stage]int) {
	n = map[ledger.Stage]int{}
	for _, r := range rs {
		if n[r.Due]++; n[r.Due] == 1 {
			stages = append(stages, r.Due)
		}
	}
	slices.Sort(stages)
	return stages, n
}

// Sentence says in plain words what a run over several builds comes to.
func (t *Totals) Sentence() string {
	s := fmt.Sprintf("%s: ", Plural(t.Builds+t.Unread, "build"))
	switch {
	case t.Failed == 0 && t.Unread == 0:
		return s + "nothing needs fixing now."
	case t.Unread == 0:
		return s + fmt.Sprintf("%d with something to fix now, %d without.", t.Failed, t.Builds-t.Failed)
	}
	return s + fmt.Sprintf("%d with something to fix now, %d without, %d that cannot be read.", t.Failed, t.Builds-t.Failed, t.Unread)
}

// Rest says which builds were not judged, each in a sentence of its own: those that
// do not differ, where only what differs was asked for, and those that try a
// shop's rules.
func (t *Totals) Rest() (say []string) {
	if t.Since != "" {
		say = append(say, t.since())
	}
	if len(t.Passed) > 0 {
		say = append(say, Clean("Passed by, as its builds try the shop's rules: "+few(t.Passed, mostNames)+". check --trials runs them."))
	}
	return say
}

func (t *Totals) since() string {
	say := "Only builds that differ from " + t.Since + " were checked"
	if t.Builds+t.Unread == 0 {
		say = "No build that is there differs from " + t.Since
	}
	if len(t.Gone) > 0 {
		say += "; gone: " + few(t.Gone, mostNames)
	}
	return Clean(say + ".")
}
