package cooling

import (
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

func checkLoops(b *ledger.Build, s *lint.Sheet) {
	hoses := map[string]bool{}
	coolant := quantity.Is(false)
	for _, l := range b.Loops() {
		coolant = coolant.Or(l.Carries.Contains("coolant").Or(l.Carries.Is("water")))
		way := around(l)
		joined, broken := joints(b, l, way)
		s.On(l, "closes").Work().Holds(l.Closed.And(joined), "the loop does not close: %s", broken)
		s.On(l, "pump").Work().Holds(passes(b, l, way, pumps), "nothing in the loop pumps; a part of one of these roles would: %s", strings.Join(pumps, ", "))
		s.On(l, "heat source").Work().Holds(passes(b, l, way, sources), "nothing in the loop gives heat; a part of one of these roles would: %s", strings.Join(sources, ", "))
		s.On(l, "exchanger").Work().Holds(passes(b, l, way, exchangers).Or(passesCooler(b, way)), "nothing in the loop takes heat out; a radiator.x, or a part of one of these roles, would: %s", strings.Join(exchangers, ", "))
		for _, r := range way {
			if r.Kind() == "hose" && !hoses[r.String()] {
				hoses[r.String()] = true
				bores(s, b.Hose(r))
				s.On(b.Hose(r), "what runs in it").When(b.Hose(r).Carries.Given().And(l.Carries.Given()).Or(quantity.Is(b.IsPhantom())), "the one or the other is not in the ledger").
					Holds(alike(l.Carries, b.Hose(r).Carries), "it carries %s, and the loop %s", b.Hose(r).Carries, l.Carries)
			}
		}
	}
	s.On(b.Cooling(), "coolant loop").Work().Holds(coolant, "no loop.x carries coolant")
	for _, r := range b.Radiators() {
		s.On(r, "loop").Work().When(r.Cools.Is("charge-air").Not(), "charge air runs through it, and no loop").When(aboard(b, r), "it is not on the finished vehicle").
			Holds(inLoop(b, r.Part), "no loop.x passes %s", r.Part)
	}
	for p := range b.Fitted() {
		if need, ok := p.Needs[heatOfCoolant]; ok || b.IsPhantom() {
			giver := b.Part(need.From).Origin
			s.On(p, "loop").Work().When(giver.Is("original").Not().OrElse(false).Or(quantity.Is(b.IsPhantom())), "its heat comes from where it always came from").
				Holds(passed(b, p.Path()), "it takes the coolant's heat from another engine, and no loop.x passes it: its hoses are in no list")
		}
	}
}

// heatOfCoolant is the hookup of what the coolant warms.
const heatOfCoolant = "coolant-heat"

// alike tells whether two words mean one fluid: coolant is water as well.
func alike(a, c quantity.Word) quantity.Truth {
	coolant := []string{"coolant", "water"}
	return a.Same(c).Or(a.Is(coolant...).And(c.Is(coolant...)))
}

// around is what the loop passes in order, the start named once.
func around(l *ledger.Loop) []ledger.Ref {
	way := l.Through
	if n := len(way); n > 1 && way[0].String() == way[n-1].String() {
		return way[:n-1]
	}
	return way
}

// joints tells whether each thing on the way is there and each hose joins those
// before and after it, and which do not.
func joints(b *ledger.Build, l *ledger.Loop, way []ledger.Ref) (joined quantity.Truth, broken string) {
	joined = hasWay(l, way)
	var wrong []string
	for i, r := range way {
		there := vehicle.Aboard(b.Part(r))
		if r.Kind() == "hose" {
			before, after := way[(i+len(way)-1)%len(way)], way[(i+1)%len(way)]
			there = joins(b.Hose(r), before, after)
		}
		if there.Fails() {
			wrong = append(wrong, r.String()+" does not join its neighbors or is not fitted")
		}
		if next := way[(i+1)%len(way)]; len(way) > 1 && apart(b, r, next) {
			there = quantity.Is(false)
			wrong = append(wrong, "no hose between "+r.String()+" and "+next.String())
		}
		joined = joined.And(there)
	}
	if len(wrong) == 0 {
		wrong = []string{"it says closed = false"}
	}
	return joined, strings.Join(wrong, "; ")
}

// apart tells that two parts cannot be bolted together: the one is an engine, which
// rocks, and the other stands in the body.
func apart(b *ledger.Build, one, other ledger.Ref) bool {
	is := func(r ledger.Ref, roles ...string) bool {
		return r.Kind() != "hose" && b.Part(r).Role.Is(roles...).Holds()
	}
	inBody := []string{"radiator", "heater-core", "expansion-tank", "charge-air-cooler", "intercooler"}
	return is(one, "engine") && is(other, inBody...) || is(other, "engine") && is(one, inBody...)
}

// joins tells whether a hose runs between two things, either way round.
func joins(h *ledger.Hose, before, after ledger.Ref) quantity.Truth {
	ahead := h.From.Same(before.Word).And(h.To.Same(after.Word))
	back := h.From.Same(after.Word).And(h.To.Same(before.Word))
	return ahead.Or(back)
}

func hasWay(l *ledger.Loop, way []ledger.Ref) quantity.Truth {
	if len(way) == 0 {
		return unwritten(l.Path()+".through", l)
	}
	return quantity.Is(true)
}

// passes tells whether a loop passes a part of one of the roles.
func passes(b *ledger.Build, l *ledger.Loop, way []ledger.Ref, roles []string) quantity.Truth {
	out := hasWay(l, way).Not()
	for _, r := range way {
		if r.Kind() != "hose" {
			out = out.Or(b.Part(r).Role.Is(roles...))
		}
	}
	return out
}

// passesCooler tells whether a part on the way is a radiator.x.
func passesCooler(b *ledger.Build, way []ledger.Ref) quantity.Truth {
	cs := coolersOf(b)
	out := quantity.Is(false)
	for _, r := range way {
		if !r.Known() {
			out = out.Or(r.Required())
		}
		out = out.Or(quantity.Is(cs.parts[strings.ToLower(r.String())])).Or(cs.unsaid)
	}
	return out
}

// named are the parts that radiators name, and those that loops pass.
type named struct {
	parts  map[string]bool
	unsaid quantity.Truth // something may be one of them: it does not say which it is
}

type (
	coolersKey struct{}
	loopsKey   struct{}
)

func (p *named) add(r ledger.Ref) {
	if r.Known() {
		p.parts[strings.ToLower(r.String())] = true
	} else {
		p.unsaid = p.unsaid.Or(r.Required())
	}
}

func coolersOf(b *ledger.Build) *named {
	return ledger.Memo(b, coolersKey{}, func() *named {
		out := &named{map[string]bool{}, quantity.Is(false)}
		for _, c := range b.Radiators() {
			out.add(c.Part)
		}
		return out
	})
}

func loopsOf(b *ledger.Build) *named {
	return ledger.Memo(b, loopsKey{}, func() *named {
		out := &named{map[string]bool{}, quantity.Is(false)}
		for _, l := range b.Loops() {
			for _, r := range l.Through {
				out.add(r)
			}
		}
		return out
	})
}

func inLoop(b *ledger.Build, part ledger.Ref) quantity.Truth {
	if !part.Known() {
		return part.Required()
	}
	return passed(b, part.String())
}

// passed tells whether a loop passes a part.
func passed(b *ledger.Build, path string) quantity.Truth {
	all := loopsOf(b)
	return quantity.Is(all.parts[strings.ToLower(path)]).Or(all.unsaid)
}

// bores compares a hose with what it joins at each end.
func bores(s *lint.Sheet, h *ledger.Hose) {
	whole := h.Role.Is("reducer").OrElse(false).Not()
	s.On(h, "bore at its start").When(whole, reducer).Same(vehicle.TradeSize(h.Bore), vehicle.TradeSize(h.BoreFrom), boreMatch)
	s.On(h, "bore at its end").When(whole, reducer).Same(vehicle.TradeSize(h.Bore), vehicle.TradeSize(h.BoreTo), boreMatch)
}

const reducer = "a reducer, which has two bores"
