package circuits

import "fishplate/ledger/quantity"

// RootMeanSquare is the steady current that heats a wire as much as a current
// I that flows for the time on, out of each on + off:
//
//	Irms = I sqrt(on / (on + off))
//
// It holds where a cycle is short beside the time that the wire takes to warm
// up. Definition of the effective value (IEC 60050 103-02-03).
func RootMeanSquare(current, on, off quantity.Quantity) quantity.Quantity {
	share := on.Div(on.Add(off))
	return current.Mul(quantity.Sqrt(share)).As("root mean square", "I sqrt(on / (on + off))")
}

// Together is the resistance of conductors side by side:
//
//	R = 1 / (1/R1 + 1/R2 + ...)
//
// Left out: that a joint of one of them may be worse. Kirchhoff.
func Together(first quantity.Quantity, more ...quantity.Quantity) quantity.Quantity {
	if len(more) == 0 {
		return first
	}
	one := quantity.Number(1)
	sum := one.Div(first)
	for _, r := range more {
		sum = sum.Add(one.Div(r))
	}
	return one.Div(sum).As("resistance side by side", "1 / sum of 1/R")
}

// Heat is the I² t of a current I that flows for the time t.
func Heat(current, t quantity.Quantity) quantity.Quantity {
	return quantity.Pow(current, 2).Mul(t).As("heat of the pull", "I² t")
}

// Resistance is that of a run's conductor, one way, as warm as its zone.
func (n *Network) Resistance(r *Run) quantity.Quantity {
	return Resistance(n.perLength(r), r.Length, n.Temperature(r)).As("resistance of "+r.Path(), "r L (1 + 0.00393 (T - 20 °C))")
}

// Returning is the resistance of a run's return, by wire or chassis.
func (n *Network) Returning(r *Run) quantity.Quantity { return n.returning(r) }

// Stands is the I² t that conductors side by side stand: that of the least
// insulation, for the copper of all.
func (n *Network) Stands(first *Run, more ...*Run) quantity.Quantity {
	k := adiabatic(first)
	area := n.Area(first)
	for _, r := range more {
		k, area = quantity.Min(k, adiabatic(r)), area.Add(n.Area(r))
	}
	if len(more) > 0 {
		k, area = k.As("least k squared", "the least of theirs"), area.As("copper side by side", "sum of areas")
	}
	return Withstand(k, area)
}

func adiabatic(r *Run) quantity.Quantity {
	return KSquared(InsulationRating(r.Insulation), FinalTemperature(r.Insulation))
}

// AtTable is the amperage of a run's conductor at the ambient that its table
// is given at.
func (n *Network) AtTable(r *Run) quantity.Quantity {
	return quantity.Look(r.Gauge, quantity.Current, "an allowable amperage", func(size string) (quantity.Quantity, bool) {
		row, ok := rowFor(size)
		if !ok {
			return quantity.Quantity{}, false
		}
		return Allowable(row.columns, InsulationRating(r.Insulation), row.base, row.base), true
	})
}

// Signal is the current of a signal: its own, and that of what begins at it.
// What a relay switches for it is no load of its own.
func (n *Network) Signal(r *Run) quantity.Quantity {
	terms := []quantity.Quantity{quantity.SI(0, quantity.Current)}
	if r.HasOwn {
		terms = append(terms, r.Own)
	}
	var begin []*Run
	if j := n.joints["end of "+r.Path()]; j != nil {
		begin = append(begin, j.out.runs...)
	}
	for _, to := range r.To {
		if f := n.byPath[to.String()]; f != nil && f != r && !f.From.Known() {
			begin = append(begin, f)
		}
	}
	for _, f := range begin {
		if !f.Duty.Is("ground").Holds() {
			terms = append(terms, n.Current(f, Everything))
		}
	}
	return quantity.Sum(quantity.Current, terms...).As("current of "+r.Path(), "own load + what begins at it")
}

// FuseTemperature is that of the place where a run's fuse sits, its wire's
// where nothing else is said.
func (n *Network) FuseTemperature(r *Run) quantity.Quantity {
	if r.FuseZone.Known() {
		z := n.b.Zone(r.FuseZone)
		return quantity.Default(z.Temperature, quantity.Choose(z.EngineSpace.OrElse(false), engineSpace, elsewhere))
	}
	return n.Temperature(r)
}
