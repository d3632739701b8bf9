package history

import (
	"encoding/json"
	"math"
	"slices"

	"fishplate/ledger/quantity"
	"fishplate/ledger/revision"
	"fishplate/lint"
)

// Span is a figure with the least and the most that it can be, in SI; nil is
// an end that there is not.
type Span struct {
	Value float64  `json:"value"`
	Low   *float64 `json:"low"`
	High  *float64 `json:"high"`
}

// Unit is what a figure is shown in: so many of it are a value less Offset,
// divided by Factor.
type Unit struct {
	Symbol string  `json:"symbol"`
	Factor float64 `json:"factor"`
	Offset float64 `json:"offset,omitempty"`
}

// In is a value in SI as a number of the unit.
func (u Unit) In(v float64) float64 { return (v - u.Offset) / u.Factor }

// Shown is the unit as quantities are printed by.
func (u Unit) Shown() *quantity.Unit {
	return &quantity.Unit{Symbol: u.Symbol, Factor: u.Factor, Offset: u.Offset}
}

// Point is what a check came to at a commit.
type Point struct {
	Entry   string     `json:"entry"`
	Aspect  string     `json:"aspect,omitempty"`
	Verdict string     `json:"verdict"`
	Fails   bool       `json:"fails,omitempty"` // or would, without its waiver
	Sense   lint.Sense `json:"sense,omitempty"`
	Value   *Span      `json:"value,omitempty"`
	Limit   *Span      `json:"limit,omitempty"`
	Upper   *Span      `json:"upper,omitempty"`
	Unit    Unit       `json:"unit"`
	SI      string     `json:"si,omitempty"`  // the unit that the figures here are in
	Say     string     `json:"say,omitempty"` // why, in words, where there is no figure

	*revision.Step `json:"-"`
	Events         []string `json:"-"` // what happened in it: a stage, a weighing, a move
}

// same tells whether a point says what another does.
func (p *Point) same(o *Point) bool {
	x, _ := json.Marshal(p) // of texts and numbers that there are: it has no error
	y, _ := json.Marshal(o)
	return string(x) == string(y)
}

// Line is one check of a rule, with the commits that changed its figure or in which
// something happened to the vehicle, the oldest first.
type Line struct {
	Rule   *lint.Rule
	Entry  string
	Aspect string
	Points []*Point
	Last   bool // it is there at the last commit
}

// points is what is kept of a commit.
type points struct {
	Unread bool     `json:"unread,omitempty"`
	Points []*Point `json:"points,omitempty"`
	Facts  *facts   `json:"facts,omitempty"`
}

// Figures are the lines of a rule. Unit says
// what a check's figure is shown in. Step is called for each commit that has to
// be judged.
func (p *Past) Figures(rule *lint.Rule, unit func(*lint.Report, *lint.Result) *quantity.Unit, step func()) ([]*Line, error) {
	all, err := p.points(rule, unit, step)
	if err != nil {
		return nil, err
	}
	var lines []*Line
	by := map[string]*Line{}
	var before *facts
	for i, at := range all {
		var events []string
		if at.Facts != nil {
			if before != nil {
				events = at.Facts.since(before)
			}
			before = at.Facts
		}
		if from := p.Steps[i].From; from != "" {
			events = append(events, "moved from the folder "+from)
		}
		for _, pt := range at.Points {
			pt.Step, pt.Events = p.Steps[i], events
			key := pt.Entry + "\x00" + pt.Aspect
			l := by[key]
			if l == nil {
				l = &Line{Rule: rule, Entry: pt.Entry, Aspect: pt.Aspect}
				by[key] = l
				lines = append(lines, l)
			}
			if n := len(l.Points); n == 0 || len(events) > 0 || !l.Points[n-1].same(pt) {
				l.Points = append(l.Points, pt)
			}
			l.Last = i == len(all)-1
		}
	}
	return lines, nil
}

// Entries are those that the lines are of, each once.
func Entries(lines []*Line) (out []string) {
	for _, l := range lines {
		if !slices.Contains(out, l.Entry) {
			out = append(out, l.Entry)
		}
	}
	return out
}

// points are those of a rule at each commit: kept ones, and what is worked out
// of the others.
func (p *Past) points(rule *lint.Rule, unit func(*lint.Report, *lint.Result) *quantity.Unit, step func()) ([]points, error) {
	question := "figures\x00" + rule.Name + "\x00" + p.name
	kept, answers := p.cache.read(question), map[string]json.RawMessage{}
	out := make([]points, len(p.Steps))
	var todo []*revision.Step
	var places []int // of those, among the steps
	for i, s := range p.Steps {
		raw, ok := kept[p.key(s)]
		if s.Tree == "" {
			continue
		}
		if ok && json.Unmarshal(raw, &out[i]) == nil {
			answers[p.key(s)] = raw
			continue
		}
		places = append(places, i)
		todo = append(todo, s)
	}
	if len(todo) == 0 {
		return out, nil
	}
	at := -1
	err := judge(p, todo, 0, rule, step, func(_, now *lint.Report) points { return pointsOf(now, rule, unit) }, func(s *revision.Step, got points) {
		at++
		out[places[at]] = got
		if raw, err := json.Marshal(got); err == nil {
			answers[p.key(s)] = raw
		}
	})
	if err == nil {
		p.cache.write(question, answers)
	}
	return out, err
}

// pointsOf are those of a commit.
func pointsOf(rep *lint.Report, rule *lint.Rule, unit func(*lint.Report, *lint.Result) *quantity.Unit) (out points) {
	if out.Unread = len(rep.Faults) > 0; out.Unread {
		return out
	}
	out.Facts = factsOf(rep.Build)
	for _, r := range rep.Results {
		if r.Rule.Name == rule.Name && r.Verdict != lint.NotApplicable {
			out.Points = append(out.Points, pointOf(rep, r, unit))
		}
	}
	return out
}

func pointOf(rep *lint.Report, r *lint.Result, unit func(*lint.Report, *lint.Result) *quantity.Unit) *Point {
	pt := &Point{Entry: r.Entry, Aspect: r.Aspect, Verdict: r.Word(), Sense: r.Sense,
		Fails: r.Verdict == lint.Fail || r.Verdict == lint.Waived && r.Underlying == lint.Fail}
	pt.Value, pt.Limit, pt.Upper = spanOf(r, r.Value), spanOf(r, r.Limit), spanOf(r, r.Upper)
	if pt.Value != nil {
		u := unit(rep, r)
		pt.Unit, pt.SI = Unit{u.Symbol, u.Factor, u.Offset}, r.Value.Dim().SISymbol()
		return pt
	}
	pt.Unit.Factor = 1
	switch {
	case len(r.Needs) > 0:
		pt.Say = "needs " + r.Needs[0].Key
	case r.Verdict != lint.Pass:
		pt.Say = r.Reason
	}
	return pt
}

func spanOf(r *lint.Result, q quantity.Quantity) *Span {
	if !r.Numeric() || !q.Known() || math.IsInf(q.Value(), 0) || math.IsNaN(q.Value()) {
		return nil
	}
	low, high := r.Analysis(q).Bounds()
	return &Span{q.Value(), finite(low), finite(high)}
}

func finite(v float64) *float64 {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return nil
	}
	return &v
}
