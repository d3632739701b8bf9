package lint

import (
	"cmp"
	"fmt"
	"maps"
	"runtime"
	"slices"
	"strings"
	"sync"

	"fishplate/ledger"
	"fishplate/ledger/job"
	"fishplate/ledger/quantity"
	"fishplate/ledger/revision"
	"fishplate/ledger/spelling"
)

// Options says how builds are judged.
type Options struct {
	Stage *ledger.Stage // judge as of this stage instead of the build's own
	AsOf  string        // "today", YYYY-MM-DD; "" for the day on which the build rests, or else Today
	Today string        // the revision's or the calendar's date
	Only  *Rule         // judge by this rule alone, with the waivers of it; nil for all
}

// Day is the day that a build is judged on. One that was delivered rests: it is
// judged as of its delivery, unless another day is asked for.
func (o Options) Day(b *ledger.Build) string {
	return cmp.Or(o.AsOf, b.Info().Delivered.String(), o.Today)
}

// dated are the options for a build of a revision that has a date.
func (o Options) dated(src *revision.Build) Options {
	if d, ok := src.Date(); ok {
		o.Today = d.Format("2006-01-02")
	}
	return o
}

// Report is all that was found out about one build.
type Report struct {
	Folder string
	// Revision is what stands before the folder of a build that was read from a
	// git revision, with its colon; "" otherwise.
	Revision string
	Shop     string        // the shop's file that has a say, as the user would name it
	Build    *ledger.Build // nil where nothing could be read
	Title    string
	Stage    ledger.Stage
	AsOf     string
	Results  []*Result // worst first, in a fixed order
	// Faults are what is wrong with the ledger's files, or with the program.
	// Results are then what could still be judged.
	Faults []ledger.Fault
	// Notes are about the run itself, such as a shop limit without effect.
	Notes []ledger.Fault
	Cost  *job.Cost // where it is asked for: money is private
}

// Failed tells that some check makes the run fail.
func (r *Report) Failed() bool {
	return slices.ContainsFunc(r.Results, func(x *Result) bool { return x.Counts })
}

// Counts counts the checks by verdict.
func (r *Report) Counts() map[Verdict]int {
	out := map[Verdict]int{}
	for _, x := range r.Results {
		out[x.Verdict]++
	}
	return out
}

// Check runs the packs that apply to a build.
func Check(b *ledger.Build, packs []*Pack, opt Options) *Report {
	return check(b, packs, opt, func(r *Rule) came { return r.run(b) })
}

// came is what a rule came to on a build, before stages and waivers.
type came struct {
	results []*Result
	faults  []ledger.Fault
}

// run runs the rule on a build.
func (r *Rule) run(b *ledger.Build) came {
	results, faults := evaluate(r, b)
	if !b.IsRead() { // else what a figure of it looks at has to be noted
		reckoned(b, r, func() []*Result { return results })
	}
	for _, c := range results {
		c.inherit(b)
	}
	return came{results, faults}
}

// check gathers what rules come to.
func check(b *ledger.Build, packs []*Pack, opt Options, run func(*Rule) came) *Report {
	rep := &Report{Folder: b.Folder, Build: b, Title: b.Title(), Stage: b.Stage(), AsOf: opt.Day(b)}
	if opt.Stage != nil {
		rep.Stage = *opt.Stage
	}
	packs, wrong := For(b, packs)
	chosen, faults := choose(b, packs)
	faults = append(faults, wrong...)
	rep.Faults = ledger.SortFaults(slices.Concat(b.Faults, faults))
	used := map[string]bool{} // limits, by the name of the rule that they give
	for _, p := range chosen {
		for _, rule := range p.Rules {
			if opt.Only != nil && rule.Name != opt.Only.Name {
				continue
			}
			x := run(rule)
			rep.Faults = append(rep.Faults, x.faults...)
			for _, r := range x.results {
				r.settle(rep.Stage)
				if r.Tight {
					used[rule.Name], used[rule.Was] = true, true
				}
			}
			rep.Results = append(rep.Results, x.results...)
		}
	}
	if opt.Only != nil && opt.Only.Check != nil {
		newWaiving(rep, packs, chosen).apply(b)
		Sort(rep.Results)
		return rep
	}
	rep.judgeOwn(b, packs, chosen, max(rep.AsOf, opt.Today))
	rep.Notes = append(shopPacks(b, packs, chosen), idleLimits(b, used)...)
	rep.Shop = shopFile(b)
	Sort(rep.Results)
	return rep
}

