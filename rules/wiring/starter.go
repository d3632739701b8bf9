package wiring

import (
	"slices"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/circuits"
	"fishplate/rules/refdata/conductor"
)

const (
	starterFire = "A starter's cable has no fuse: one that is too thin, or a ground that is, glows when the engine is slow to start. Disconnect the battery before you touch it; local codes and a licensed electrician have the last word."
	noStarter   = "no circuit of duty cranking"
)

var crankingCable = &lint.Rule{
	Name:    "wiring/cranking-cable",
	Title:   "a starter's cable and its ground stand ten seconds of cranking, and cranking again and again",
	Due:     ledger.AtFirstStart,
	Sources: append(circuits.Sources("adiabatic", "table-5", "sae-area", "sae-insulation"), cited("crank-and-rest", "practice", "bonding")...),
	Backs:   []string{"adiabatic", "table-5", "crank-and-rest"},
	Note: "Ten seconds by the adiabatic formula, from the insulation's rating: past 5 s it takes no heat to be given off and so is cautious. Again and again is 30 s of cranking and 2 min of rest, as an Army manual allows, its root mean square at the 30 °C of the table: what is cranked so long is cold. The larger of the supply's and the circuits' currents counts. " +
		"Circuits of the same from and to lie side by side: each states the whole current, and their copper is added. That the ground is as thick as the feed is a should. Grounds that go by way of the frame are not reckoned.",
	Caution: starterFire,
	Check:   checkCrankingCable,
}

var crankingDropRule = &lint.Rule{
	Name:    "wiring/cranking-drop",
	Title:   "of a starter's voltage no more than 0.5 V is lost on either side, and no more than 0.5 V on both at 500 A",
	Due:     ledger.AtFirstStart,
	Sources: slices.Concat(cited("makers-cranking", "loop", "automotive", "practice"), circuits.Sources("copper"), conductor.Sources, circuits.Sources("sae-area", "iec-60228")),
	Backs:   []string{"makers-cranking", "loop"},
	Note: "Each side by makers' service manuals, at the larger current that the ledger gives. Both sides together by one maker of diesels: 0.5 V at 500 A of 12 V, 1.0 V at 250 A of 24 V, a should. Cables of the same from and to lie side by side. Where no ground is in the ledger the circuit's own return stands for it. A circuit's drop-limit counts where it is stricter. " +
		"Terminals and switches lose more: a dated test of kind cranking with the readings cranking-feed, cranking-ground and current goes before the sum, as long as engine, battery, starter and grounds are those that were tested. Less than 60 % of what the copper alone loses (common practice) is no reading of these cables, and waits for a document.",
	Caution: starterFire,
	Check:   checkCrankingDrop,
}

// cables are the circuits of duty cranking, those of the same from and to
// together. On a phantom each circuit may be one.
func cables(b *ledger.Build, n *circuits.Network) [][]*circuits.Run {
	var out [][]*circuits.Run
	at := map[string]int{}
	for _, r := range n.Runs {
		if !r.Cranking && !b.IsPhantom() {
			continue
		}
		ends := r.From.String()
		for _, to := range r.To {
			ends += " " + to.String()
		}
		i, seen := at[ends]
		if !seen || b.IsPhantom() {
			at[ends] = len(out)
			out = append(out, []*circuits.Run{r})
			continue
		}
		out[i] = append(out[i], r)
	}
	return out
}

// drawn is the most that a starter draws, by what the supply and the circuits
// of duty cranking say.
func drawn(b *ledger.Build, n *circuits.Network) quantity.Quantity {
	var all []quantity.Quantity
	if s := b.Supply().StarterCurrent; s.Known() {
		all = append(all, s)
	}
	for _, r := range n.Runs {
		if r.Cranking && r.Load.Known() {
			all = append(all, r.Load)
		}
	}
	switch len(all) {
	case 0:
		return b.Supply().StarterCurrent
	case 1:
		return all[0]
	}
	return quantity.Max(all[0], all[1:]...).As("starter's current", "the larger of what supply and circuits say")
}

func checkCrankingCable(b *ledger.Build, s *lint.Sheet) {
	n := circuits.Of(b)
	all := cables(b, n)
	draw := drawn(b, n)
	reached(b, n, s)
	grounds := ground(b, n, []string{"battery"}, []string{"engine"}).runs
	thick := copper(n, grounds)
	for _, c := range all {
		stood(n, s, c, draw, c[0].Duty.Is("cranking"))
		if len(grounds) > 0 && joins(b, c[0], "battery") {
			s.On(grounds[0], "as thick as "+c[0].Path()).Recommended().AtLeast(thick, copper(n, c))
		}
	}
	if len(all) > 0 && len(grounds) > 0 {
		stood(n, s, grounds, draw, quantity.Is(true))
	}
	if len(all) == 0 {
		s.None(b.Supply(), noStarter)
	}
}

