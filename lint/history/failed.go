package history

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"

	"fishplate/ledger/revision"
	"fishplate/lint"
)

// Failing is a check that fails at the last commit, and the commit at which it
// began to: at all later ones that can be read it failed.
type Failing struct {
	Rule   string
	Entry  string
	Aspect string
	Say    string // what it comes to, in words of the last commit
	Since  *revision.Step
	Always bool    // it failed at the first commit already
	Change *Change // what it was before, and what did it; nil where it failed always
}

// fails is what is kept of a commit: the checks that fail, with what each comes
// to, by their keys.
type fails struct {
	Unread bool              `json:"unread,omitempty"`
	Failed map[string]string `json:"failed,omitempty"`
}

// FailedSince finds since when the checks fail that fail now and count; with a
// rule, advice of it as well. It goes back from the last commit as far as it
// must. Words say what a check comes to.
func (p *Past) FailedSince(rule *lint.Rule, words func(*lint.Report, *lint.Result) string, step func()) ([]*Failing, error) {
	name := ""
	if rule != nil {
		name = rule.Name
	}
	question := "fails\x00" + name + "\x00" + p.name
	kept, answers := p.cache.read(question), map[string]json.RawMessage{}
	var out []*Failing
	open := map[string]*Failing{}
	begun := false
	for end := len(p.Steps); end > 0 && (!begun || len(open) > 0); {
		from := max(0, end-stride)
		part, err := p.failsAt(p.Steps[from:end], rule, words, kept, answers, step)
		if err != nil {
			return nil, err
		}
		for i := end - 1; i >= from; i-- {
			at := part[i-from]
			if at.Unread {
				continue
			}
			if !begun {
				begun = true
				for _, key := range sorted(at.Failed) {
					f := &Failing{Say: at.Failed[key], Since: p.Steps[i]}
					f.Rule, f.Entry, f.Aspect = parts(key)
					open[key] = f
					out = append(out, f)
				}
				continue
			}
			for key, f := range open {
				if _, fails := at.Failed[key]; fails {
					f.Since = p.Steps[i]
				} else if f.Change, err = p.began(p.Steps[i], f, kept, answers); err != nil {
					return nil, err
				} else {
					delete(open, key)
				}
			}
		}
		end = from
	}
	for _, f := range open {
		f.Always = true
	}
	p.cache.write(question, answers)
	return out, nil
}

// stride is how many commits are judged before it is looked whether more have
// to be.
const stride = 32

// failsAt says what fails at some commits. A build that is not there has no
// check at all.
func (p *Past) failsAt(steps []*revision.Step, rule *lint.Rule, words func(*lint.Report, *lint.Result) string, kept, answers map[string]json.RawMessage, step func()) ([]fails, error) {
	out := make([]fails, len(steps))
	var todo []*revision.Step
	var places []int // of those, among the steps
	for i, s := range steps {
		raw, ok := kept[p.key(s)]
		switch {
		case s.Tree == "":
		case ok && json.Unmarshal(raw, &out[i]) == nil:
			answers[p.key(s)] = raw
		default:
			places = append(places, i)
			todo = append(todo, s)
		}
	}
	at := -1
	err := judge(p, todo, 0, rule, step, func(_, now *lint.Report) fails { return failsOf(now, rule, words) }, func(s *revision.Step, f fails) {
		at++
		out[places[at]] = f
		if raw, err := json.Marshal(f); err == nil {
			answers[p.key(s)] = raw
		}
	})
	return out, err
}

// failsOf says what fails at a commit.
func failsOf(rep *lint.Report, rule *lint.Rule, words func(*lint.Report, *lint.Result) string) fails {
	if len(rep.Faults) > 0 {
		return fails{Unread: true}
	}
	failed := map[string]string{}
	for _, c := range rep.Results {
		if c.Verdict == lint.Fail && (c.Counts && rule == nil || rule != nil && c.Rule.Name == rule.Name) {
			failed[c.Key()] = words(rep, c)
		}
	}
	return fails{Failed: failed}
}

// began says what made a check fail that did not at the commit before.
func (p *Past) began(before *revision.Step, f *Failing, kept, answers map[string]json.RawMessage) (*Change, error) {
	key := "began " + p.key(before) + " " + p.key(f.Since)
	changes, known := []*Change(nil), false
	for _, from := range []map[string]json.RawMessage{answers, kept} {
		if raw, ok := from[key]; ok && !known && json.Unmarshal(raw, &changes) == nil {
			known, answers[key] = true, raw
		}
	}
	if !known {
		a, err := p.one(before, nil, nil)
		if err != nil {
			return nil, err
		}
		b, err := p.one(f.Since, a, nil)
		if err != nil {
			return nil, err
		}
		if a != nil {
			changes = p.changes(a.Report, b.Report)
		}
		if raw, err := json.Marshal(changes); err == nil {
			answers[key] = raw
		}
	}
	for _, c := range changes {
		if c.Rule == f.Rule && c.Entry == f.Entry && c.Aspect == f.Aspect {
			return c, nil
		}
	}
	return &Change{Rule: f.Rule, Entry: f.Entry, Aspect: f.Aspect, Worse: true, Before: "not checked", After: "fail"}, nil
}

func sorted(m map[string]string) []string { return slices.Sorted(maps.Keys(m)) }

// parts takes a check's key apart.
func parts(key string) (rule, entry, aspect string) {
	rule, rest, _ := strings.Cut(key, "\x00")
	entry, aspect, _ = strings.Cut(rest, "\x00")
	return rule, entry, aspect
}
