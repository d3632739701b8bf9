// Package history says what became of one build's checks and figures from
// commit to commit.
//
// Each commit is judged as of its own day, as check REV:BUILD judges it: that is
// what the shop could have known then, and each line can be tried by that
// command. A verdict may then change because a day went by, as when a waiver
// runs out, and is told so. With a day that is asked for, all commits are judged
// as of that one, and only edits make a difference.
package history

import (
	"cmp"
	"encoding/json"
	"fmt"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"time"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/lint/compare"
)

// Past is a build at its commits, and how it is judged.
type Past struct {
	Steps []*revision.Step // the oldest first
	Short bool             // older ones are not there: the clone is shallow

	packs  []*lint.Pack
	opt    lint.Options
	cache  *Cache
	name   string // of the build: the repository and the folder in it
	loader *ledger.Loader
}

// Of finds the commits of a build of a revision. Of the options AsOf and Stage
// count.
func Of(p *revision.Place, packs []*lint.Pack, opt lint.Options, cache *Cache) (*Past, error) {
	steps, short, err := p.Steps()
	if err != nil {
		return nil, err
	}
	return &Past{Steps: steps, Short: short, packs: packs, opt: opt, cache: cache,
		name: filepath.Clean(p.Top()) + "\x00" + p.Within(), loader: ledger.NewKeeper()}, nil
}

// Event is a commit that changed the verdict of a check, or that cannot be read.
type Event struct {
	*revision.Step
	Unread  string // why it, and those after it, cannot be read; "" where it can
	Again   bool   // it can be read, and the one before could not
	Gone    bool   // the build is not there
	First   bool   // nothing is before it; what it was then is counted
	Counts  map[string]int
	Changes []*Change
}

// Change is a check whose verdict is not what it was at the commit before.
type Change struct {
	Rule    string   `json:"rule"`
	Entry   string   `json:"entry"`
	Aspect  string   `json:"aspect,omitempty"`
	Worse   bool     `json:"worse"`
	Advice  bool     `json:"advice,omitempty"`
	Before  string   `json:"before"`
	After   string   `json:"after"`
	By      []string `json:"by,omitempty"` // the entries that did it; none where a day went by
	More    int      `json:"more,omitempty"`
	DayOnly bool     `json:"day,omitempty"` // nothing was edited
}

// notChecked is what a check is called that there was not, or is no more.
const notChecked = "not checked"

// Lapsed tells that the check is no longer made, though what it was of is still
// there. It counts as worse.
func (c *Change) Lapsed() bool {
	return c.After == notChecked || c.After == lint.NotApplicable.String()
}

// mostBy is how many entries are named for a change.
const mostBy = 4

// verdicts is what is kept of a commit beside the one before it.
type verdicts struct {
	Unread  string         `json:"unread,omitempty"`
	Counts  map[string]int `json:"counts,omitempty"`
	Changes []*Change      `json:"changes,omitempty"`
}

// Verdicts are the commits that changed a verdict, the oldest first. Step is
// called for each commit that has to be judged.
func (p *Past) Verdicts(step func()) ([]*Event, error) {
	question := "verdicts\x00" + p.name
	kept, answers := p.cache.read(question), map[string]json.RawMessage{}
	var events []*Event
	unread := false         // so was the commit before
	var last *revision.Step // the last that could be read
	var before *lint.Report // its report, where it was judged
	take := func(s *revision.Step, v *verdicts) {
		e := &Event{Step: s, Unread: v.Unread, Counts: v.Counts, Changes: v.Changes, First: last == nil}
		if v.Unread == "" {
			last = s
		}
		e.Again = v.Unread == "" && unread
		if e.First && v.Unread == "" || len(v.Changes) > 0 || e.Again || v.Unread != "" && !unread {
			events = append(events, e)
		}
		unread = v.Unread != ""
	}
	next := 0
	for ; next < len(p.Steps); next++ {
		s := p.Steps[next]
		if s.Tree == "" {
			events = append(events, &Event{Step: s, Gone: true})
			continue
		}
		raw, ok := kept[p.key(last)+" "+p.key(s)]
		var v verdicts
		if !ok || json.Unmarshal(raw, &v) != nil {
			break
		}
		answers[p.key(last)+" "+p.key(s)] = raw
		take(s, &v)
	}
	if next == len(p.Steps) {
		return events, nil
	}
	todo := p.Steps[next:]
	if last != nil { // its report is needed again
		todo = append([]*revision.Step{last}, todo...)
	}
	err := p.judge(todo, nil, step, func(s *revision.Step, r *lint.Report) {
		if s == last {
			before = r
			return
		}
		if r == nil {
			events = append(events, &Event{Step: s, Gone: true})
			return
		}
		v := &verdicts{}
		key := p.key(last) + " " + p.key(s)
		switch {
		case len(r.Faults) > 0:
			v.Unread = faultWords(r.Faults)
		case before == nil:
			v.Counts = countsOf(r)
		default:
			v.Counts, v.Changes = countsOf(r), p.changes(before, r)
		}
		take(s, v)
		if v.Unread == "" {
			before = r
		}
		if raw, err := json.Marshal(v); err == nil {
			answers[key] = raw
		}
	})
	if err == nil {
		p.cache.write(question, answers)
	}
	return events, err
}

