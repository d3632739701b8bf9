package vehicle

import (
	"math"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

// Apart is how far two points are from each other:
//
//	d = sqrt(x² + y² + z²)
//
// x, y, z how far apart along the vehicle, across it and in height. Geometry.
func Apart(from, to ledger.Point) q.Quantity {
	d := to.Minus(from)
	return q.Hypot(q.Hypot(d.X, d.Y), d.Z)
}

// TankFromPart is how far a tank may be, by its place, from the part that it is.
var TankFromPart = data.Value("tank-from-part")

// Where is where something is, in m behind the front axle line, right of the center line
// and above the ground; false where the ledger does not say.
func Where(b *ledger.Build, s ledger.Spot) (at [3]float64, known bool) {
	here := b.Now(s)
	for i, v := range [...]q.Quantity{here.X, here.Y, here.Z} {
		if !v.Known() {
			return at, false
		}
		at[i] = v.Value()
	}
	return at, true
}

// Distance is Apart of two such places, in m.
func Distance(p, o [3]float64) float64 {
	return math.Hypot(math.Hypot(p[0]-o[0], p[1]-o[1]), p[2]-o[2])
}

// TankAt is the tank that stands at a place; nil where none does.
func TankAt(b *ledger.Build, place [3]float64) *ledger.Tank {
	for _, t := range b.Tanks() {
		if at, ok := Where(b, t.At); ok && Distance(at, place) <= TankFromPart.Value() {
			return t
		}
	}
	return nil
}

// FuelTanks are the tanks of what the engine burns, and the parts with a place that are
// fuel tanks.
func FuelTanks(b *ledger.Build) (tanks []*ledger.Tank, parts []*ledger.Part) {
	for _, t := range b.Tanks() {
		burnt := t.Fluid.Same(b.Engine().Fuel)
		for _, c := range b.Fuel().Carries {
			burnt = burnt.Or(t.Fluid.Same(c))
		}
		if burnt.Holds() || b.IsPhantom() {
			tanks = append(tanks, t)
		}
	}
	for p := range b.Fitted() {
		if _, ok := Where(b, p.At); ok && p.Role.Is("fuel-tank").Holds() || b.IsPhantom() {
			parts = append(parts, p)
		}
	}
	return tanks, parts
}

// Nearest is which of some parts is nearest to a spot, one of which nothing is known
// where there is none or the spot has no place.
func Nearest(b *ledger.Build, spot ledger.Spot, of []*ledger.Part) *ledger.Part {
	nearest, least := &ledger.Part{}, math.Inf(1)
	here, known := Where(b, spot)
	for _, p := range of {
		if at, ok := Where(b, p.At); known && ok && Distance(at, here) < least {
			nearest, least = p, Distance(at, here)
		}
	}
	return nearest
}
