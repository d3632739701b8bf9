package lint

import (
	"fmt"
	"slices"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/spelling"
)

// waiving knows what the waivers of one build are held against.
type waiving struct {
	rep    *Report
	all    []*Pack            // that there are
	chosen []*Pack            // that apply to the build
	found  map[string]*Result // all checks by their keys; none where there is no waiver
}

func newWaiving(rep *Report, all, chosen []*Pack) *waiving {
	w := &waiving{rep: rep, all: all, chosen: chosen}
	if len(rep.Build.Waivers()) > 0 {
		w.found = make(map[string]*Result, len(rep.Results))
		for _, r := range rep.Results {
			w.found[r.Key()] = r
		}
	}
	return w
}

// whole is what a waiver must say: it is no waiver without.
func whole(v *ledger.Waiver) quantity.Truth {
	return v.Rule.Required().And(v.Entry.Required()).And(v.Because.Required()).And(v.By.Required()).And(v.Until.Required())
}

// ranOut tells whether a waiver's last day is past on the day that is judged, or
// on the last that the ledger speaks of: no date on a commit brings it back.
func (w *waiving) ranOut(v *ledger.Waiver) bool {
	return v.Until.String() < max(w.rep.AsOf, w.rep.Build.Latest())
}

// rule is the name that the waiver's rule has now.
func (w *waiving) rule(v *ledger.Waiver) string {
	name := v.Rule.String()
	for _, p := range w.all {
		for _, r := range p.Rules {
			if r.Was != "" && r.Was == name {
				return r.Name
			}
		}
	}
	return name
}

// match is the check that a waiver names. One without an aspect names the
// check that has none: a check that is made in several respects is waived in
// each by name.
func (w *waiving) match(v *ledger.Waiver) *Result {
	return w.found[w.rule(v)+"\x00"+v.Entry.String()+"\x00"+v.Aspect.String()]
}

// apply lets each waiver that holds cover the check that it names, if that
// does not pass.
func (w *waiving) apply(b *ledger.Build) {
	for _, v := range b.Waivers() {
		r := w.match(v)
		if r == nil || !whole(v).Holds() || w.ranOut(v) {
			continue
		}
		switch r.Verdict {
		case Fail, Unproven, Missing:
			r.Underlying, r.Verdict, r.Counts = r.Verdict, Waived, false
			because := fmt.Sprintf("waived by %s until %s: %s", v.By, v.Until, v.Because)
			if r.Reason != "" {
				because = r.Reason + "; " + because
			}
			r.Reason = because
		}
	}
}

// check is the program's own check of waivers: each says what it must, has not
// run out, and names a check that there is.
func (w *waiving) check(b *ledger.Build, s *Sheet) {
	for _, v := range b.Waivers() {
		u, wrong := s.On(v, ""), ""
		if whole(v).Holds() {
			wrong = w.fault(v)
		}
		if r := w.match(v); r != nil && r.Verdict == Pass && wrong == "" {
			u.Recommended()
			wrong = "it covers nothing: the check passes without it; take it out"
		}
		u.Holds(whole(v).And(quantity.Is(wrong == "")), "%s", wrong)
	}
}

// fault says in words why a waiver covers nothing.
func (w *waiving) fault(v *ledger.Waiver) string {
	rule := w.rule(v)
	r := w.match(v)
	switch {
	case rule == packsRule.Name && r == nil:
		return "it matches nothing: a waiver of this rule names build as its entry, and a pack that is left out as its aspect"
	case rule == packsRule.Name && !w.ranOut(v):
		return ""
	case rule == packsRule.Name:
		return fmt.Sprintf("it ran out on %s", v.Until)
	case hasRule([]*Pack{Own}, rule):
		return rule + " is a check of the ledger itself, and cannot be waived"
	case !hasRule(w.all, rule):
		return fmt.Sprintf("there is no rule %q%s", rule, spelling.DidYouMean(rule, ruleNames(w.all)))
	case !hasRule(w.chosen, rule):
		return fmt.Sprintf("it matches nothing: the pack %s does not apply to this build", PackOf(rule))
	case w.ranOut(v):
		return fmt.Sprintf("it ran out on %s", v.Until)
	case r == nil:
		return "it matches nothing: " + w.instead(v)
	case r.Verdict == NotApplicable:
		return "it matches nothing: the check does not apply, " + r.Reason
	}
	return ""
}

// instead says what the rule does judge.
func (w *waiving) instead(v *ledger.Waiver) string {
	var entries, aspects []string
	for _, r := range w.rep.Results {
		if r.Rule.Name != w.rule(v) {
			continue
		}
		entries = append(entries, r.Entry)
		if r.Entry == v.Entry.String() {
			aspects = append(aspects, r.Aspect)
		}
	}
	slices.Sort(aspects)
	switch {
	case len(aspects) == 1 && aspects[0] == "":
		return fmt.Sprintf("%s judges %s in one respect only; leave the aspect out", v.Rule, v.Entry)
	case len(aspects) > 0:
		return fmt.Sprintf("%s judges %s in several respects; say which aspect: %s", v.Rule, v.Entry, quoted(aspects))
	}
	return fmt.Sprintf("%s judges nothing on %q%s", v.Rule, v.Entry, spelling.DidYouMean(v.Entry.String(), entries))
}

// quoted lists words for a person to choose from.
func quoted(words []string) string {
	out := ""
	for i, w := range words {
		switch {
		case i > 0 && i == len(words)-1:
			out += " or "
		case i > 0:
			out += ", "
		}
		out += fmt.Sprintf("%q", w)
	}
	return out
}

func ruleNames(packs []*Pack) []string {
	var out []string
	for _, p := range packs {
		for _, r := range p.Rules {
			out = append(out, r.Name)
		}
	}
	return out
}

func hasRule(packs []*Pack, name string) bool { return slices.Contains(ruleNames(packs), name) }
