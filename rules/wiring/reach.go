package wiring

import (
	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/circuits"
)

var reaches = &lint.Rule{
	Name:    "wiring/reaches",
	Title:   "a wire is long enough to reach from the place of what feeds it to the place of what it feeds",
	Due:     ledger.AtFirstStart,
	Sources: cited("practice"),
	Note:    "Every sum on a wire goes by its length, and a length written too short makes a thin wire pass. The least is the straight way between the places of both parts, which is plain geometry, less the 12 in that their terminals together may be nearer to each other, which is practice. Engine, transmission, frame and body are too large for their place to tell where a terminal is, and a relay has no place: wires that end there are not judged.",
	Caution: fire,
	Check:   checkReaches,
}

func checkReaches(b *ledger.Build, s *lint.Sheet) {
	large := listed("earth")
	for _, r := range circuits.Of(b).Runs {
		for _, to := range r.To {
			from, end := b.Part(r.From), b.Part(to)
			way := b.Now(end.At).Minus(b.Now(from.At))
			small := from.Role.Is(large...).Or(end.Role.Is(large...)).OrElse(false).Not()
			placed := quantity.Is(b.IsPhantom() || from.At.Known() && end.At.Known() && way.X.Known() && way.Y.Known() && way.Z.Known())
			s.On(r, "to "+to.String()).When(placed, "not both ends have a place").When(small, "an end of it is too large for its place to tell where the terminal is").
				When(circuits.Stated(b, r.Length), "its length is not stated").
				AtLeast(r.Length, LeastLength(way))
		}
	}
}
