package hookups

import (
	"embed"
	"fmt"
	"slices"
	"strings"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/refdata"
)

//go:embed refdata
var files embed.FS

var (
	data          = refdata.Load("hookups", files)
	agreeWithin   = data.Value("pulses-agree-within")
	questionTable = data.Table("questions")
	questions     = readQuestions()
	questionNames = questionTable.Rows()
)

// question is one row of the table.
type question struct {
	name                   string
	asks                   string // what it waits for: an answer
	swaps                  []swap
	role, fed, need, entry []string
	values                 []func(*ledger.Build) q.Truth
}

// swap tells whether a build is a kind of swap.
type swap func(*ledger.Build) q.Truth

// values are the keys that settle a question.
var values = map[string]func(*ledger.Build) q.Truth{
	"tachometer.sender":         func(b *ledger.Build) q.Truth { return b.Tachometer().Sender.Given() },
	"speedometer.sender":        func(b *ledger.Build) q.Truth { return b.Speedometer().Sender.Given() },
	"fuel.evaporative-canister": func(b *ledger.Build) q.Truth { return b.Fuel().Canister.Given() },
	"fuel.in-tank-pump":         func(b *ledger.Build) q.Truth { return b.Fuel().InTankPump.Given() },
	"fuel.return-line":          func(b *ledger.Build) q.Truth { return b.Fuel().ReturnLine.Given() },
	"transmission.controller":   func(b *ledger.Build) q.Truth { return b.Transmission().Controller.Given() },
	"transmission.kind=manual":  func(b *ledger.Build) q.Truth { return b.Transmission().Kind.Is("manual").OrElse(false) },
}

func readQuestions() []*question {
	var out []*question
	for _, name := range questionTable.Rows() {
		list := func(column string) []string {
			return strings.FieldsFunc(questionTable.Word(name, column), func(r rune) bool { return r == ',' || r == ' ' })
		}
		c := &question{name: name, role: list("role"), fed: list("fed"), need: list("need"), entry: list("entry")}
		c.asks = fmt.Sprintf("an answer to %s: %s", name, questionTable.Word(name, "asks"))
		for _, s := range list("swaps") {
			c.swaps = append(c.swaps, swapNamed(s))
		}
		for _, key := range list("value") {
			if values[key] == nil {
				panic("hookups: no value " + key)
			}
			c.values = append(c.values, values[key])
		}
		out = append(out, c)
	}
	return out
}

func swapNamed(name string) swap {
	out, in, fuels := strings.Cut(name, "-to-")
	same, alike := strings.CutPrefix(name, "same-")
	switch {
	case fuels:
		return func(b *ledger.Build) q.Truth { return engineSwapped(b).And(was(b, out)).And(is(b, in)) }
	case same == "fuel":
		return func(b *ledger.Build) q.Truth {
			return engineSwapped(b).And(q.Is(b.Engine().Fuel.Known())).And(was(b, b.Engine().Fuel.String()))
		}
	case alike:
		return func(b *ledger.Build) q.Truth { return engineSwapped(b).And(was(b, same)).And(is(b, same)) }
	case name == "automatic-in", name == "manual-in":
		kind := strings.TrimSuffix(name, "-in")
		return func(b *ledger.Build) q.Truth { return gearboxSwapped(b).And(b.Transmission().Kind.Is(kind)) }
	}
	panic("hookups: no swap " + name)
}

// engineSwapped: there was another engine, or this one did not come with the
// vehicle.
func engineSwapped(b *ledger.Build) q.Truth {
	e := b.Engine()
	return b.EngineWas().Written().Or(e.Written().And(b.Part(e.Part).Origin.Is("original").Not()))
}

// gearboxSwapped: this one did not come with the vehicle.
func gearboxSwapped(b *ledger.Build) q.Truth {
	t := b.Transmission()
	return t.Written().And(b.Part(t.Part).Origin.Is("original").Not())
}

// was tells what fuel went out: the old engine's, else the vehicle's.
func was(b *ledger.Build, fuel string) q.Truth {
	return q.Is(fuel == "any").Or(q.FirstTruth(b.EngineWas().Fuel.Is(fuel), b.Vehicle().Fuel.Is(fuel)))
}

func is(b *ledger.Build, fuel string) q.Truth { return b.Engine().Fuel.Is(fuel) }

func checkQuestions(b *ledger.Build, s *lint.Sheet) {
	fuels := q.FirstTruth(b.EngineWas().Fuel.Said(), b.Vehicle().Fuel.Said()).And(b.Engine().Fuel.Said())
	s.On(b.Info(), "which engine").When(engineSwapped(b), "no engine was swapped").Holds(fuels, "")
	s.On(b.Info(), "which gearbox").When(gearboxSwapped(b), "no gearbox was swapped").Holds(b.Transmission().Kind.Said(), "")
	answers := answered(b)
	for _, c := range questions {
		raised := q.Is(false)
		for _, swap := range c.swaps {
			raised = raised.Or(swap(b))
		}
		s.On(b.Info(), c.name).When(raised.OrElse(false), "this kind of swap does not raise it").Holds(c.settled(b, answers[c.name]), "")
	}
	for _, a := range b.Answers() {
		s.On(a, "").Holds(a.Question.Is(questionNames...), "no usual question is called %v", unheard{a.Question})
	}
}

// unheard is a question that the table does not have, and the nearest one
// that it has; that is looked up when it is told.
type unheard struct{ q.Word }

func (u unheard) String() string {
	if n := q.Nearest(u.Word.String(), questionNames); n != "" {
		return fmt.Sprintf("%q; did you mean %q?", u.Word, n)
	}
	return fmt.Sprintf("%q", u.Word)
}

// answered are the questions that an answer says something to.
func answered(b *ledger.Build) map[string]bool {
	out := map[string]bool{}
	for _, a := range b.Answers() {
		out[a.Question.String()] = a.Says.Known() || out[a.Question.String()]
	}
	return out
}

// settled holds where an answer or an entry settles the question, and is
// missing until one does.
func (c *question) settled(b *ledger.Build, answered bool) q.Truth {
	done := q.Is(answered)
	for _, v := range c.values {
		done = done.Or(v(b))
	}
	for _, path := range c.entry {
		_, there := b.Entry(path)
		done = done.Or(q.Is(there))
	}
	for p := range b.Fitted() {
		done = done.Or(q.Is(c.settledBy(p)))
	}
	return done.Or(q.Unknown([]q.Need{{Key: c.asks, Place: b.Main()}}))
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
