package clearance

import (
	"embed"
	"slices"
	"strings"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/rules/refdata"
	"fishplate/rules/vehicle"
)

//go:embed refdata
var files embed.FS

var (
	data          = refdata.Load("clearance", files)
	table         = data.Table("gaps")
	schoolVehicle = data.Value("school-vehicle-distance")
	askedKinds    = slices.DeleteFunc(table.Rows(), func(kind string) bool { return table.Word(kind, "asked") == "" })
	askedHot      = slices.DeleteFunc(table.Rows(), func(kind string) bool { return table.Word(kind, "at-hot-end") == "" })
	none          = q.SI(0, q.Length)
)

var sides = data.Table("sides")

// stands are the matters that change a gap besides a move of its two ends.
var stands = map[string][]vehicle.Matter{"ride": {vehicle.Ride}, "tires": {vehicle.Tires, vehicle.Ride}}

const off = "one of the two came off"

// row is a word in the row of a kind of gap.
func row(kind q.Word, column string) q.Word {
	return q.LookWord(kind, "a row in the table of gaps", func(k string) (string, bool) {
		w := table.Word(k, column)
		return w, w != ""
	})
}

// due is the stage at which a kind of gap is due.
func due(kind q.Word) ledger.Stage {
	if row(kind, "due").Is("first-start").Holds() {
		return ledger.AtFirstStart
	}
	return ledger.AtAssembly
}

// pair is a gap with its two ends.
type pair struct {
	*ledger.Gap
	first, second end
}

// end is one of the two things that a gap is between: a part, or what words
// name, which stands still and is always there.
type end struct {
	name string
	part *ledger.Part
	is   q.Truth // it is a part
}

type pairsKey struct{}

// pairs are the gaps of a build with their ends.
func pairs(b *ledger.Build) []pair {
	return ledger.Memo(b, pairsKey{}, func() []pair {
		out := make([]pair, len(b.Gaps()))
		for i, g := range b.Gaps() {
			first, second := g.Ends()
			out[i] = pair{g, endOf(b, first), endOf(b, second)}
		}
		return out
	})
}

func endOf(b *ledger.Build, r ledger.Ref) end {
	is := r.Names("part")
	if is.Fails() {
		return end{r.String(), &ledger.Part{}, is}
	}
	return end{r.String(), b.Part(r), is}
}

// least is the limit of a gap: its kind's, or its own where that is tighter.
func (g pair) least() q.Quantity {
	open := table.Look(g.Kind, "least", q.Length, "a limit")
	shielded := q.FirstOf(table.Look(g.Kind, "least-shielded", q.Length, "a limit"), open)
	kind := q.Choose(g.Shielded, shielded, open)
	tighter := q.Choose(g.Least.Given(), q.Max(kind, g.Least), kind)
	return q.Choose(row(g.Kind, "limit").Is("ledger"), g.Least, tighter)
}

// left is what is left of a gap.
func (g pair) left(b *ledger.Build) q.Quantity {
	return Left(g.reading(b), g.motion(b), zero(q.FirstOf(g.Relief, none)), g.move(b, g.first), g.move(b, g.second))
}

// reading is the tape's. One from before the move is worth something only
// where the ledger knows the move.
func (g pair) reading(b *ledger.Build) q.Quantity {
	moved := func(e end) q.Truth { return e.is.And(b.MovedSinceRead(g.Reading(), e.part).Some) }
	lost := g.BeforeMove.And(moved(g.first).Or(moved(g.second)).Not())
	return q.Choose(lost, q.Waits(q.Length, "where what moved stood before (was-at)", g.Place()), g.Measured)
}

// move is how far an end has come since the tape, along the gap.
func (g pair) move(b *ledger.Build, e end) q.Quantity {
	since := b.MovedSinceRead(g.Reading(), e.part).Along(g.Along)
	return q.Choose(e.is, since.As("move of "+e.name, "its place now - its place when measured, along the gap"), none)
}