// Judge runs the rule on a build, its checks judged as of a stage; false where it
// could not be run.
func (r *Rule) Judge(b *ledger.Build, stage ledger.Stage) ([]*Result, bool) {
	results, faults := evaluate(r, b)
	if len(faults) > 0 {
		return nil, false
	}
	for _, c := range results {
		c.settle(stage)
	}
	return results, true
}

// evaluate runs one rule on one build.
func evaluate(rule *Rule, b *ledger.Build) ([]*Result, []ledger.Fault) {
	return evaluateBy(rule, b, rule.Check)
}

// evaluateBy runs a rule by a check that need not be its own.
func evaluateBy(rule *Rule, b *ledger.Build, check func(*ledger.Build, *Sheet)) (results []*Result, faults []ledger.Fault) {
	s := &Sheet{rule: rule, build: b, kept: keptOf(b)}
	defer func() {
		if p := recover(); p != nil {
			results, faults = nil, []ledger.Fault{{Place: b.Main(), Message: fmt.Sprintf("internal error in rule %s: %v", rule.Name, p)}}
		}
	}()
	check(b, s)
	s.once()
	for _, d := range s.defects {
		p := b.Main()
		if l, ok := rule.limit(b); ok {
			p = l.Place
		}
		faults = append(faults, ledger.Fault{Place: p, Message: d})
	}
	return s.results, ledger.SortFaults(append(faults, s.faults...))
}

type keptKey struct{}

// keptOf is what was found out about a build's values.
func keptOf(b *ledger.Build) *quantity.Kept {
	return ledger.Memo(b, keptKey{}, func() *quantity.Kept { return &quantity.Kept{} })
}

// Chosen are the packs that a build is judged by.
func Chosen(b *ledger.Build, packs []*Pack) []*Pack {
	packs, _ = For(b, packs)
	chosen, _ := choose(b, packs)
	return chosen
}

// choose picks the packs that the build names, all where it names none, and
// checks the names of packs and of the rules that a shop limits.
func choose(b *ledger.Build, packs []*Pack) ([]*Pack, []ledger.Fault) {
	var faults []ledger.Fault
	var names, rules []string
	for _, p := range packs {
		names = append(names, p.Name)
		for _, r := range p.Rules {
			rules = append(rules, r.Name)
			if r.Was != "" {
				rules = append(rules, r.Was)
			}
		}
	}
	for rule, l := range b.Limits {
		if !slices.Contains(rules, rule) {
			faults = append(faults, ledger.Fault{Place: l.Place, Message: fmt.Sprintf("there is no rule %q to limit%s", rule, spelling.DidYouMean(rule, rules))})
		}
	}
	if b.Packs == nil {
		return packs, ledger.SortFaults(faults)
	}
	var out []*Pack
	for _, w := range b.Packs {
		i := slices.Index(names, w.String())
		if i < 0 {
			faults = append(faults, ledger.Fault{Place: w.Source().Place, Message: fmt.Sprintf("there is no pack %q%s", w, spelling.DidYouMean(w.String(), names))})
			continue
		}
		if !slices.Contains(out, packs[i]) {
			out = append(out, packs[i])
		}
	}
	for _, p := range packs {
		if p.Of != nil && !slices.Contains(out, p) {
			out = append(out, p)
		}
	}
	return out, ledger.SortFaults(faults)
}

