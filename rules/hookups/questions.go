package hookups

import (
	"embed"
	"fmt"
	"slices"
	"strings"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/ledger/spelling"
	"fishplate/lint"
	"fishplate/rules/refdata"
	"fishplate/rules/vehicle"
)

//go:embed refdata
var files embed.FS

var (
	data          = refdata.Load("hookups", files)
	movedFar      = data.Value("moved")
	matterTable   = data.Table("matters")
	questionTable = data.Table("questions")
	matters       = readMatters()
	questionNames = questionTable.Rows()
)

// matter is what belongs together: one check, whose questions are listed.
type matter struct {
	name      string
	due       ledger.Stage
	should    bool
	tried     bool     // its answers say what was tried
	parts     []string // roles of the parts that were tried
	questions []*question
}

// question is one row of the table.
type question struct {
	name, asks             string
	when                   []fact
	role, fed, need, entry []string
	values                 []value
}

// value is a key that settles a question.
type value struct {
	key   string
	given func(*ledger.Build) q.Truth
}

var values = map[string]func(*ledger.Build) q.Truth{
	"tachometer.sender":         func(b *ledger.Build) q.Truth { return b.Tachometer().Sender.Given() },
	"speedometer.sender":        func(b *ledger.Build) q.Truth { return b.Speedometer().Sender.Given() },
	"fuel.evaporative-canister": func(b *ledger.Build) q.Truth { return b.Fuel().Canister.Given() },
	"fuel.in-tank-pump":         func(b *ledger.Build) q.Truth { return b.Fuel().InTankPump.Given() },
	"fuel.return-line":          func(b *ledger.Build) q.Truth { return b.Fuel().ReturnLine.Given() },
	"transmission.controller":   func(b *ledger.Build) q.Truth { return b.Transmission().Controller.Given() },
	"transmission.kind=manual":  func(b *ledger.Build) q.Truth { return b.Transmission().Kind.Is("manual").OrElse(false) },
}

func words(t *refdata.Table, row, column string) []string {
	return strings.FieldsFunc(t.Word(row, column), func(r rune) bool { return r == ',' || r == ' ' })
}

func readMatters() []*matter {
	var out []*matter
	for _, name := range matterTable.Rows() {
		due, err := ledger.StageNamed(matterTable.Word(name, "due"))
		if err != nil {
			panic("hookups: " + name + ": " + err.Error())
		}
		m := &matter{name: name, due: due, should: matterTable.Word(name, "level") == "should", tried: matterTable.Word(name, "tried") != "", parts: words(matterTable, name, "parts")}
		for _, row := range questionTable.Rows() {
			if questionTable.Word(row, "matter") == name {
				m.questions = append(m.questions, readQuestion(row))
			}
		}
		out = append(out, m)
	}
	return out
}

func readQuestion(name string) *question {
	list := func(column string) []string { return words(questionTable, name, column) }
	c := &question{name: name, asks: questionTable.Word(name, "asks"), role: list("role"), fed: list("fed"), need: list("need"), entry: list("entry")}
	for _, f := range list("when") {
		c.when = append(c.when, factNamed(f))
	}
	for _, key := range list("value") {
		if values[key] == nil {
			panic("hookups: no value " + key)
		}
		c.values = append(c.values, value{key, values[key]})
	}
	return c
}

func checkQuestions(b *ledger.Build, s *lint.Sheet) {
	fuels := q.FirstTruth(b.EngineWas().Fuel.Required(), b.Vehicle().Fuel.Required()).And(b.Engine().Fuel.Required())
	engine, gearbox := engineSwapped(b), gearboxSwapped(b)
	s.On(b.Info(), "which swap").When(engine.Or(gearbox), "neither engine nor transmission was swapped").
		Holds(engine.Not().Or(fuels).And(gearbox.Not().Or(b.Transmission().Kind.Required())), "")
	answers := answered(b)
	for _, m := range matters {
		m.check(b, s, answers)
	}
	asked := slices.Clone(questionNames)
	for _, v := range b.Questions() { // the shop's own, which the pack paperwork asks
		asked = append(asked, v.ID())
	}
	for _, a := range b.Answers() {
		s.On(a, "").Holds(a.Question.Is(asked...), "no usual question is called %v", unheard{a.Question})
	}
}

// check asks the matter's questions that something in the ledger raises.
func (m *matter) check(b *ledger.Build, s *lint.Sheet, answers map[string][]*ledger.Answer) {
	raised := q.Is(false)
	var open []unsettled
	var settled []string
	var needs []q.Need
	for _, c := range m.questions {
		asked := c.raised(b)
		raised = raised.Or(asked)
		if asked.Fails() {
			continue
		}
		switch by, waits, empty := m.settled(b, c, answers[c.name]); {
		case len(waits) > 0:
			needs = append(needs, waits...)
		case by == "":
			open = append(open, unsettled{c, empty})
		default:
			settled = append(settled, c.name+" by "+by)
		}
	}
	if len(open) > 0 {
		needs = append(needs, q.Need{Key: asking(open), Place: b.Main()})
	}
	done := q.Is(true)
	if len(needs) > 0 {
		done = q.Unknown(needs)
	}
	check := s.On(b.Info(), m.name).Due(m.due)
	if m.should {
		check.Recommended()
	}
	check.When(raised, "nothing in the ledger raises it")
	if len(settled) > 0 {
		check.Says("settled: %s", strings.Join(settled, ", "))
	}
	check.Holds(done, "")
}

