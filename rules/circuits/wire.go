package circuits

import (
	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/rules/refdata/conductor"
)

// perMeter is the dimension of a resistance a length.
var perMeter = SolidPerLength(quantity.SI(1, quantity.Area)).Dim()

// Temperature is that of the place which a run goes through.
func (n *Network) Temperature(r *Run) quantity.Quantity {
	z := n.b.Zone(r.Zone)
	return quantity.Default(z.Temperature, quantity.Choose(z.EngineSpace.OrElse(false), engineSpace, elsewhere))
}

// perLength is the resistance a length of a run's conductor at 20 °C: of a
// metric size by IEC 60228, of SAE cable by its own copper, else of the AWG.
func (n *Network) perLength(r *Run) quantity.Quantity {
	return quantity.Look(r.Gauge, perMeter, "a resistance a length", func(size string) (quantity.Quantity, bool) {
		if g, awg := gauges()[size]; awg {
			return quantity.Choose(r.Insulation.Is(saeTypes...), g.saePerLength, g.perLength), true
		}
		return metricPerLength(size)
	})
}

// Area is the copper of a run's conductor.
func (n *Network) Area(r *Run) quantity.Quantity {
	return quantity.Look(r.Gauge, quantity.Area, "a copper area", func(size string) (quantity.Quantity, bool) {
		if g, awg := gauges()[size]; awg {
			return quantity.Choose(r.Insulation.Is(saeTypes...), g.saeArea, g.area), true
		}
		return conductor.Area(size)
	})
}

// Allowable is the amperage that a run's conductor may carry where it runs.
func (n *Network) Allowable(r *Run) quantity.Quantity {
	return r.allowed.get(quantity.Current, r.Path(), r.Place(), func() quantity.Quantity { return n.AllowableOf(r, r.Gauge) })
}

// AllowableOf is the same of a wire of another size, insulated and placed like
// the run's.
func (n *Network) AllowableOf(r *Run, size quantity.Word) quantity.Quantity {
	return quantity.Look(size, quantity.Current, "an allowable amperage", func(size string) (quantity.Quantity, bool) {
		row, ok := rowFor(size)
		if !ok {
			return quantity.Quantity{}, false
		}
		return Allowable(row.columns, InsulationRating(r.Insulation), n.Temperature(r), row.base), true
	})
}

// InBundle is the same among so many wires that warm each other.
func (n *Network) InBundle(r *Run) quantity.Quantity {
	most := quantity.Number(bundles.X[len(bundles.X)-1])
	factor := bundles.At(quantity.Min(r.Bundle, most))
	if IsAircraftSize(r.Gauge) {
		factor = quantity.Number(1)
	}
	return n.Allowable(r).Mul(factor).As("allowable amperage in a bundle", "allowable amperage × bundle factor")
}

// IsAircraftSize tells that a size is too thin for the table of 33 CFR, and
// takes the aircraft table's amperages.
func IsAircraftSize(size quantity.Word) bool {
	row, ok := rowFor(size.String())
	return size.Known() && ok && row.bundled
}

// FuseFor is the largest fuse that a run's conductor may have: what it may
// carry; of the thinnest sizes, where it is no hotter than the aircraft chart
// takes it to be, the fuse that the chart gives, if that is more.
func (n *Network) FuseFor(r *Run) quantity.Quantity { return n.fuseFor(r, r.Gauge, n.Allowable(r)) }

// FuseForOf is the same of a wire of another size, insulated and placed like
// the run's.
func (n *Network) FuseForOf(r *Run, size quantity.Word) quantity.Quantity {
	return n.fuseFor(r, size, n.AllowableOf(r, size))
}

func (n *Network) fuseFor(r *Run, size quantity.Word, carries quantity.Quantity) quantity.Quantity {
	fuse, ok := chartFuses.Cell(size.String(), "fuse")
	if !ok || r.Breaker.Known() {
		return carries
	}
	more := quantity.Max(carries, fuse).As("fuse of the aircraft chart", "max(that of the chart, what the wire may carry)")
	return quantity.Below(n.Temperature(r), chartAmbient, more, carries)
}

// Fused tells that a run is to be protected: it carries power, and not to the
// starter's motor.
func (r *Run) Fused() quantity.Truth { return r.Duty.Is("signal", "ground", "cranking").Not() }

// Stated tells that the ledger says a value whose absence means that there is
// nothing to judge. Where nothing at all is known, that is not known either.
func Stated(b *ledger.Build, qs ...quantity.Quantity) quantity.Truth {
	out := quantity.Is(false)
	for _, q := range qs {
		if b.IsPhantom() {
			return quantity.Unknown(q.Needs())
		}
		out = out.Or(q.Given())
	}
	return out
}
