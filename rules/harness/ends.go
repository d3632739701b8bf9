package harness

import (
	"fmt"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

const (
	cameOff   = "the part that carries it is not on the finished vehicle"
	notOpened = "it was not opened"
	twice     = "the wires of %s end in it: join them in a splice and bring one wire to the pin"
)

func checkAccounted(b *ledger.Build, s *lint.Sheet) {
	for _, p := range loomOf(b).plugs {
		s.On(p, "ways").Says("more rows than the plug has ways").When(p.off.Not(), cameOff).When(p.opened, notOpened).
			AtMost(quantity.Number(float64(p.named())), p.Ways)
		p.contradictions(s)
		for _, c := range slices.Concat(p.cavities, p.left) {
			s.On(c, c.aspect()).When(p.off.Not(), cameOff).When(p.opened, notOpened).
				Holds(c.now.Required(), "")
		}
	}
}

func checkBothEnds(b *ledger.Build, s *lint.Sheet) {
	l := loomOf(b)
	for _, p := range l.plugs {
		p.pins(s, "", leads, "no wire of it is said to end anywhere", func(c *cavity, u *lint.Subject) {
			ok, why := l.endsAt(b, c)
			u.Holds(ok, "%s", why)
		})
	}
	for _, sp := range b.Splices() {
		l.splice(b, s, sp)
	}
	l.matedPlugs(s)
}

// leads holds where a wire that is whole, or spliced, is to be followed: a new
// one, and one that the row says the end of.
func leads(c *cavity) quantity.Truth {
	to := c.row.To
	return c.now.Is("moved", "new").Or(to.Given().And(c.cut().Not())).Or(to.Names("splice").OrElse(false))
}

// endsAt tells whether a pin's wire ends where it says, and where not, why.
func (l *loom) endsAt(b *ledger.Build, c *cavity) (ok quantity.Truth, why string) {
	to := c.row.To
	switch {
	case c.now.Is("empty").Holds():
		return to.Given().Not(), fmt.Sprintf("said to be empty, and to have a wire that ends at %s", to)
	case to.Kind() == "plug":
		return l.meets(b, c)
	case to.Kind() == "splice":
		return l.joins(b.Splice(to), c.ref()), fmt.Sprintf("%s does not join %s", to, c.ref())
	}
	return to.Required().And(there(b, to)), fmt.Sprintf("%s came off", to)
}

// meets tells whether the pin at the other end says the same of the wire.
func (l *loom) meets(b *ledger.Build, c *cavity) (ok quantity.Truth, why string) {
	p, far := l.find(b, c.row.To)
	said := fmt.Sprintf("%s says that its wire ends at %s", far.ref(), far.row.To)
	for _, wrong := range []struct {
		is  quantity.Truth
		why string
	}{
		{quantity.Is(far.ref() == c.ref()), "it ends at itself"},
		{p.off, fmt.Sprintf("%s came off with %s", p.Path(), p.MountedOn)},
		{far.now.Is("empty").Or(far.cut()), fmt.Sprintf("%s is %s", far.ref(), far.now)},
		{far.row.To.Is(c.ref()).Not(), said},
		{c.row.Circuit.Same(far.row.Circuit.Word).OrElse(true).Not(), fmt.Sprintf("%s is on %s, and %s on %s", c.ref(), c.row.Circuit, far.ref(), far.row.Circuit)},
	} {
		if !wrong.is.Fails() {
			return wrong.is.Not(), wrong.why
		}
	}
	return quantity.Is(true), ""
}

// sameCircuit tells whether two pins that meet are on one circuit, where either
// names one.
func sameCircuit(a, c *cavity) quantity.Truth {
	neither := a.row.Circuit.Given().Or(c.row.Circuit.Given()).Not()
	return neither.Or(a.row.Circuit.Same(c.row.Circuit.Word))
}

// there tells whether what is no plug and no splice is on the vehicle.
func there(b *ledger.Build, to ledger.Ref) quantity.Truth {
	if to.Kind() == "relay" {
		return b.Relay(to).Given()
	}
	return b.Part(to).Fitted
}

// joins tells whether a splice says that it joins something.
func (l *loom) joins(s *ledger.Splice, what string) quantity.Truth {
	all, told := l.spliced[s.Path()]
	if !told {
		all = map[string]bool{}
		for _, w := range joined(s) {
			if !w.Known() {
				return w.Required()
			}
			all[strings.ToLower(w.String())] = true
		}
		l.spliced[s.Path()] = all
	}
	return quantity.Is(all[strings.ToLower(what)])
}

// joined is what a splice joins; one that is missing where it does not say.
func joined(s *ledger.Splice) []ledger.Ref {
	var words []quantity.Word
	for _, r := range s.Joins {
		words = append(words, r.Word)
	}
	var out []ledger.Ref
	for _, w := range s.Words(words, "joins") {
		out = append(out, ledger.Ref{Word: w})
	}
	return out
}

// splice judges what a splice says of what it joins.
func (l *loom) splice(b *ledger.Build, s *lint.Sheet, sp *ledger.Splice) {
	all := joined(sp)
	seen := map[string]bool{}
	for _, to := range all {
		if seen[to.String()] {
			continue
		}
		seen[to.String()] = true
		ok, why := there(b, to), fmt.Sprintf("%s came off", to)
		switch to.Kind() {
		case "splice":
			ok, why = l.joins(b.Splice(to), sp.Path()), fmt.Sprintf("%s does not join %s", to, sp.Path())
		case "plug":
			_, far := l.find(b, to)
			ok, why = far.row.To.Is(sp.Path()), fmt.Sprintf("%s says that its wire ends at %s", to, far.row.To)
			if far.now.Is("empty").Holds() {
				ok, why = quantity.Is(false), fmt.Sprintf("%s is empty", to)
			}
		}
		s.On(sp, to.String()).Holds(to.Required().And(ok), "%s", why)
	}
	s.On(sp, "wires").When(all[0].Required(), "").Holds(quantity.Is(len(seen) > 1), "a splice joins two wires or more, and %s is all that it names", all[0])
}

// matedPlugs judges plugs that plug into each other: each into one, and where
// that is so, pin by pin the same.
func (l *loom) matedPlugs(s *lint.Sheet) {
	for _, p := range l.plugs {
		mates := l.mates.at(p.Path())
		s.On(p, "mates").When(quantity.Is(len(mates) > 0), "it names no plug that it plugs into").
			Holds(quantity.Is(len(mates) == 1 && mates[0] != p.Path()), "it plugs into %s", listed(mates))
		if len(mates) != 1 || len(l.mates.at(mates[0])) != 1 {
			continue
		}
		if mate := l.byPath[mates[0]]; mate != nil {
			live := quantity.Is(slices.ContainsFunc(p.cavities, func(c *cavity) bool { return c.carries().Holds() }))
			s.On(p, "mate").When(p.off.Not(), cameOff).When(live, "no wire of it leads anywhere").Holds(mate.off.Not(), "it plugs into %s, which came off with %s", mate.Path(), mate.MountedOn)
		}
		if mate := l.byPath[mates[0]]; mate != nil && p.Path() < mates[0] {
			l.pinByPin(s, p, mate)
		}
	}
}

func (l *loom) pinByPin(s *lint.Sheet, p, mate *plug) {
	var all []string
	for _, c := range slices.Concat(p.cavities, mate.cavities) {
		all = append(all, c.name)
	}
	slices.SortFunc(all, inOrder)
	for _, name := range slices.Compact(all) {
		x, y := p.cavity(name), mate.cavity(name)
		both, either := x.carries().And(y.carries()), x.carries().Or(y.carries())
		work := x.now.Is("moved", "new").Or(y.now.Is("moved", "new"))
		u := s.On(x, x.aspect()+" to "+mate.Path()).When(p.off.Or(mate.off).Not(), cameOff).
			When(quantity.Is(p.tells(name) && mate.tells(name)), "harness/pin-accounted asks for the pin")
		if both.Or(work).Fails() {
			u.Recommended() // a wire of the vehicle's own that nothing needs may stay where it is
		}
		u.Holds(either.Not().Or(both.And(sameCircuit(x, y))), "%s, and %s", x.tell(), y.tell())
	}
}

// tell is what a pin carries, in words.
func (c *cavity) tell() string {
	out := fmt.Sprintf("%s is %s", c.ref(), c.now)
	if c.row.Circuit.Known() && c.carries().Holds() {
		out += ", on " + c.row.Circuit.String()
	}
	return out
}

func checkOneWire(b *ledger.Build, s *lint.Sheet) {
	l := loomOf(b)
	for _, p := range l.plugs {
		wired := func(c *cavity) quantity.Truth {
			return c.now.Is("empty").Not().Or(quantity.Is(len(l.ends.at(c.ref())) > 0))
		}
		p.pins(s, "", wired, "no wire is in it", func(c *cavity, u *lint.Subject) {
			ends := l.ends.at(c.ref())
			u.Holds(quantity.Is(len(ends) < 2), twice, listed(ends))
		})
	}
	for ref := range l.ends { // of pins that are in no table
		if p, c := l.find(b, ledger.Ref{Word: quantity.Written(ref, nil)}); p.byName[c.name] == nil {
			ends := l.ends.at(ref)
			s.On(c, c.aspect()).Holds(quantity.Is(len(ends) < 2), twice, listed(ends))
		}
	}
}
