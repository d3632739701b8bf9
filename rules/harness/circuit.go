package harness

import (
	"fmt"
	"slices"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

var circuitEnds = &lint.Rule{
	Name:    "harness/circuit-ends",
	Title:   "a pin that is on a circuit leads to an end of that circuit",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{quantity.Practice},
	Note: "An end is what the circuit's from and to name, those of a circuit that it names, the relay that switches it and one whose coil it works. A harness, and a frame or engine that a return goes to by wire, are no wrong end of any circuit. " +
		"A plug that is mounted on a part which is no harness leads to that part. A circuit without a to, and which terminal of a part, are not judged.",
	Caution: "A wire that ends at another part feeds what must be dead, or leaves a brake, a stop circuit or a gauge dead. " + live,
	Check:   checkCircuitEnds,
}

var functions = &lint.Rule{
	Name:    "harness/functions",
	Title:   "the two ends of a wire have the same function",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{quantity.Practice},
	Note:    "Where a pin states its function: that of the pin which its wire ends at, and of the same pin of the mated plug. A pin that states none while its other end does is a should.",
	Caution: "A sensor's ground that meets a supply burns what is on it. " + live,
	Check:   checkFunctions,
}

// carriers are the roles of what wires only run through.
var carriers = []string{"harness", "body-harness", "engine-harness"}

// returns are the roles of what a return wire may go to.
var returns = []string{"battery", "engine", "frame", "body-panel"}

func checkCircuitEnds(b *ledger.Build, s *lint.Sheet) {
	const none = "no row names an end and a circuit that says where it leads"
	coils := lists{}
	for _, r := range b.Relays() {
		if r.Coil.Known() {
			coils.note(r.Coil.String(), r.Path())
		}
	}
	for _, p := range loomOf(b).plugs {
		named := func(c *cavity) quantity.Truth {
			return onCircuit(c).And(quantity.Is(b.IsPhantom() || len(b.Circuit(c.row.Circuit).To) > 0))
		}
		ends := func(c *cavity) quantity.Truth {
			return named(c).And(c.row.To.Names("part").Or(c.row.To.Names("relay")).OrElse(b.IsPhantom()))
		}
		p.pins(s, "", ends, none, func(c *cavity, u *lint.Subject) {
			u.Holds(atEnd(b, coils, c.row.Circuit, c.row.To), "%s is on %s, and %s is no end of it", c.ref(), c.row.Circuit, c.row.To)
		})
		on := p.MountedOn
		whole := on.Names("part").And(b.Part(on).Role.Is(carriers...).Not()).OrElse(false)
		p.pins(s, ", at its part", func(c *cavity) quantity.Truth { return named(c).And(whole) }, "it is mounted on no part that wires end at", func(c *cavity, u *lint.Subject) {
			u.Holds(atEnd(b, coils, c.row.Circuit, on), "%s is on %s, and %s, which carries the plug, is no end of it", c.ref(), c.row.Circuit, on)
		})
	}
}

// atEnd tells whether something is an end of a circuit.
func atEnd(b *ledger.Build, coils lists, circuit, what ledger.Ref) quantity.Truth {
	c := b.Circuit(circuit)
	if what.Kind() == "part" {
		if b.Part(what).Role.Is(carriers...).Holds() || c.Return.Is("wire").Holds() && b.Part(what).Role.Is(returns...).Holds() {
			return quantity.Is(true)
		}
	}
	found := c.Relay.Is(what.String()).OrElse(false)
	ends, lost := endsOf(b, c, true)
	ends = append(ends, coils.at(circuit.String())...)
	found = found.Or(quantity.Is(slices.Contains(ends, what.String())))
	if found.Holds() || len(lost) == 0 && what.Known() {
		return found
	}
	return quantity.Unknown(append(lost, what.Needs()...))
}

// endsOf are the parts and relays that a circuit's from and to lead to, and
// what it waits for to tell. Circuits that they name are followed one step.
func endsOf(b *ledger.Build, c *ledger.Circuit, follow bool) (ends []string, lost []quantity.Need) {
	if !c.From.Known() {
		lost = c.From.Needs()
	}
	for _, end := range append([]ledger.Ref{c.From}, c.To...) {
		if end.Kind() == "circuit" && follow {
			more, _ := endsOf(b, b.Circuit(end), false)
			ends = append(ends, more...)
		}
		ends = append(ends, end.String())
	}
	return ends, lost
}

func checkFunctions(b *ledger.Build, s *lint.Sheet) {
	l := loomOf(b)
	for _, p := range l.plugs {
		far := func(c *cavity) []*cavity {
			var out []*cavity
			if c.row.To.Kind() == "plug" {
				_, o := l.find(b, c.row.To)
				out = append(out, o)
			}
			for _, m := range l.mates.at(p.Path()) {
				if mate := l.byPath[m]; mate != nil && m != p.Path() {
					out = append(out, mate.cavity(c.name))
				}
			}
			return out
		}
		states := func(c *cavity) quantity.Truth {
			if b.IsPhantom() {
				return c.row.Function.Given().Or(quantity.Unknown(c.row.Function.Needs()))
			}
			return c.carries().And(c.row.Function.Given()).And(quantity.Is(len(far(c)) > 0))
		}
		p.pins(s, "", states, "no row states a function whose wire meets another pin", func(c *cavity, u *lint.Subject) {
			same, why, should := quantity.Is(true), "", false
			for _, o := range far(c) {
				agree := c.row.Function.Same(o.row.Function)
				should = should || !o.row.Function.Known()
				if agree.Fails() || !agree.Known() && !same.Fails() {
					same, why = agree, fmt.Sprintf("%s is %s, and %s %s", c.ref(), c.row.Function, o.ref(), o.row.Function)
				}
				if same.Fails() {
					should = false
					break
				}
			}
			if should {
				u.Recommended()
			}
			u.Holds(same, "%s", why)
		})
	}
}