// motion is how far the two come together: as stated, none for a kind that
// does not move, else by the engine's rock where that is all that moves them.
func (g pair) motion(b *ledger.Build) q.Quantity {
	moving := zero(g.Motion)
	if travel := b.Front().BumpTravel; travel.Known() && g.Kind.Is("pan-to-axle").Holds() {
		moving = q.Choose(moving.Given(), q.Max(moving, travel), travel)
	}
	if onEngine := g.rocking(b); onEngine.is.Holds() {
		moving = q.FirstOf(moving, rock(b, onEngine.part))
	}
	return q.Choose(row(g.Kind, "motion").Is("none"), q.FirstOf(moving, none), moving)
}

// travels holds where the axle comes up to the pan as far as a sprung axle does, and waits
// for a document where it does not.
func (g pair) travels(b *ledger.Build) q.Truth {
	m := g.motion(b)
	if !m.Known() {
		return q.Unknown(m.Needs())
	}
	_, most := m.Bounds()
	return vehicle.Documented(b, most >= data.Value("axle-travels").Value(), g.Path()+".motion", "an axle that comes up by no more than "+b.Style().Format(m)+" is unusual", g.Place())
}

// zero is a length as written, a bare 0 for none at all: "0 in" says that nothing
// moves, and not that it may be half an inch.
func zero(v q.Quantity) q.Quantity {
	if r, ok := v.Reading(); ok && r.Value == 0 && r.Grade == q.Stated {
		return none
	}
	return v
}

// rocking is the end that the engine's rock moves, where it moves one and not
// the other and the gap runs across the vehicle or up from the engine.
func (g pair) rocking(b *ledger.Build) end {
	a, c, across := g.first.onEngine(b), g.second.onEngine(b), g.Along.Is("right", "-right")
	switch {
	case a.And(c.Not()).And(across.Or(g.Along.Is("up"))).Holds():
		return g.first
	case c.And(a.Not()).And(across.Or(g.Along.Is("-up"))).Holds():
		return g.second
	}
	return end{}
}

// engineMoves tells whether one end rides on an engine that its mounts let move,
// and the other does not, in a kind of gap that closes in use.
func (g pair) engineMoves(b *ledger.Build) q.Truth {
	a, c := g.first.onEngine(b), g.second.onEngine(b)
	one := a.And(c.Not()).Or(c.And(a.Not())).Or(g.byKind(b).And(a.And(c).Not()))
	return one.And(row(g.Kind, "motion").Is("stated").OrElse(false)).And(b.Engine().Rock.Equals(0).OrElse(false).Not())
}

// byKind tells that the kind of gap itself says that one side is the engine.
func (g pair) byKind(b *ledger.Build) q.Truth {
	switch sides.Word(g.Kind.String(), "engine") {
	case "yes":
		return q.Is(true)
	case "fan":
		return beltFan(b)
	}
	return q.Is(false)
}

// onEngine tells whether an end is the engine or hangs where it hangs.
func (e end) onEngine(b *ledger.Build) q.Truth {
	engine := b.Engine().Part
	hangs := engine.Is(e.name).Or(b.HangsOn(e.part.At, b.Part(engine).At.From))
	return e.is.And(hangs).OrElse(false)
}

// rock is the engine's rock at a part. The crankshaft line is as far across as
// the engine's own place.
func rock(b *ledger.Build, p *ledger.Part) q.Quantity {
	e, at := b.Engine(), b.Now(p.At)
	return RockMotion(e.Rock, at.Y.Sub(b.Now(b.Part(e.Part).At).Y), at.Z.Sub(e.CrankHeight))
}

// apart is how far the second is from the first along the gap, by their places.
func (g pair) apart(b *ledger.Build) q.Quantity {
	from, to := b.Now(g.first.part.At), b.Now(g.second.part.At)
	return to.Minus(from).Axis(g.Along).As("distance by their places", "place of b - place of a, along the gap")
}

