package harness

import (
	"slices"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

var polarity = &lint.Rule{
	Name:    "harness/polarity",
	Title:   "a wire from the supply reaches a pin for power, a wire to ground a pin for ground, and the two never meet",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{quantity.Practice},
	Note: "Wires are followed from pin to pin through rows, splices and mated plugs. The supply's end is a battery, a fuse block, the ignition switch, or the relay that the circuit begins at; the ground's is an engine, frame or body that the circuit goes back to by wire. " +
		"A part that a circuit feeds and returns from through two pins of one plug says which of them is for power and which for ground (function): nothing else tells that they are not the wrong way round.",
	Caution: "A panel, a pump or a controller that is fed the wrong way round burns, or pushes the supply into what is meant for ground. " + live,
	Check:   checkPolarity,
}

// The words of a pin's function that matter here, and the roles at the two ends.
var (
	forPower  = []string{"power", "ignition", "battery-power"}
	forGround = []string{"ground"}
	supplying = []string{"battery", "fuse-block", "relay-block", "ignition-switch", "isolator", "dc-converter"}
	earthed   = []string{"engine", "frame", "body-panel"}
)

// net is what wires join: whether the supply and the ground are at its ends.
type net struct{ supply, ground string }

func checkPolarity(b *ledger.Build, s *lint.Sheet) {
	l := loomOf(b)
	nets := netsOf(b, l)
	phantom := quantity.Is(b.IsPhantom())
	for _, p := range l.plugs {
		at := func(c *cavity) *net {
			if n := nets[c.ref()]; n != nil {
				return n
			}
			return &net{}
		}
		stated := func(c *cavity) quantity.Truth {
			return phantom.Or(quantity.Is(at(c).supply+at(c).ground != "").And(c.row.Function.Given()))
		}
		p.pins(s, "", stated, "no pin states a function whose wire is followed to supply or ground", func(c *cavity, u *lint.Subject) {
			power, ground := c.row.Function.Is(forPower...), c.row.Function.Is(forGround...)
			wrong, to := power.And(quantity.Is(at(c).ground != "")), at(c).ground
			if !wrong.Holds() {
				wrong, to = wrong.Or(ground.And(quantity.Is(at(c).supply != ""))), at(c).supply
			}
			u.Holds(wrong.Not(), "its function is %s, and its wire leads to %s", c.row.Function, to)
		})
		p.pins(s, ", supply and ground", func(c *cavity) quantity.Truth { return quantity.Is(at(c).supply != "" && at(c).ground != "") }, "no wire leads to both",
			func(c *cavity, u *lint.Subject) {
				u.Holds(quantity.Is(false), "its wire leads to %s, which supplies, and to %s, which is ground", at(c).supply, at(c).ground)
			})
		fed := p.MountedOn.Names("part").And(b.Part(p.MountedOn).Role.Is(carriers...).Not()).OrElse(false)
		each := p.onEach()
		pair := func(c *cavity) quantity.Truth {
			back := b.Circuit(c.row.Circuit).Return.Is("wire").OrElse(false)
			return phantom.Or(fed.And(back).And(quantity.Is(each[c.row.Circuit.String()] > 1)))
		}
		p.pins(s, ", which way round", pair, "no circuit goes to and from its part through two of its pins", func(c *cavity, u *lint.Subject) {
			u.Holds(c.row.Function.Required(), "")
		})
	}
}

// onEach counts the plug's wires by their circuit.
func (p *plug) onEach() map[string]int {
	out := map[string]int{}
	for _, c := range p.cavities {
		if c.row.Circuit.Known() && c.carries().Holds() {
			out[c.row.Circuit.String()]++
		}
	}
	return out
}

// netsOf follows the wires of all plugs: by pin, what it is joined to.
func netsOf(b *ledger.Build, l *loom) map[string]*net {
	joined := lists{}
	join := func(a, c string) { joined.note(a, c); joined.note(c, a) }
	ends := map[string]*net{}
	end := func(at string, circuit, to ledger.Ref) {
		if ends[at] == nil {
			ends[at] = &net{}
		}
		switch c := b.Circuit(circuit); {
		case supplies(b, c, to):
			ends[at].supply = to.String()
		case c.Return.Is("wire").Holds() && !c.From.Is(to.String()).Holds() && b.Part(to).Role.Is(earthed...).Holds():
			ends[at].ground = to.String()
		}
	}
	for _, p := range l.plugs {
		mates := l.mates.at(p.Path())
		for _, c := range p.cavities {
			if c.now.Is("empty", "cut", "capped").Holds() {
				continue
			}
			switch c.row.To.Kind() {
			case "plug", "splice":
				join(c.ref(), c.row.To.String())
			case "part", "relay":
				end(c.ref(), c.row.Circuit, c.row.To)
			}
			for _, m := range mates {
				if mate := l.byPath[m]; mate != nil && len(mates) == 1 && mate.cavity(c.name).carries().Holds() {
					join(c.ref(), mate.cavity(c.name).ref())
				}
			}
		}
	}
	for _, sp := range b.Splices() {
		for _, to := range sp.Joins {
			if to.Kind() == "plug" || to.Kind() == "splice" {
				join(sp.Path(), to.String())
			}
		}
	}
	out := map[string]*net{}
	for at := range joined {
		spread(at, joined, ends, out)
	}
	for at, n := range ends {
		if out[at] == nil {
			out[at] = n
		}
	}
	return out
}

// spread gives all that is joined to a pin one net, with the ends of all.
func spread(at string, joined lists, ends, out map[string]*net) {
	if out[at] != nil {
		return
	}
	n := &net{}
	out[at] = n
	for next := []string{at}; len(next) > 0; next = next[1:] {
		if e := ends[next[0]]; e != nil {
			n.supply, n.ground = max(n.supply, e.supply), max(n.ground, e.ground)
		}
		for _, to := range joined.at(next[0]) {
			if out[to] == nil {
				out[to] = n
				next = append(next, to)
			}
		}
	}
}

// supplies tells whether a circuit begins at a part or relay: one that supplies,
// and that it does not lead to.
func supplies(b *ledger.Build, c *ledger.Circuit, at ledger.Ref) bool {
	if c.Duty.Is("signal", "ground").Holds() || slices.ContainsFunc(c.To, func(to ledger.Ref) bool { return to.Is(at.String()).Holds() }) {
		return false
	}
	if at.Kind() == "relay" {
		return c.From.Is(at.String()).Holds()
	}
	return b.Part(at).Role.Is(supplying...).Holds()
}