// reached asks for the cable of a starter that is on the vehicle, where there
// are circuits at all.
func reached(b *ledger.Build, n *circuits.Network, s *lint.Sheet) {
	led := map[string]bool{}
	for _, r := range n.Runs {
		for _, to := range r.To {
			if r.Duty.Is("signal", "ground", "momentary").Fails() {
				led[to.String()] = true
			}
		}
	}
	for p := range b.Fitted() {
		if !p.Role.Is("starter").Holds() || len(n.Runs) == 0 {
			continue
		}
		found := quantity.Unknown([]quantity.Need{{Key: "a circuit of duty cranking to " + p.Path(), Place: p.Place()}})
		if led[p.Path()] {
			found = quantity.Is(true)
		}
		s.On(p, "cable").Holds(found, "")
	}
}

// stood judges whether cables side by side stand what the starter draws.
func stood(n *circuits.Network, s *lint.Sheet, c []*circuits.Run, draw quantity.Quantity, is quantity.Truth) {
	s.On(c[0], "ten seconds").When(is, noStarter).AtMost(circuits.Heat(draw, crankTime), n.Stands(c[0], c[1:]...))
	var amps []quantity.Quantity
	for _, r := range c {
		amps = append(amps, n.AtTable(r))
	}
	s.On(c[0], "again and again").When(is, noStarter).AtMost(circuits.RootMeanSquare(draw, longCrank, restAfter),
		quantity.Sum(quantity.Current, amps...).As("what the cables carry", "sum of allowable amperages at the table's ambient"))
}

func copper(n *circuits.Network, c []*circuits.Run) quantity.Quantity {
	var all []quantity.Quantity
	for _, r := range c {
		all = append(all, n.Area(r))
	}
	return quantity.Sum(quantity.Area, all...).As("copper side by side", "sum of areas")
}

func joins(b *ledger.Build, r *circuits.Run, role string) bool { return is(b, r.From, []string{role}) }

func checkCrankingDrop(b *ledger.Build, s *lint.Sheet) {
	n := circuits.Of(b)
	all := cables(b, n)
	draw, volts := drawn(b, n), b.Supply().Voltage
	grounds := ground(b, n, []string{"battery"}, []string{"engine"}).runs
	before := leading(all)
	read := meter(b, s)
	var grounded quantity.Quantity
	var feeds, backs []quantity.Quantity // of those that end at a starter
	if len(grounds) > 0 {
		grounded = together(n, grounds)
	}
	for _, c := range all {
		is := c[0].Duty.Is("cranking")
		feed := way(n, c, before)
		back := n.Returning(c[0])
		if len(grounds) > 0 {
			back = grounded
		}
		limit := quantity.Below(volts, between12And24, crankingDrop, crankingDrop24)
		feedLimit := limit
		if c[0].DropLimit.Known() {
			feedLimit = quantity.Min(limit, c[0].DropLimit.Mul(volts)).As("limit of its own", "min(limit, drop-limit × V)")
		}
		s.On(c[0], "feed").When(is, noStarter).AtMost(instead(read.feed, circuits.Drop(draw, feed), readFeed), feedLimit)
		s.On(c[0], "ground").When(is, noStarter).AtMost(instead(read.ground, circuits.Drop(draw, back), readGround), limit)
		if b.IsPhantom() || leadsToStarter(b, c[0]) {
			feeds, backs = append(feeds, feed), append(backs, back)
		}
		load := quantity.Below(volts, between12And24, loopLoad, loopLoad24)
		s.On(c[0], "both sides").Recommended().When(is, noStarter).AtMost(instead(read.both, circuits.Drop(load, feed.Add(back)), readBoth(load)), quantity.Below(volts, between12And24, loopDrop, loopDrop24))
	}
	read.plausible(b, s, feeds, backs)
	if len(all) == 0 {
		s.None(b.Supply(), noStarter)
	}
}

func leadsToStarter(b *ledger.Build, r *circuits.Run) bool {
	return slices.ContainsFunc(r.To, func(to ledger.Ref) bool { return is(b, to, []string{"starter"}) })
}

func together(n *circuits.Network, c []*circuits.Run) quantity.Quantity {
	var more []quantity.Quantity
	for _, r := range c[1:] {
		more = append(more, n.Resistance(r))
	}
	return circuits.Together(n.Resistance(c[0]), more...)
}

// leading is, by circuit, the cables whose to names it, or that its from names.
func leading(all [][]*circuits.Run) map[string][]*circuits.Run {
	out, own := map[string][]*circuits.Run{}, map[string][]*circuits.Run{}
	for _, c := range all {
		for _, r := range c {
			own[r.Path()] = c
		}
		for _, to := range c[0].To {
			out[to.String()] = c
		}
	}
	for _, c := range all {
		if before := own[c[0].From.String()]; before != nil {
			out[c[0].Path()] = before
		}
	}
	return out
}

// mostInARow bounds how many cables in a row are followed.
const mostInARow = 16

// way is the resistance from the battery to the end of cables side by side,
// with that of the cranking cables that lead to them.
func way(n *circuits.Network, c []*circuits.Run, before map[string][]*circuits.Run) quantity.Quantity {
	out := together(n, c)
	at := before[c[0].Path()]
	for i := 0; at != nil && &at[0] != &c[0] && i < mostInARow; i++ {
		out = out.Add(together(n, at))
		at = before[at[0].Path()]
	}
	return out
}