// noWider tells whether the gap was no wider than the middles of the two are apart; one
// from before a move is not held against where they are now.
func (g pair) noWider(b *ledger.Build, away q.Quantity) q.Truth {
	if !g.Measured.Known() || !away.Known() {
		return q.Unknown(append(g.Measured.Needs(), away.Needs()...))
	}
	least, _ := g.Measured.Bounds()
	_, most := away.Bounds()
	return q.Is(least <= most+rounding).Or(g.carried(b))
}

// carried tells whether a gap rests on a tape from before a move.
func (g pair) carried(b *ledger.Build) q.Truth {
	moved := func(e end) q.Truth { return e.is.And(b.MovedSinceRead(g.Reading(), e.part).Some) }
	return g.BeforeMove.Or(moved(g.first)).Or(moved(g.second))
}

// outdated is what was done to one of the two after the gap was taped, by their
// dates, though the gap does not say that it was taped before; else "".
func (g pair) outdated(b *ledger.Build) string {
	for _, e := range []end{g.first, g.second} {
		if g.BeforeMove.Holds() || !e.is.Holds() {
			continue
		}
		if stirred := vehicle.Stirred(b, e.part, g.Read); stirred != "" {
			return stirred
		}
	}
	if on := stands[sides.Word(g.Kind.String(), "on")]; on != nil && g.Read.Known() && !g.BeforeMove.Holds() {
		if now, told := vehicle.Untouched(b, g.Read, on...); now.Fails() {
			return told
		}
	}
	return ""
}

// fitted: the finished vehicle carries both.
func (g pair) fitted() q.Truth {
	carries := func(e end) q.Truth { return e.is.Not().Or(e.part.Fitted) }
	return carries(g.first).And(carries(g.second))
}

// burns tells whether the build has an exhaust, or an engine that needs one.
func burns(b *ledger.Build) q.Truth {
	pipe := q.Is(false)
	for p := range b.Fitted() {
		pipe = pipe.Or(p.Role.Is("exhaust", "exhaust-pipe", "downpipe", "muffler", "tailpipe").OrElse(false))
	}
	engine := b.Engine().Given().And(b.Engine().Fuel.Is("electric").Not())
	return pipe.Or(b.Exhaust().Given()).Or(engine)
}

// taped holds where the ledger has a gap of the kind between things that are on
// the finished vehicle, and is missing until it does.
func taped(b *ledger.Build, kind string) q.Truth {
	return tapedWhere(b, kind, "", func(pair) bool { return true })
}

// tapedWhere is taped of such gaps as count.
func tapedWhere(b *ledger.Build, kind, where string, counts func(pair) bool) q.Truth {
	has := q.Unknown([]q.Need{{Key: "a gap of kind " + kind + where, Place: b.Main()}})
	for _, g := range pairs(b) {
		if counts(g) {
			has = has.Or(g.Kind.Is(kind).And(g.fitted()).OrElse(false))
		}
	}
	return has
}

// reworked tells that one of the two moved, was altered or went on in this work,
// or that the tires or the ride height did that the kind of gap hangs on.
func (g pair) reworked(b *ledger.Build) bool {
	for _, e := range []end{g.first, g.second} {
		if e.is.Holds() && (b.MovedSinceWork(e.part).Some.Holds() || e.part.Change.Given().Holds() || vehicle.FromElsewhere(e.part).Holds()) {
			return true
		}
	}
	on := stands[sides.Word(g.Kind.String(), "on")]
	return b.IsPhantom() || slices.ContainsFunc(on, func(m vehicle.Matter) bool { return vehicle.Reworked(b, m) })
}

// before puts what was done after a reading into its sentence.
func before(stirred string) string {
	if done, _, ok := strings.Cut(stirred, ", after the test"); ok {
		return "before " + done
	}
	return "before " + stirred
}

// measured says when a gap was measured, as far as it says so itself.
func measured(on ledger.Date) string {
	if on.Known() {
		return "measured on " + on.String() + ", "
	}
	return "measured, for all that is written, "
}
