package ledger

import (
	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

// Spot is where something is said to be: by a tape from the vehicle's three
// lines, from an assembly's datum, or at the same place as another part.
type Spot struct {
	From   Ref        `key:"from" ref:"assembly"`
	Behind q.Quantity `key:"behind" dim:"length" signed:""`
	Right  q.Quantity `key:"right" dim:"length" signed:""`
	Above  q.Quantity `key:"above" dim:"length" signed:""`
	SameAs Ref        // a part: its name stands in place of the table
	known  bool
}

// SchemaType is what a place is to the schema.
func (Spot) SchemaType() schema.Type { return schema.Place }

// Known tells that the ledger gives the place, in whatever way.
func (s Spot) Known() bool { return s.known }

// Point is a place in the vehicle: X behind the front axle line, Y to the
// right of the center line, Z above the ground, at ride height (the axes of
// SAE J1100; that they point that way is from memory).
type Point struct{ X, Y, Z q.Quantity }

// Minus is the vector from p to o.
func (o Point) Minus(p Point) Point {
	return Point{o.X.Sub(p.X), o.Y.Sub(p.Y), o.Z.Sub(p.Z)}
}

// Axis is the component along a gap's direction ("back", "-up", ...).
func (o Point) Axis(along q.Word) q.Quantity {
	if !along.Known() {
		return q.WaitsFor(q.Length, along.Needs())
	}
	switch along.String() {
	case "back":
		return o.X
	case "-back":
		return o.X.Neg()
	case "right":
		return o.Y
	case "-right":
		return o.Y.Neg()
	case "-up":
		return o.Z.Neg()
	}
	return o.Z
}

// when is the time at which a place is asked for: now, by itself.
type when struct {
	at  instant
	day Date // of a reading
}

type instant uint8

const (
	now instant = iota
	before
	asRead
)

// Now is where a spot is now.
func (b *Build) Now(s Spot) Point { return b.locate(s, when{}, 0) }

// Before is where a thing was before the work: at its was-at, else where its
// place was then.
func (b *Build) Before(at, was Spot) Point {
	if was.known {
		return b.locate(was, when{at: before}, 0)
	}
	return b.locate(at, when{at: before}, 0)
}

func (b *Build) locate(s Spot, t when, depth int) Point {
	if depth > 50 { // a loop that only an overlay of two ledgers can make
		w := q.Waits(q.Length, "a place that does not depend on itself", q.Place{})
		return Point{w, w, w}
	}
	here := Point{s.Behind, s.Right, s.Above}
	on, goes := b.over(s)
	if !goes {
		return here
	}
	datum := on.at
	if was, _ := on.then(t); was.known {
		datum = was
	}
	o := b.locate(datum, t, depth+1)
	if s.SameAs.Known() {
		return o
	}
	return Point{o.X.Add(here.X), o.Y.Add(here.Y), o.Z.Add(here.Z)}
}

// Moved tells whether a thing is elsewhere than before the work.
func (b *Build) Moved(at, was Spot) bool { return was.known || b.hangsOnMoved(at, 0) }

func (b *Build) hangsOnMoved(s Spot, depth int) bool {
	switch {
	case depth > 50:
		return false
	case s.SameAs.Known():
		p := b.Part(s.SameAs)
		return p.WasAt.known || b.hangsOnMoved(p.At, depth+1)
	case s.From.Known():
		a := b.Assembly(s.From)
		return a.WasAt.known || b.hangsOnMoved(a.At, depth+1)
	}
	return false
}
