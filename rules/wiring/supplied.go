package wiring

import (
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

var supplied = &lint.Rule{
	Name:    "wiring/supplied",
	Title:   "every electric consumer that the work put in, or moved, has a circuit",
	Due:     ledger.AtFirstStart,
	Sources: cited("practice"),
	Note: "Known by its role: " + strings.Join(listed("electric"), ", ") + "; and, where nothing but a circuit is said to drive it and it does not sit on the engine, " + strings.Join(listed("may-be-electric"), ", ") + ". " +
		"A battery has one from it or to it. A part that came with the vehicle and stands where it stood has its own wires. One that is counted in another has that one's. One that something else works names that in its needs (belt-drive, hydraulic-flow, coolant-heat, from which part). " +
		"What a wire that is in no list carries, and what protects it, is judged by no rule: common practice, and a must all the same, for people die in vehicles that burn.",
	Caution: fire,
	Check:   checkSupplied,
}

func checkSupplied(b *ledger.Build, s *lint.Sheet) {
	led, from := map[string]bool{}, map[string]bool{}
	for _, c := range b.Circuits() {
		for _, to := range c.To {
			led[to.String()] = true
		}
		from[c.From.String()] = c.Duty.Is("ground").Fails() || from[c.From.String()]
	}
	found := false
	for p := range b.Fitted() {
		electric := p.Role.Is(listed("electric")...).Holds()
		maybe := p.Role.Is(listed("may-be-electric")...).Holds() && !p.At.From.Known()
		battery := p.Role.Is("battery").Holds()
		if !electric && !maybe && !battery && !b.IsPhantom() {
			continue
		}
		found = true
		has := quantity.Unknown([]quantity.Need{{Key: "a circuit to " + p.Path() + ", or in its needs what else works it", Place: p.Place()}})
		if led[p.Path()] || p.CountedIn.Known() && led[p.CountedIn.String()] || battery && from[p.Path()] {
			has = quantity.Is(true)
		}
		own := p.Origin.Is("original").And(p.Change.Given().Or(p.FittedOn.Given()).Not()).And(quantity.Is(!p.WasAt.Known())).OrElse(false)
		s.On(p, "").When(own.Not(), "it came with the vehicle, and its wires with it").When(worked(p).Not(), "something else works it").Holds(has, "")
	}
	if !found {
		s.None(b.Supply(), "no part of a role that is electric")
	}
}

// worked tells that a part names what works it in place of a circuit.
func worked(p *ledger.Part) quantity.Truth {
	out := quantity.Is(false)
	for _, kind := range []string{"belt-drive", "hydraulic-flow", "hydraulic-assist", "compressed-air", "vacuum", "coolant-heat"} {
		if need, ok := p.Needs[kind]; ok {
			out = out.Or(need.From.Given())
		}
	}
	return out
}
