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
	shop     *file
	day      string
	judged   *lint.Judged
	rep      *lint.Report
	faults   []remark // that only judging shows, such as a pack that is not there
	notes    []remark
	findings []finding
	known    map[string]finding        // and all other checks, by their keys
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
	others   []remark
}

// remark is something that is said of a place.
type remark struct {
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

// judge runs the checks, where that may tell something new.
func (s *server) judge(b *build) {
	b.judgeSoon = false
	opt := s.opt.Judge()
	if l := b.last; l != nil {
		switch {
		case len(b.b.Faults) > 0 && len(l.of.Faults) == 0:
			return // what was found before something could not be read stands
		case b.diskChanged:
		case l.of == b.b:
			return
		default:
			b.b.KeepFileDigests(l.of)
			if l.shop == b.files[b.shop] && l.day == opt.Day(b.b) && len(l.of.Faults)+len(b.b.Faults)+len(b.b.Changed(l.of)) == 0 {
				l.of = b.b
				return
			}
		}
	}
	first := b.last == nil
	b.last, b.diskChanged = b.judgment(b.last, s.opt.Packs, opt), false
	if !first && s.client.Capabilities.Workspace.CodeLens.Refresh {
		s.ask("workspace/codeLens/refresh", nil)
	}
}

// judgment is what the checks come to on a build as it was read. What an edit does
// not bear on is taken from the judgment before.
func (b *build) judgment(was *judgment, packs []*lint.Pack, opt lint.Options) *judgment {
	j := &judgment{of: b.b, shop: b.files[b.shop], day: opt.Day(b.b)}
	before, known := (*lint.Judged)(nil), map[string]finding{}
	if was != nil {
		before, known = was.judged, was.known
	}
	j.judged = lint.CheckAgain(before, b.b, packs, opt, was != nil && was.shop == j.shop)
	j.rep = j.judged.Report
	had := map[ledger.Fault]bool{}
	for _, f := range b.b.Faults {
		had[f] = true
	}
	for _, f := range j.rep.Faults {
		if !had[f] {
			j.faults = append(j.faults, remark{f.Message, b.markOf(f.Place)})
		}
	}
	for _, n := range j.rep.Notes {
		j.notes = append(j.notes, remark{n.Message, b.markOf(n.Place)})
	}
	j.known = make(map[string]finding, len(j.rep.Results))
	for _, r := range j.rep.Results {
		old, same := known[r.Key()]
		same = same && old.check.SameRun(r) // the places that it has are of that time
		f := finding{check: r, at: old.at, says: old.says, others: old.others}
		if !same {
			f.at = b.markOf(r.Place)
		}
		severity, shown := severityOf(r)
		if shown && (!same || old.severity != severity || old.check.Verdict != r.Verdict) {
			// the rule's name too: many an editor shows neither code nor source
			f.says, f.others = r.Rule.Name+" on "+report.Sentence(r, b.b.Style()), nil
			if severity <= Warning || r.Verdict == lint.Fail {
				f.others = b.contributors(r, !same)
			}
		}
		f.severity = severity
		if j.known[r.Key()] = f; shown {
			j.findings = append(j.findings, f)
		}
	}
	return j
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
func (b *build) stale() bool { return len(b.last.of.Faults) == 0 && len(b.b.Faults) > 0 }

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
// waits for. The places of what it waits for are those of its run.
func (b *build) contributors(r *lint.Result, fresh bool) []remark {
	var out []remark
	add := func(p quantity.Place, says string) {
		if len(out) < mostContributors && p.Line > 0 {
			out = append(out, remark{says, b.markOf(p)})
		}
	}
	if !r.Margin.Known() {
		for _, n := range r.Needs {
			if fresh && n.Place != r.Place {
				add(n.Place, plain("it waits for "+n.Key))
			}
		}
		return out
	}
	if r.Numeric() {
		shares := r.Analysis(r.Margin).Shares()
		for _, share := range shares {
			if e, ok := b.b.Entry(share.Entry); ok && share.Entry != r.Entry && len(out) < mostContributors {
				if says := report.Weighs(r, shares, share.Entry, b.b.Style()); len(says) > 0 {
					add(e.Place, plain(share.Entry+": "+strings.Join(says, "; ")))
				}
			}
		}
	}
	return out
}
