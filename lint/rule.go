// Package lint is the engine: it runs rules on a build, judges what they find
// and says what is proved, what fails, what is left open and what is missing.
package lint

import (
	"fmt"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
)

// Rule is one thing that must or should hold. It is a plain value: names,
// texts and one function that says what is to be compared with what. It never
// knows who runs it.
type Rule struct {
	Name    string // "weight/front-axle"
	Was     string // its name before, which waivers and limits may still use
	Title   string // what must hold, in one line
	Should  bool   // a should never fails a run
	Due     ledger.Stage
	Sources []quantity.Citation
	Backs   []string // keys of the sources that back the limit; none for the first one
	Note    string   // what it leaves out, or where it is a benchmark
	Caution string   // where someone can get hurt
	Check   func(*ledger.Build, *Sheet)
}

// Level is must or should, in RFC 2119's words.
func (r *Rule) Level() string {
	if r.Should {
		return "should"
	}
	return "must"
}

// BacksLimit tells that the limit itself rests on a source, and not only the
// sum that is held against it.
func (r *Rule) BacksLimit(c quantity.Citation) bool {
	if len(r.Backs) > 0 {
		return slices.Contains(r.Backs, c.Key)
	}
	return len(r.Sources) > 0 && r.Sources[0].Key == c.Key
}

// limit is the shop's own limit for the rule, under either of its names.
func (r *Rule) limit(b *ledger.Build) (ledger.Limit, bool) {
	if l, ok := b.Limit(r.Name); ok || r.Was == "" {
		return l, ok
	}
	return b.Limit(r.Was)
}

// Pack is a set of rules about one subject.
type Pack struct {
	Name  string
	Title string
	Rules []*Rule
	// Of gives the rules where the shop of a build makes them, and tells what is
	// wrong with them. Such a pack judges every build, whatever packs that names.
	Of func(*ledger.Build) ([]*Rule, []ledger.Fault)
}

// For are the packs as they are for a build, its shop's own rules among them.
func For(b *ledger.Build, packs []*Pack) ([]*Pack, []ledger.Fault) {
	type made struct {
		pack   *Pack
		faults []ledger.Fault
	}
	var faults []ledger.Fault
	out := slices.Clone(packs)
	for i, p := range packs {
		if p.Of == nil {
			continue
		}
		m := ledger.Memo(b, p, func() made {
			rules, faults := p.Of(b)
			return made{&Pack{Name: p.Name, Title: p.Title, Rules: rules, Of: p.Of}, faults}
		})
		out[i], faults = m.pack, append(faults, m.faults...)
	}
	return out, faults
}

// PackOf is the name of the pack that a rule of this name stands in.
func PackOf(rule string) string {
	pack, _, _ := strings.Cut(rule, "/")
	return pack
}

// Verdict is what a check comes to.
type Verdict uint8

// The verdicts, from best to worst for a must; NotApplicable stands apart.
const (
	NotApplicable Verdict = iota
	Pass
	Waived
	Unproven
	Missing
	Fail
)

var verdictWords = [...]string{"not applicable", "pass", "waived", "unproven", "missing", "fail"}

func (v Verdict) String() string { return verdictWords[v] }

// VerdictNamed is the verdict of a word.
func VerdictNamed(word string) (Verdict, bool) {
	i := slices.Index(verdictWords[:], word)
	return Verdict(max(i, 0)), i >= 0
}

// Sense is how value and limit are compared.
type Sense string

// The senses of a check.
const (
	AtMost  Sense = "at-most"
	AtLeast Sense = "at-least"
	Between Sense = "between"
	Same    Sense = "same"
	Holds   Sense = "holds"
)

