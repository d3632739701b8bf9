package ledger

import (
	"math"
	"slices"

	q "fishplate/ledger/quantity"
)

// nowhere tells that a move is none: a nanometer is rounding.
func nowhere(p Point) bool {
	return !slices.ContainsFunc([]q.Quantity{p.X, p.Y, p.Z}, func(v q.Quantity) bool { return !v.Known() || math.Abs(v.Value()) > 1e-9 })
}

// thingsApart is how far a thing is in one ledger at a time from where a thing is in
// another at another. What both rest on drops out, with its doubt, where it
// is the same in both.
func thingsApart(was *Build, x thing, then when, is *Build, y thing, by when, depth int) Point {
	from, to := x.at, y.at
	if s, _ := x.then(then); s.known {
		from = s
	}
	if s, _ := y.then(by); s.known {
		to = s
	}
	on, goes := was.over(from)
	onto, go2 := is.over(to)
	switch {
	case depth > 50 || !goes && !go2:
		return Point{differ(from.Behind, to.Behind), differ(from.Right, to.Right), differ(from.Above, to.Above)}
	case goes && go2 && from.SameAs.Known() && to.SameAs.Known():
		return thingsApart(was, on, then, is, onto, by, depth+1)
	case goes && go2 && from.From.Known() && to.From.Known():
		o := thingsApart(was, on, then, is, onto, by, depth+1)
		return Point{o.X.Add(differ(from.Behind, to.Behind)), o.Y.Add(differ(from.Right, to.Right)), o.Z.Add(differ(from.Above, to.Above))}
	}
	p, r := was.locate(from, then, 0), is.locate(to, by, 0)
	return Point{differ(p.X, r.X), differ(p.Y, r.Y), differ(p.Z, r.Z)}
}

// differ is a coordinate less what it was; none where both say the same, or it
// was not said before.
func differ(was, is q.Quantity) q.Quantity {
	if !was.Known() || is.Known() && math.Abs(is.Value()-was.Value()) <= 1e-9 {
		return still.By.X
	}
	return is.Sub(was)
}