// countsOf counts what fails, is open and passes of what counts.
func countsOf(r *lint.Report) map[string]int {
	out := map[string]int{}
	for _, c := range r.Results {
		if c.Verdict != lint.NotApplicable && !c.Should {
			out[c.Word()]++
		}
	}
	return out
}

func faultWords(faults []ledger.Fault) string {
	f := faults[0]
	say := fmt.Sprintf("%s:%d:%d: %s", f.Place.File, f.Place.Line, f.Place.Column, f.Message)
	if n := len(faults) - 1; n > 0 {
		say += fmt.Sprintf(" (and %d more)", n)
	}
	return say
}

func (p *Past) changes(before, after *lint.Report) (out []*Change) {
	if sameVerdicts(before, after) {
		return nil
	}
	edited := len(ledger.Differences(before.Build, after.Build)) > 0
	for _, x := range compare.Verdicts(before, after, p.packs, p.opt) {
		c := &Change{Rule: x.Rule.Name, Entry: x.Entry, Aspect: x.Aspect, Worse: x.Kind == compare.Worse, Before: wordOf(x.Before), After: wordOf(x.After), DayOnly: !edited}
		c.Advice = x.After != nil && x.After.Should || x.After == nil && x.Before.Should
		for _, by := range x.Causes {
			if len(c.By) < mostBy {
				c.By = append(c.By, by.Entry)
			} else {
				c.More++
			}
		}
		out = append(out, c)
	}
	return out
}

// sameVerdicts tells in little time that no check has another verdict.
func sameVerdicts(a, b *lint.Report) bool {
	if len(a.Results) != len(b.Results) {
		return false
	}
	was := make(map[string]lint.Verdict, len(a.Results))
	for _, r := range a.Results {
		was[r.Key()] = r.Verdict
	}
	for _, r := range b.Results {
		if v, ok := was[r.Key()]; !ok || v != r.Verdict {
			return false
		}
	}
	return true
}

func wordOf(r *lint.Result) string {
	if r == nil {
		return notChecked
	}
	return r.Word()
}

// key is all that the verdicts at a commit follow from, beside the rules.
func (p *Past) key(s *revision.Step) string {
	if s == nil {
		return "-"
	}
	stage := "own"
	if p.opt.Stage != nil {
		stage = p.opt.Stage.String()
	}
	return strings.Join([]string{s.Tree, cmp.Or(s.Shop, "-"), cmp.Or(p.opt.AsOf, s.Date.Format(time.DateOnly)), s.Latest(), stage}, "/")
}

// judge checks commits side by side on all cores and hands over each report in
// their order; nil where the build is not there. A rule that is given is the
// only one.
func (p *Past) judge(steps []*revision.Step, only *lint.Rule, step func(), take func(*revision.Step, *lint.Report)) error {
	var failed error
	inOrder(steps, func(s *revision.Step) *judged { return p.one(s, only) }, func(s *revision.Step, j *judged) {
		if j.err != nil {
			failed = cmp.Or(failed, j.err)
		}
		if failed == nil {
			take(s, j.report)
			step()
		}
	})
	return failed
}

type judged struct {
	report *lint.Report
	err    error
}

// one judges one commit; what the program gets wrong costs no other its report.
func (p *Past) one(s *revision.Step, only *lint.Rule) (out *judged) {
	if s.Tree == "" {
		return &judged{}
	}
	src, err := s.Build()
	if err != nil {
		return &judged{err: fmt.Errorf("%s: %w", s.Short(), err)}
	}
	defer func() {
		if bad := recover(); bad != nil {
			out = &judged{report: &lint.Report{Faults: []ledger.Fault{{Place: quantity.Place{File: src.Name(ledger.MainFile)}, Message: fmt.Sprintf("internal error: %v", bad)}}}}
		}
	}()
	opt := p.opt
	opt.Today, opt.Only = s.Date.Format(time.DateOnly), only
	return &judged{report: lint.Check(p.loader.Read(src), p.packs, opt)}
}

// inOrder works on a list on all cores, and takes what comes of it in its order,
// holding no more than a few.
func inOrder[T, R any](list []T, work func(T) R, take func(T, R)) {
	type slot struct {
		of    T
		ready chan R
	}
	workers := runtime.GOMAXPROCS(0)
	queue, todo := make(chan *slot, 2*workers), make(chan *slot)
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			for s := range todo {
				s.ready <- work(s.of)
			}
		})
	}
	go func() {
		for _, of := range list {
			s := &slot{of, make(chan R, 1)}
			queue <- s
			todo <- s
		}
		close(queue)
		close(todo)
	}()
	for s := range queue {
		take(s.of, <-s.ready)
	}
	wg.Wait()
}