// Result is one check: a rule on an entry in one respect.
type Result struct {
	Rule    *Rule
	Entry   string
	Aspect  string
	Place   quantity.Place
	Should  bool
	Due     ledger.Stage
	Sense   Sense
	Value   quantity.Quantity
	Limit   quantity.Quantity
	Upper   quantity.Quantity // of Between
	Within  quantity.Quantity // of Same: the share of the limit that is allowed
	Margin  quantity.Quantity
	Verdict Verdict
	// Underlying is the verdict under a waiver.
	Underlying Verdict
	// Reason says why, in words: why not applicable, what a truth that does
	// not hold means, why it was waived.
	Reason string
	// Settled says what settled a question that passes, where its rule says.
	Settled string
	Needs   []quantity.Need
	// Counts tells that it makes the run fail.
	Counts bool
	// Tight is a shop's own limit that took the place of the rule's.
	Tight bool

	first *Result // what it is a copy of, where its rule was not run again
	work  bool
	// of work: it is to read something on the vehicle
	reading bool
	kept    *quantity.Kept // what was found out about the build's values
}

// Analysis is that of one of the check's quantities, made once and kept for all
// checks of the build.
func (r *Result) Analysis(q quantity.Quantity) *quantity.Analysis {
	if r.kept == nil {
		return quantity.Analyze(q)
	}
	return r.kept.Analyze(q)
}

// Key identifies the check for comparing, waivers and fingerprints.
func (r *Result) Key() string { return r.Rule.Name + "\x00" + r.Entry + "\x00" + r.Aspect }

// Subject is the entry, with the aspect where there is one.
func (r *Result) Subject() string {
	if r.Aspect == "" {
		return r.Entry
	}
	return fmt.Sprintf("%s (%s)", r.Entry, r.Aspect)
}

// ToDo tells that the check waits for work that is not done and not due yet,
// and for no value.
func (r *Result) ToDo() bool {
	v := r.Verdict
	if v == Waived {
		v = r.Underlying
	}
	return v == Missing && len(r.Needs) == 1 && r.Needs[0].Key == r.Reason
}

// Undone tells that the check is about work, and that it is not done, due or
// not.
func (r *Result) Undone() bool { return r.ToDo() || r.work && r.Verdict == Fail }

// Word is what a person calls the verdict: advice that fails is not met, and
// work that is not due yet is to do.
func (r *Result) Word() string { return r.word(r.Verdict) }

// UnderlyingWord is what the check would be called without its waiver.
func (r *Result) UnderlyingWord() string { return r.word(r.Underlying) }

func (r *Result) word(v Verdict) string {
	switch {
	case v == Fail && r.Should:
		return "not met"
	case v == Missing && r.ToDo():
		return "to do"
	}
	return v.String()
}

// Numeric tells whether the check compares quantities.
func (r *Result) Numeric() bool { return r.Sense != Holds && r.Sense != "" }

// judge settles the verdict of a check from its margin.
func (r *Result) judge() {
	if len(r.Needs) > 0 {
		r.Verdict = Missing
		return
	}
	if !r.Margin.Known() {
		r.Verdict, r.Needs = Missing, r.Margin.Needs()
		return
	}
	switch less, atLeast := r.kept.Side(r.Margin, -r.slack()); {
	case !less:
		r.Verdict = Pass
	case !atLeast:
		r.Verdict = Fail
	default:
		r.Verdict = Unproven
	}
}

// slack is what floating-point rounding may amount to: a value that equals
// its limit passes.
func (r *Result) slack() float64 {
	size := 0.0
	for _, q := range []quantity.Quantity{r.Value, r.Limit, r.Upper} {
		if q.Known() {
			size = max(size, q.Value(), -q.Value())
		}
	}
	return 1e-12 * size
}

// settle applies what depends on the stage.
func (r *Result) settle(stage ledger.Stage) {
	due := stage >= r.Due
	if r.work && r.Verdict == Fail && !due {
		r.Verdict = Missing
		r.Needs = []quantity.Need{{Key: r.Reason, Place: r.Place}}
	}
	switch r.Verdict {
	case Fail:
		r.Counts = !r.Should
	case Unproven, Missing:
		r.Counts = !r.Should && due
	}
}
