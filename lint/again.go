package lint

import (
	"fishplate/ledger"
	"fishplate/ledger/schema"
)

// Judged is a report, with what it takes to judge the build again after an edit.
type Judged struct {
	*Report
	rules map[*Rule]*reading
}

// reading is what a rule came to, and which kinds of entry it looked at.
type reading struct {
	came
	reads *ledger.Reads
}

// CheckAgain is Check of a later reading of a build: a rule that looked at nothing
// which is another now is not run again. Its checks are as before, in all but their
// places and those of what they need, which are those of that time: SameRun tells.
// Without an earlier judgment, or where the shop's file or the entry build is another,
// all run. A rule knows no day: waivers alone do, and are applied each time.
func CheckAgain(before *Judged, b *ledger.Build, packs []*Pack, opt Options, sameShop bool) *Judged {
	j := &Judged{rules: map[*Rule]*reading{}}
	var changed map[*schema.Kind]bool
	old := map[*Rule]*reading{}
	if before != nil && sameShop && len(b.Faults)+len(before.Build.Faults) == 0 {
		changed = b.Changed(before.Build)
		if !changed[ledger.KindNamed("build")] && !changed[ledger.KindNamed("shop")] {
			old = before.rules
		}
	}
	run := func(r *Rule) came {
		x := old[r]
		if x == nil || x.reads.Of(changed) {
			x = &reading{}
			x.reads = b.Reading(func() { x.came = r.run(b) })
		}
		j.rules[r] = x
		return x.copied()
	}
	b.Reading(func() { j.Report = check(b, packs, opt, run) }) // what is shared by rules is noted from the first
	return j
}

// copied are the results to be settled and waived, which those that are kept are not.
func (x *reading) copied() came {
	out := came{faults: x.faults}
	for _, r := range x.results {
		c := *r
		c.first = r
		out.results = append(out.results, &c)
	}
	return out
}

// SameRun tells that two results are of one run of their rule.
func (r *Result) SameRun(o *Result) bool { return r.first != nil && r.first == o.first }
