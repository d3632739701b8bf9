package clearance

import (
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

const (
	under = "Measuring again means going under it: level floor, wheels chocked, rated stands on solid ground, and someone who knows that you are there."
	hurt  = "Belts, fans and shafts take fingers. Measure with the engine off and the key out, and with stands under what is lifted, never a jack alone."
	fire  = "An exhaust sets fuel, rubber and floors on fire and boils brake fluid, even after the engine is off. Local codes and a licensed shop have the last word."
)

// Pack checks the room between things.
var Pack = &lint.Pack{
	Name:  "clearance",
	Title: "Clearance: what room is left between things in use, and what stands near the exhaust",
	Rules: []*lint.Rule{gap, along, remeasured, exhaustToFuel, hotParts, nearHot, nearMoving, wanted, bump},
}

var gap = &lint.Rule{
	Name:    "clearance/gap",
	Title:   "in use the two do not touch, and the gap that is left is no less than the least for its kind",
	Due:     ledger.AtAssembly,
	Sources: []quantity.Citation{table.Cite},
	Note:    "What is named in words is taken to stand still, and so is a part that neither has a was-at nor hangs on an assembly that has. The engine's rock stands in for motion only of a gap across the vehicle, or up from the engine; its distance is taken to the part's own place and not to its nearest edge. Gaps at the exhaust are due at first start. Between the engine and what stands still something moves: a motion below 1/16 in, unless engine.rock says 0, waits for a document, and so do a relief of more than 3 in and an axle that comes up by less than 1 in (all common practice). The least figures are common practice: a must where people die of less, by fire, or without brakes, steering, a tire or a shaft; between fan, belt, engine and what stands still they are a should, and that the two do not touch is the must.",
	Caution: hurt + " " + fire,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, g := range pairs(b) {
			check := s.On(g, "").When(g.fitted(), off).Due(due(g.Kind))
			if g.carried(b).Holds() {
				check.Settled("reckoned from a reading before the move, and wants measuring again")
			}
			advice := row(g.Kind, "level").Is("should")
			if advice.Holds() {
				check.Recommended()
			}
			check.AtLeast(g.left(b), g.least())
			s.On(g, "clear").When(g.fitted(), off).When(advice, "its least is a must").Due(due(g.Kind)).AtLeast(g.left(b), none)
			phantom := quantity.Is(b.IsPhantom())
			s.On(g, "motion").When(g.fitted(), off).When(g.engineMoves(b).And(g.Motion.Given()).Or(phantom), "it does not lie between the engine and the rest, or states no motion").Due(due(g.Kind)).Work().
				Holds(vehicle.PlausibleAtLeast(b, vehicle.TradeSize(g.Motion), data.Value("engine-moves")), "")
			if over := g.Kind.Is("pan-to-axle"); !over.Fails() {
				s.On(g, "travel").When(over, "").When(g.fitted(), off).When(g.motion(b).Given().Or(phantom), "it states no motion").Due(due(g.Kind)).Work().
					Holds(g.travels(b), "")
			}
			s.On(g, "relief").When(g.fitted(), off).When(g.Relief.Given().Or(phantom), "no room was made").Due(due(g.Kind)).Work().
				Holds(vehicle.PlausibleAtMost(b, g.Relief, data.Value("relief-at-most")), "")
		}
	},
}

var along = &lint.Rule{
	Name:    "clearance/along",
	Title:   "a gap runs the way that the places of its two parts say, and is no wider than the two are apart",
	Due:     ledger.AtAssembly,
	Sources: []quantity.Citation{table.Cite},
	Note:    "A gap with the wrong sign grows where it should shrink when the engine moves; one that is wider than the middles are apart was misread, or a place was (not asked where one thing reaches around the other, as a shroud, a hood or a belt does). A pan that clears the axle under it is not below the axle. The places are those of the parts' middles: of a long part, or of one that reaches around another, they can mislead, and a waiver says so.",
	Caution: hurt + " " + fire,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, g := range pairs(b) {
			d := g.apart(b)
			s.On(g, "").When(g.fitted(), off).When(d.Given().Or(quantity.Is(b.IsPhantom())), "along, or the place of one of the two, is not in the ledger").AtLeast(d, none)
			if over := g.Kind.Is("pan-to-axle").And(g.Along.Is("-up").OrElse(false)); !over.Fails() {
				above := b.Now(g.first.part.At).Z.Sub(axleHeight(b)).As("pan above the axle's middle", "z_pan - z_axle")
				s.On(g, "over the axle").When(over.OrElse(b.IsPhantom()), "").When(g.fitted(), off).When(g.first.is.And(above.Given()).OrElse(b.IsPhantom()), "the place of the pan, or of the axle, is not in the ledger").AtLeast(above, none)
			}
			if whole := row(g.Kind, "middles").Is("yes"); !whole.Fails() {
				away := vehicle.Apart(b.Now(g.first.part.At), b.Now(g.second.part.At))
				s.On(g, "distance").When(whole, "").When(g.fitted(), off).When(away.Given().And(g.Measured.Given()).Or(quantity.Is(b.IsPhantom())), "it is not measured yet, or the place of one of the two is not in the ledger").
					Holds(g.noWider(b, away), "it is wider than the two are apart by their places, %s: one of the three is wrong", b.Style().Format(away))
			}
		}
	},
}

// axleHeight is how high the front axle's middle is, as far as its part has a place.
func axleHeight(b *ledger.Build) quantity.Quantity {
	for p := range b.Fitted() {
		if p.Role.Is("front-axle").Holds() {
			return b.Now(p.At).Z
		}
	}
	return quantity.Waits(quantity.Length, "the place of a part with the role front-axle", b.Main())
}

