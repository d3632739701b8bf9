package vehicle

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

// tank is one of the vehicle's tanks, full, at one time.
type tank struct {
	PointMass
	of   *ledger.Tank
	none q.Truth // it is not there
}

func (t tank) masses() []PointMass {
	if t.none.Holds() {
		return nil
	}
	return []PointMass{t.PointMass}
}

// room is what would fill the tank up from the level at a weighing.
func (t tank) room(w *ledger.Weighing) []PointMass {
	if t.none.Holds() {
		return nil
	}
	return []PointMass{{Mass: t.Mass.Mul(q.Number(1).Sub(w.Level(t.of))), At: t.At}}
}

// full is a tank as it is now.
func full(b *ledger.Build, t *ledger.Tank) tank {
	return tank{PointMass{Mass: FluidMass(t.Capacity, Density(t.Fluid)).As("full "+t.Path()+" now", "V rho"), At: b.Now(t.At)}, t, t.Capacity.Equals(0)}
}

// fullThen is a tank as it was as received.
func fullThen(b *ledger.Build, t *ledger.Tank) tank {
	capacity := q.Choose(t.CapacityWas.Given(), t.CapacityWas, t.Capacity)
	density := q.Choose(t.FluidWas.Given(), Density(t.FluidWas), Density(t.Fluid))
	return tank{PointMass{Mass: FluidMass(capacity, density).As("full "+t.Path()+" as received", "V rho"), At: b.Before(t.At, t.WasAt)}, t, capacity.Equals(0)}
}

// changed tells that a tank is not as it was as received.
func changed(b *ledger.Build, t *ledger.Tank) q.Truth {
	return t.FluidWas.Given().Or(t.CapacityWas.Given()).Or(q.Is(b.Moved(t.At, t.WasAt)))
}

// rooms is what would fill all tanks up from their levels at a weighing.
func rooms(b *ledger.Build, w *ledger.Weighing, as func(*ledger.Build, *ledger.Tank) tank) []PointMass {
	var out []PointMass
	for _, t := range b.Tanks() {
		out = append(out, as(b, t).room(w)...)
	}
	return out
}

// tankChanges is full tanks now less full tanks then.
func tankChanges(b *ledger.Build) []PointMass {
	var out []PointMass
	for _, t := range b.Tanks() {
		if changed(b, t).Holds() {
			out = append(out, full(b, t).masses()...)
			out = append(out, less(fullThen(b, t).masses())...)
		}
	}
	return out
}
