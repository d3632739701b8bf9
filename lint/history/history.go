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
	"slices"
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

// Moved are the commits that moved the build from another folder, the oldest first.
func (p *Past) Moved() (out []*revision.Step) {
	for _, s := range p.Steps {
		if s.From != "" {
			out = append(out, s)
		}
	}
	return out
}

// Began is the first commit of the build; nil where there is none.
func (p *Past) Began() *revision.Step {
	if len(p.Steps) == 0 {
		return nil
	}
	return p.Steps[0]
}

// Event is a commit that changed the verdict of a check, that cannot be read, or that
// moved the build here from another folder.
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
	By      []string `json:"by,omitempty"` // the entries that did it
	More    int      `json:"more,omitempty"`
	DayOnly bool     `json:"day,omitempty"` // by none: the day that it is judged on went by
	Why     string   `json:"why,omitempty"` // by none, and no day: what else there is to say
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
	take := func(s *revision.Step, v *verdicts) {
		if v == nil {
			events = append(events, &Event{Step: s, Gone: true})
			return
		}
		e := &Event{Step: s, Unread: v.Unread, Counts: v.Counts, Changes: v.Changes, First: last == nil}
		if v.Unread == "" {
			last = s
		}
		e.Again = v.Unread == "" && unread
		if e.First && v.Unread == "" || len(v.Changes) > 0 || e.Again || s.From != "" || v.Unread != "" && !unread {
			events = append(events, e)
		}
		unread = v.Unread != ""
	}
	next := 0
	for ; next < len(p.Steps); next++ {
		s := p.Steps[next]
		if s.Tree == "" {
			take(s, nil)
			continue
		}
		key := p.key(last) + " " + p.key(s)
		raw, ok := kept[key]
		var v verdicts
		if !ok || json.Unmarshal(raw, &v) != nil {
			break
		}
		answers[key] = raw
		take(s, &v)
	}
	if next == len(p.Steps) {
		return events, nil
	}
	err := judge(p, p.Steps, next, nil, step, p.verdicts, func(s *revision.Step, v *verdicts) {
		if v != nil {
			if raw, err := json.Marshal(v); err == nil {
				answers[p.key(last)+" "+p.key(s)] = raw
			}
		}
		take(s, v)
	})
	if err == nil {
		p.cache.write(question, answers)
	}
	return events, err
}

// verdicts says what a commit changed; before is nil for the first.
func (p *Past) verdicts(before, now *lint.Report) *verdicts {
	switch {
	case now == nil:
		return nil
	case len(now.Faults) > 0:
		return &verdicts{Unread: faultWords(now.Faults)}
	case before == nil:
		return &verdicts{Counts: countsOf(now)}
	}
	return &verdicts{Counts: countsOf(now), Changes: p.changes(before, now)}
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
	dayLater := sync.OnceValue(func() map[string]*lint.Result { return p.asOf(before, after.AsOf) })
	for _, x := range compare.Verdicts(before, after, p.packs, p.opt) {
		c := &Change{Rule: x.Rule.Name, Entry: x.Entry, Aspect: x.Aspect, Worse: x.Kind != compare.Better, Before: wordOf(x.Before), After: wordOf(x.After)}
		c.Advice = x.After != nil && x.After.Should || x.After == nil && x.Before.Should
		for _, by := range x.Causes {
			if len(c.By) < mostBy {
				c.By = append(c.By, by.Entry)
			} else {
				c.More++
			}
		}
		if len(c.By) == 0 && x.Before != nil && x.After != nil {
			later := dayLater()[x.After.Key()]
			c.DayOnly = later != nil && later.Verdict == x.After.Verdict
		}
		if len(c.By) == 0 && !c.DayOnly {
			if c.Why = x.Why; c.Why == "" && x.After != nil && x.After.Verdict == lint.Fail && !x.After.Numeric() {
				c.Why = x.After.Reason
			}
		}
		out = append(out, c)
	}
	return out
}

// asOf are the checks of a report as they are on another day.
func (p *Past) asOf(r *lint.Report, day string) map[string]*lint.Result {
	opt := p.opt
	opt.AsOf = day
	out := map[string]*lint.Result{}
	for _, c := range lint.Check(r.Build, p.packs, opt).Results {
		out[c.Key()] = c
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

// stretch is how many commits in a row one core judges, each by what the one
// before it came to.
const stretch = 32

// judge checks the commits from one on, stretch by stretch on all cores. What is
// made of each from the last before it that could be read, nil where there is none,
// and from its own report, nil where the build is not there, is taken in their
// order. A rule that is given is the only one.
func judge[T any](p *Past, steps []*revision.Step, from int, only *lint.Rule, step func(), of func(before, now *lint.Report) T, take func(*revision.Step, T)) error {
	type part struct{ from, to int }
	type made struct {
		of  []T
		err error
	}
	var parts []part
	for i := from; i < len(steps); i += stretch {
		parts = append(parts, part{i, min(i+stretch, len(steps))})
	}
	var failed error
	inOrder(parts, func(x part) (out made) {
		last, err := p.lastRead(steps[:x.from], only)
		out.err = err
		for _, s := range steps[x.from:x.to] {
			if out.err != nil {
				return out
			}
			now, err := p.one(s, last, only)
			out.err = err
			out.of = append(out.of, of(last.reported(), now.reported()))
			if now.read() {
				last = now
			}
		}
		return out
	}, func(x part, m made) {
		if failed = cmp.Or(failed, m.err); failed != nil {
			return
		}
		for i, s := range steps[x.from:x.to] {
			take(s, m.of[i])
			step()
		}
	})
	return failed
}

// lastRead judges the last of some commits that can be read; nil where there is
// none.
func (p *Past) lastRead(steps []*revision.Step, only *lint.Rule) (*judged, error) {
	for _, s := range slices.Backward(steps) {
		if j, err := p.one(s, nil, only); err != nil || j.read() {
			return j, err
		}
	}
	return nil, nil
}

// judged is a commit and what its checks came to.
type judged struct {
	*lint.Judged
	shop string
}

func (j *judged) reported() *lint.Report {
	if j == nil {
		return nil
	}
	return j.Report
}

// read tells that the build is there and can be read.
func (j *judged) read() bool { return j != nil && len(j.Faults) == 0 }

// one judges one commit, by what an earlier one came to where there is one; what
// the program gets wrong costs no other its report. It is nil where the build is
// not there.
func (p *Past) one(s *revision.Step, before *judged, only *lint.Rule) (out *judged, err error) {
	if s.Tree == "" {
		return nil, nil
	}
	src, err := s.Build()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Short(), err)
	}
	defer func() {
		if bad := recover(); bad != nil {
			place := quantity.Place{File: src.Name(ledger.MainFile)}
			rep := &lint.Report{Faults: []ledger.Fault{{Place: place, Message: fmt.Sprintf("internal error: %v", bad)}}}
			out = &judged{&lint.Judged{Report: rep}, s.Shop}
		}
	}()
	opt := p.opt
	opt.Today, opt.Only = s.Date.Format(time.DateOnly), only
	var was *lint.Judged
	if before != nil {
		was = before.Judged
	}
	return &judged{lint.CheckAgain(was, p.loader.Read(src), p.packs, opt, before != nil && before.shop == s.Shop), s.Shop}, nil
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