var remeasured = &lint.Rule{
	Name:    "clearance/remeasured",
	Was:     "clearance/retaped",
	Title:   "no gap still rests on a reading from before the move",
	Due:     ledger.AtAssembly,
	Sources: []quantity.Citation{table.Cite},
	Note:    "Carrying a reading over by the move is for planning: only a tape finds what bent, sagged or was left in the way. A gap whose date is before the day on which one of the two moved or what it hangs on did, or was fitted, taken off or worked on, counts as measured before it; the same day counts as after, and no date at all as before a move that has one. What moved is then carried over from was-at, or from measured-at. At delivery a gap of what moved, was altered or went on has its date, and one that tires or ride height change where those are others.",
	Caution: under + " " + hurt,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, g := range pairs(b) {
			s.On(g, "dated").When(g.fitted(), off).When(quantity.Is(g.reworked(b)), "nothing that it hangs on moved, was altered or went on in this work").Due(ledger.AtDelivery).Reading().
				Holds(g.Read.Required(), "")
			check := s.On(g, "").When(g.fitted(), off).Reading()
			if stirred := g.outdated(b); stirred != "" {
				check.Holds(quantity.Is(false), "%s%s: measure it again", measured(g.Read), before(stirred))
				continue
			}
			check.Holds(g.carried(b).Not(), "it was measured before the move: measure it again")
		}
	},
}

var bump = &lint.Rule{
	Name:    "clearance/bump",
	Title:   "a gap over the front axle is judged with the axle up at its stop",
	Should:  true,
	Due:     ledger.AtAssembly,
	Sources: []quantity.Citation{table.Cite},
	Note:    "The gap's motion is to be no less than the axle's travel from ride height to its stop (vehicle.front.bump-travel), which counts in its place in clearance/gap where it is more.",
	Caution: under + " " + hurt,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, g := range pairs(b) {
			if kind := g.Kind.Is("pan-to-axle"); !kind.Fails() {
				s.On(g, "").When(kind, "").When(g.fitted(), off).AtLeast(g.Motion, b.Front().BumpTravel)
			}
		}
	},
}

const (
	noExhaust = "no engine and no exhaust in the ledger"
	ownHeat   = "the engine and its hot end are the vehicle's own"
)

var exhaustToFuel = &lint.Rule{
	Name:    "clearance/exhaust-to-fuel",
	Title:   "what carries fuel is 300 mm from the exhaust, or shielded, as a state asks of school vehicles",
	Should:  true,
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{data.Source("illinois")},
	Note:    "A benchmark: it is written for the fuel line of a school vehicle, and used here for every gap of the kind.",
	Caution: fire,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, g := range pairs(b) {
			if kind := g.Kind.Is("exhaust-to-fuel"); !kind.Fails() {
				s.On(g, "").When(kind, "").When(g.fitted(), off).When(g.Shielded.Not(), "a shield stands between").AtLeast(g.left(b), schoolVehicle)
			}
		}
	},
}

var hotParts = &lint.Rule{
	Name:    "clearance/hot-parts",
	Title:   "the gaps from exhaust to fuel and from exhaust to brake line are in the ledger of a build with an exhaust, and with another engine those at its hot end, at the tank and to the floor",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{data.Source("burn-or-char"), table.Cite},
	Note:    "It asks that the nearest place of each was looked for and measured: the states say what an exhaust may not do, and that a tape shows it is common practice. An engine that burns something has an exhaust, whether or not the ledger lists it. With an engine from elsewhere, or another hot end, the floor is asked too, the fuel tank, and the nearest fuel, brake line, wiring and rubber at the turbocharger, the manifold or the downpipe (a pipe whose middle is within 40 in of the engine's, common practice): a gap at the muffler says nothing of them, nor does one to what is further off than something else by its place. Where a gap says that it is shielded, the shield is among the parts.",
	Caution: fire,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		said := quantity.Is(b.IsPhantom())
		for _, g := range pairs(b) {
			said = said.Or(g.Shielded.And(g.fitted()).OrElse(false))
		}
		shield := has(b, "heat-shield").Or(quantity.Unknown([]quantity.Need{{Key: "the shield that a gap says stands between: a fitted part with the role heat-shield", Place: b.Main()}}))
		s.On(b.Exhaust(), "shields").When(said, "no gap says that a shield stands between").Holds(shield, "")
		for _, kind := range askedKinds {
			check := s.On(b.Exhaust(), kind).When(burns(b), noExhaust)
			if table.Word(kind, "asked") == "other" {
				check.When(otherHeat(b), ownHeat)
			}
			check.Holds(taped(b, kind), "")
		}
		tank := func(e end) bool {
			return e.part.Role.Is("fuel-tank").Holds() || strings.Contains(strings.ToLower(e.name), "tank")
		}
		s.On(b.Exhaust(), "exhaust-to-fuel at the tank").When(burns(b), noExhaust).When(has(b, "fuel-tank"), "no fuel tank among the parts").When(otherExhaust(b), "engine and exhaust are the vehicle's own").
			Reading().Holds(tapedWhere(b, "exhaust-to-fuel", " at the fuel tank", func(g pair) bool { return tank(g.first) || tank(g.second) }), "")
		for _, kind := range askedHot {
			s.On(b.Exhaust(), kind+" at the hot end").When(burns(b), noExhaust).When(otherHeat(b), ownHeat).Reading().Holds(tapedAtHotEnd(b, kind), "")
		}
	},
}