// idleLimits reports the shop's limits that tightened nothing.
func idleLimits(b *ledger.Build, used map[string]bool) []ledger.Fault {
	var out []ledger.Fault
	for rule, l := range b.Limits {
		if !used[rule] {
			out = append(out, ledger.Fault{Place: l.Place, Message: fmt.Sprintf("the shop's limit for %s has no effect here: it is not tighter than the rule's, or the rule has no such limit", rule)})
		}
	}
	return ledger.SortFaults(out)
}

// Sort puts results worst first: what counts, then by verdict, musts before
// shoulds, then by rule, entry and aspect.
func Sort(rs []*Result) {
	rules := map[string]uint64{} // the place of each name among all: numbers are quicker to compare
	for _, r := range rs {
		rules[r.Rule.Name] = 0
	}
	for i, name := range slices.Sorted(maps.Keys(rules)) {
		rules[name] = uint64(i)
	}
	// How bad, which rule, and its place so far, in one number. What is left to
	// compare in words are the entries of one rule, which mostly are in order.
	keys := make([]uint64, len(rs))
	for i, r := range rs {
		keys[i] = uint64(r.rank())<<48 | rules[r.Rule.Name]<<32 | uint64(i)
	}
	slices.Sort(keys)
	was := slices.Clone(rs)
	for i, k := range keys {
		rs[i] = was[uint32(k)]
	}
	for i := 0; i < len(rs); {
		n := 1
		for i+n < len(rs) && keys[i+n]>>32 == keys[i]>>32 {
			n++
		}
		if alike := rs[i : i+n]; !slices.IsSortedFunc(alike, inLedger) {
			slices.SortFunc(alike, inLedger)
		}
		i += n
	}
}

// inLedger compares checks of one rule by what they are of.
func inLedger(a, b *Result) int {
	return cmp.Or(strings.Compare(a.Entry, b.Entry), strings.Compare(a.Aspect, b.Aspect))
}

// rank is how bad a check is, the worst first.
func (r *Result) rank() int {
	rank := int(Fail - r.Verdict)
	if r.Should {
		rank += 1 << 8
	}
	if !r.Counts {
		rank += 1 << 9
	}
	return rank
}

// CompareBools puts false before true.
func CompareBools(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// Run checks many builds side by side on all cores and hands over each report
// in the order of the builds. At most a few reports are held at a time.
func Run(builds []*revision.Build, packs []*Pack, opt Options, emit func(*Report)) {
	workers := runtime.GOMAXPROCS(0)
	type slot struct {
		ready chan *Report
		b     *revision.Build
	}
	queue := make(chan *slot, 2*workers)
	work := make(chan *slot)
	var wg sync.WaitGroup
	loader := ledger.NewLoader()
	for range workers {
		wg.Go(func() {
			for s := range work {
				s.ready <- guarded(loader, s.b, packs, opt)
			}
		})
	}
	go func() {
		for _, b := range builds {
			s := &slot{make(chan *Report, 1), b}
			queue <- s
			work <- s
		}
		close(queue)
		close(work)
	}()
	for s := range queue {
		emit(<-s.ready)
	}
	wg.Wait()
}

// guarded is one; what the program gets wrong costs no other build its report.
func guarded(l *ledger.Loader, src *revision.Build, packs []*Pack, opt Options) (rep *Report) {
	defer func() {
		if p := recover(); p != nil {
			rep = &Report{Folder: src.Folder(), Title: src.Folder(), AsOf: cmp.Or(opt.AsOf, opt.Today),
				Faults: []ledger.Fault{{Place: quantity.Place{File: src.Name(ledger.MainFile)}, Message: fmt.Sprintf("internal error: %v", p)}}}
		}
		rep.Revision = src.Revision()
	}()
	return one(l, src, packs, opt)
}

// CheckOne is the report on one build.
func CheckOne(l *ledger.Loader, src *revision.Build, packs []*Pack, opt Options) *Report {
	return guarded(l, src, packs, opt)
}

func one(l *ledger.Loader, src *revision.Build, packs []*Pack, opt Options) *Report {
	return Check(l.Read(src), packs, opt.dated(src))
}
