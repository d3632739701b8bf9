package driveline

import (
	"fmt"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

var length = &lint.Rule{
	Name:    "driveline/length",
	Title:   "a shaft is as long as the places of what it joins say, and as its length before the work and the moves since do",
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{data.Source("practice"), data.Source("solid-geometry")},
	Backs:   []string{"practice"},
	Note: "Between the middles of two things and the joints there lie an output and a pinion, 10 to 40 in together to a rear axle, 8 to 32 to a front one, 6 to 36 to a transfer case; another length waits for a document, such as the driveline shop's invoice (all common practice). The shaft is taken as if it lay level. " +
		"Where both ends are the vehicle's own, what they moved by, put on the length as received, is the length now, within 3 in (common practice): a must, for the ledger says it twice. An axle without a place of its own is on its axle line.",
	Caution: thrown,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, l := range shafts(b) {
			over, role := l.overhang(b), b.Part(l.To).Role
			phantom := q.Is(b.IsPhantom())
			s.On(l, "by the places").When(l.fitted(b), off).When(over.Given().Or(phantom), "the places of what it joins, or its length, are not all in the ledger").
				When(role.Is(overhangs.Rows()...), "it goes to no axle and no transfer case").Work().Holds(usual(b, l, over, role), "")
			before := l.before(b)
			own := b.Part(l.From).Origin.Is("original").And(b.Part(l.To).Origin.Is("original")).OrElse(b.IsPhantom())
			s.On(l, "by its length before").When(l.fitted(b), off).When(l.LengthWas.Given().Or(phantom), "its length as received is not in the ledger").When(own, "one of what it joins is another than as received").
				AtMost(q.Abs(before.Sub(l.LengthWas)).As("apart from its length as received", "|before - as received|"), data.Value("length-apart"))
		}
	},
}

var overhangs = data.Table("overhangs")

// overhang is how much further apart the middles of what a shaft joins are than its
// joints.
func (s *shaft) overhang(b *ledger.Build) q.Quantity {
	tubes := q.Choose(s.three, s.length.Add(s.LengthSecond), s.length)
	return Overhang(placeAlong(b, b.Part(s.From)), placeAlong(b, b.Part(s.To)), tubes)
}

// placeAlong is how far behind the front axle line something is.
func placeAlong(b *ledger.Build, p *ledger.Part) q.Quantity {
	switch at := b.Now(p.At).X; {
	case at.Known() || b.IsPhantom():
		return at
	case p.Role.Is("rear-axle").Holds():
		return b.Vehicle().Wheelbase
	case p.Role.Is("front-axle").Holds():
		return noLength
	default:
		return at
	}
}

// usual holds where the overhang is one that shafts to such a thing have, and waits for a
// document of the length where not.
func usual(b *ledger.Build, l shaft, over q.Quantity, to q.Word) q.Truth {
	least, most := overhangs.Look(to, "least", q.Length, "an overhang"), overhangs.Look(to, "most", q.Length, "an overhang")
	if !over.Known() || !least.Known() || !most.Known() {
		return q.Unknown(append(over.Needs(), least.Needs()...))
	}
	low, high := over.Bounds()
	told := fmt.Sprintf("it leaves %s from its joints to the middles of what it joins, and %s to %s is usual", b.Style().Format(over), b.Style().Format(least), b.Style().Format(most))
	return vehicle.Documented(b, high >= least.Value() && low <= most.Value(), l.Path()+".length", told, l.Place())
}

// before is the length that a shaft had as received, by its length now and by what
// its ends moved since.
func (s *shaft) before(b *ledger.Build) q.Quantity {
	way := q.Choose(b.Part(s.To).Role.Is("front-axle"), minus, one)
	moved := func(p *ledger.Part) Line {
		m := b.MovedSinceWork(p)
		along := func(axis string) q.Quantity {
			return m.Along(q.Written(axis, nil)).As("move of "+p.Path()+" "+axis+" in the work", "its place now - its place before")
		}
		return Line{along("back"), along("right"), along("up")}
	}
	now := LineOf(s.length, s.slope, s.plan, way)
	return now.Moved(moved(b.Part(s.To)), moved(b.Part(s.From))).Length().As("length before the work", "length of (shaft now - move of its end + move of its start)")
}
