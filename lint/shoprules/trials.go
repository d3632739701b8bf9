package shoprules

import (
	"fmt"
	"slices"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/revision"
	"fishplate/ledger/spelling"
	"fishplate/lint"
)

// Trial is what came of a build that tries a rule.
type Trial struct {
	Rule, Name, Build string
	Place             quantity.Place
	Want, Got         lint.Verdict
}

// AsItShould tells that the rule said of the build what it should.
func (t Trial) AsItShould() bool { return t.Want == t.Got }

// Trials are those of the rules of a shop.
type Trials struct {
	Done    []Trial
	Untried []ledger.Fault // rules without a trial, and builds that try none
	Faults  []ledger.Fault
}

// Try runs the trials of a shop's rules, and tells all that is wrong with the rules
// and the builds.
func Try(l *ledger.Loader, shop *revision.Shop, packs []*lint.Pack, opt lint.Options) *Trials {
	b := l.OfShop(shop)
	out := &Trials{}
	_, faults := lint.For(b, packs)
	out.Faults = append(slices.Clone(b.Faults), faults...)
	if len(out.Faults) > 0 {
		out.Faults = ledger.SortFaults(out.Faults)
		return out
	}
	reports := map[string]*lint.Report{}
	for _, v := range b.OwnRules() {
		names := v.Trials()
		if len(names) == 0 {
			out.Untried = append(out.Untried, ledger.Fault{Place: v.Place(), Message: fmt.Sprintf("%s has no trial: nothing shows that it finds what it is for", ruleName(v))})
		}
		for _, name := range names {
			t := v.Trial[name]
			rep := out.report(reports, l, shop, t, packs, opt)
			if rep == nil {
				continue
			}
			want, _ := lint.VerdictNamed(t.Verdict.String())
			out.Done = append(out.Done, Trial{ruleName(v), name, t.Build.String(), v.TrialAt(name), want, worst(rep, ruleName(v))})
		}
	}
	for _, folder := range shop.Trials() {
		if _, tried := reports[folder]; !tried {
			out.Untried = append(out.Untried, ledger.Fault{Place: b.Main(), Message: folder + " holds a build that tries no rule, and no check goes by it; a build that is worked on stands elsewhere"})
		}
	}
	out.Faults = ledger.SortFaults(out.Faults)
	return out
}

// report judges the build of a trial, once; nil where it cannot be.
func (t *Trials) report(made map[string]*lint.Report, l *ledger.Loader, shop *revision.Shop, trial ledger.Trial, packs []*lint.Pack, opt lint.Options) *lint.Report {
	folder := trial.Build.String()
	if rep, ok := made[folder]; ok {
		return rep
	}
	made[folder] = nil
	src, ok := shop.Trial(folder)
	if !ok {
		t.Faults = append(t.Faults, ledger.Fault{Place: trial.Build.Source().Place, Message: fmt.Sprintf("there is no build %s beside %s%s", folder, shop.Name, spelling.DidYouMean(folder, shop.Trials()))})
		return nil
	}
	rep := lint.CheckOne(l, src, packs, opt)
	if len(rep.Faults) > 0 {
		t.Faults = append(t.Faults, rep.Faults...)
		return nil
	}
	made[folder] = rep
	return rep
}

// worst is what a rule says of a build: the worst of its checks, waived or not.
func worst(rep *lint.Report, rule string) lint.Verdict {
	out := lint.NotApplicable
	for _, r := range rep.Results {
		v := r.Verdict
		if v == lint.Waived {
			v = r.Underlying
		}
		if r.Rule.Name == rule {
			out = max(out, v)
		}
	}
	return out
}