func (c *question) raised(b *ledger.Build) q.Truth {
	raised := q.Is(false)
	for _, f := range c.when {
		raised = raised.Or(f(b))
	}
	return raised.OrElse(false)
}

// unsettled is an open question, and an answer to it that says nothing.
type unsettled struct {
	*question
	empty string
}

// asking is what open questions wait for: one or two in full, more by name.
func asking(open []unsettled) string {
	if len(open) > 2 {
		names := make([]string, len(open))
		for i, c := range open {
			names[i] = c.name
		}
		return fmt.Sprintf("%d dated answers (%s)", len(open), strings.Join(names, ", "))
	}
	var texts []string
	for _, c := range open {
		text := fmt.Sprintf("a dated answer to %s: %s", c.name, c.asks)
		if c.empty != "" {
			text += " " + c.empty + " does not say what, or what was done"
		}
		texts = append(texts, text)
	}
	return strings.Join(texts, " And ")
}

// unheard is a question that the table does not have, and the nearest one
// that it has; that is looked up when it is told.
type unheard struct{ q.Word }

func (u unheard) String() string {
	return fmt.Sprintf("%q%s", u.Word, spelling.DidYouMean(u.Word.String(), questionNames))
}

// answered are the answers that say something, by their questions.
func answered(b *ledger.Build) map[string][]*ledger.Answer {
	out := map[string][]*ledger.Answer{}
	for _, a := range b.Answers() {
		if a.Says.Known() {
			out[a.Question.String()] = append(out[a.Question.String()], a)
		}
	}
	return out
}

// settled says what settles the question: an entry or an answer; "" where
// nothing does. Of an answer it may wait for the date, or for a later one; empty is
// one that says nothing.
func (m *matter) settled(b *ledger.Build, c *question, answers []*ledger.Answer) (by string, waits []q.Need, empty string) {
	for _, v := range c.values {
		if v.given(b).Holds() {
			return v.key, nil, ""
		}
	}
	for _, path := range c.entry {
		if _, there := b.Entry(path); there {
			return path, nil, ""
		}
	}
	for p := range b.Fitted() {
		if c.settledBy(p) {
			return p.Path(), nil, ""
		}
	}
	for _, a := range answers {
		if !vehicle.Says(b, a, m.least()) {
			empty = a.Path()
			continue
		}
		if waits = m.stands(b, a); len(waits) == 0 {
			return a.Path(), nil, ""
		}
	}
	return "", waits, empty
}

// least is how much an answer of the matter has to say.
func (m *matter) least() vehicle.Substance {
	switch {
	case m.should:
		return vehicle.Any
	case m.tried:
		return vehicle.Tried
	}
	return vehicle.Must
}

// stands tells what an answer lacks: its date or, of what was tried, one that
// is no earlier than what was done to it since.
func (m *matter) stands(b *ledger.Build, a *ledger.Answer) []q.Need {
	if !a.Date.Known() {
		return a.Date.Needs()
	}
	if !m.tried {
		return nil
	}
	tell := func(since ledger.Date, what string) []q.Need {
		return []q.Need{{Key: fmt.Sprintf("%s tried again: it is of %s, and %s %s", a.Path(), a.Date, what, since), Place: a.Date.Source().Place}}
	}
	for _, r := range a.Entries {
		if r.Names("part").Holds() && b.Part(r).Fitted.Fails() {
			return []q.Need{{Key: a.Path() + " tried again: " + r.String() + " is no longer fitted", Place: a.Place()}}
		}
	}
	for _, v := range b.Assemblies() {
		if v.Moved.After(a.Date).Holds() {
			return tell(v.Moved, v.Path()+" moved on")
		}
	}
	for _, p := range b.Parts() {
		if !slices.Contains(m.parts, p.Role.String()) {
			continue
		}
		if p.FittedOn.After(a.Date).Holds() {
			return tell(p.FittedOn, p.Path()+" went on on")
		}
		if p.RemovedOn.After(a.Date).Holds() {
			return tell(p.RemovedOn, p.Path()+" came off on")
		}
	}
	return nil
}

// settledBy tells whether a fitted part settles the question.
func (c *question) settledBy(p *ledger.Part) bool {
	if slices.Contains(c.role, p.Role.String()) && p.Origin.Is("original").Fails() {
		return true
	}
	ofRole := slices.Contains(c.fed, p.Role.String())
	for kind, need := range p.Needs {
		if need.From.Known() && (ofRole || slices.Contains(c.need, kind)) {
			return true
		}
	}
	return false
}

// questionList is every question in full, for who asks what a matter is about.
func questionList() string {
	var b strings.Builder
	for _, m := range matters {
		fmt.Fprintf(&b, " [%s]", m.name)
		for _, c := range m.questions {
			fmt.Fprintf(&b, " %s: %s", c.name, c.asks)
		}
	}
	return b.String()
}
