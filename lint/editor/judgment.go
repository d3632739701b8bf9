package editor

import (
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/lint/report"
)

// judgment is what the checks came to on a build as it was read once.
type judgment struct {
	of       *ledger.Build
	rep      *lint.Report
	faults   []ledger.Fault // that only judging shows, such as a pack that is not there
	findings []finding
	reads    map[string][]*lint.Result // by the path of a value, made when first asked for
	blanks   []*lint.Blank             // likewise
	mends    map[*lint.Result][]lint.Proposal
}

// finding is a check that an editor shows.
type finding struct {
	check    *lint.Result
	severity Severity
	says     string
	at       mark
	others   []contributor
}

// contributor is an entry that bears on a finding.
type contributor struct {
	says string
	at   mark
}

// mostContributors is how many entries are named beside a finding.
const mostContributors = 5

// judgeAfterPause has a build judged when its keys have rested.
func (s *server) judgeAfterPause(b *build) {
	if b.calm != nil {
		b.calm()
	}
	b.calm = s.opt.Clock.After(pause, func() {
		s.enqueue(job{do: func() {
			if s.builds[b.dir] == b && (b.last == nil || b.dirty || b.last.of != b.b) {
				b.judgeSoon = true
			}
		}})
	})
}

// judge runs the checks. Where something cannot be read, what was found before that
// stands; where nothing was, what can still be judged.
func (s *server) judge(b *build) {
	b.judgeSoon = false
	if b.last != nil && (b.last.of == b.b || len(b.b.Faults) > 0 && len(b.last.of.Faults) == 0) {
		return
	}
	rep := lint.Check(b.b, s.opt.Packs, s.opt.Judge())
	j := &judgment{of: b.b, rep: rep}
	had := map[ledger.Fault]bool{}
	for _, f := range b.b.Faults {
		had[f] = true
	}
	for _, f := range rep.Faults {
		if !had[f] {
			j.faults = append(j.faults, f)
		}
	}
	for _, r := range rep.Results {
		if severity, shown := severityOf(r); shown {
			f := finding{check: r, severity: severity, says: report.Sentence(r, b.b.Style()), at: b.markOf(r.Place)}
			if severity <= Warning || r.Verdict == lint.Fail {
				f.others = b.contributors(r)
			}
			j.findings = append(j.findings, f)
		}
	}
	changed := b.last != nil
	b.last = j
	if changed && s.client.Capabilities.Workspace.CodeLens.Refresh {
		s.ask("workspace/codeLens/refresh", nil)
	}
}

// judged is the judgment on a build, now: of what can be read, or the last good one.
func (s *server) judged(b *build) *judgment {
	if b.last == nil || b.last.of != b.b {
		s.judge(b)
	}
	return b.last
}

// stale tells that what was found is of an earlier state, because the present one
// cannot be read.
func (b *build) stale() bool { return b.last.of != b.b && len(b.b.Faults) > 0 }

// severityOf is how grave an editor shows a check, and whether it does: what fails
// is an error, what is due a warning, what is open information, and advice a hint.
func severityOf(r *lint.Result) (Severity, bool) {
	switch {
	case r.Verdict == lint.Pass, r.Verdict == lint.NotApplicable, r.Verdict == lint.Waived:
		return 0, false
	case r.Counts && r.Verdict == lint.Fail && !r.Undone():
		return Error, true
	case r.Counts:
		return Warning, true
	case r.Verdict == lint.Fail || !r.Should:
		return Information, true
	}
	return Hint, true
}

// contributors are the entries that bear on a check: on its figure, or what it
// waits for.
func (b *build) contributors(r *lint.Result) []contributor {
	var out []contributor
	add := func(p quantity.Place, says string) {
		if len(out) < mostContributors && p.Line > 0 {
			out = append(out, contributor{says, b.markOf(p)})
		}
	}
	if !r.Margin.Known() {
		for _, n := range r.Needs {
			if n.Place != r.Place {
				add(n.Place, plain("it waits for "+n.Key))
			}
		}
		return out
	}
	if r.Numeric() {
		for _, share := range r.Analysis(r.Margin).Shares() {
			if e, ok := b.b.Entry(share.Entry); ok && share.Entry != r.Entry {
				if says := report.Weighs(r, share.Entry, b.b.Style()); len(says) > 0 {
					add(e.Place, plain(share.Entry+": "+strings.Join(says, "; ")))
				}
			}
		}
	}
	return out
}
