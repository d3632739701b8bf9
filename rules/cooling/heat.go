package cooling

import (
	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

type key string

// air is the outside air's absolute pressure, at sea level where nobody says.
func air(b *ledger.Build) quantity.Quantity {
	return quantity.Default(b.Cooling().AirPressure, seaLevel)
}

// coolers are the coolers of a kind, and those that may be: not those that the
// finished vehicle does not carry.
func coolers(b *ledger.Build, kind string) []*ledger.Radiator {
	return ledger.Memo(b, key(kind), func() []*ledger.Radiator {
		var out []*ledger.Radiator
		for _, r := range b.Radiators() {
			if !r.Cools.Is(kind).And(aboard(b, r)).Fails() {
				out = append(out, r)
			}
		}
		return out
	})
}

func aboard(b *ledger.Build, r *ledger.Radiator) quantity.Truth {
	return vehicle.Aboard(b.Part(r.Part))
}

func checkHeat(b *ledger.Build, s *lint.Sheet) {
	s.On(b.Cooling(), "").AtMost(heatIn(b), heatOut(b))
}

// heatIn is what the radiator has to give up: the engine's, and that of coolers
// that sit in the coolant.
func heatIn(b *ledger.Build) quantity.Quantity {
	c := b.Cooling()
	engine := quantity.FirstOf(c.Rejected, HeatToCoolant(c.HeatShare, FuelPower(c.FuelFlow, vehicle.HeatingValue(b))))
	all := []quantity.Quantity{engine}
	for _, r := range b.Radiators() {
		in := r.CooledBy.Is("coolant").And(r.Cools.Is("coolant").Not()).And(aboard(b, r))
		if !in.Fails() {
			all = append(all, quantity.Choose(in, coolerHeat(b, r), quantity.SI(0, quantity.Power)).As("heat of "+r.Path(), "of a cooler that sits in the coolant"))
		}
	}
	return quantity.Sum(quantity.Power, all...).As("heat into the coolant", "the engine's, and of coolers that sit in the coolant")
}

// heatOut is what the radiators give up with the top tank at its limit and the
// air at the design ambient.
func heatOut(b *ledger.Build) quantity.Quantity {
	c := b.Cooling()
	var all []quantity.Quantity
	for _, r := range coolers(b, "coolant") {
		given := GivenUp(coreHeat(b, r), c.TopTankLimit, c.Ambient, warmed(b, r))
		counts := r.Cools.Is("coolant").And(aboard(b, r))
		all = append(all, quantity.Choose(counts, given, quantity.SI(0, quantity.Power)))
	}
	if len(all) == 0 {
		return quantity.Waits(quantity.Power, "a radiator.x that cools coolant", c.Place())
	}
	return quantity.Sum(quantity.Power, all...).As("heat that the radiator gives up", "at the design ambient, top tank at its limit")
}

// coreHeat is by the maker's rating, else by the core's conductance.
func coreHeat(b *ledger.Build, r *ledger.Radiator) quantity.Quantity {
	c := b.Cooling()
	hot := CapacityRate(r.Flow, coolantMass, coolantHeat).As("capacity rate of the coolant", "C = V rho c")
	cold := CapacityRate(r.AirFlow, AirDensity(air(b), gasConstant, c.Ambient), airHeat).As("capacity rate of the air", "C = V rho c")
	core := CoreHeatPerDegree(r.Conductance, hot, cold).As("heat a degree of "+r.Path(), "k = eps C_min")
	return quantity.FirstOf(rated(r), core)
}

func rated(r *ledger.Radiator) quantity.Quantity {
	return HeatPerDegree(r.Rating, r.RatingDifference).As("heat a degree of "+r.Path(), "k = Q_r / dT_r")
}

// warmed is how far the coolers ahead of a cooler warm its air: nothing where the
// ledger has no other that air cools.
func warmed(b *ledger.Build, r *ledger.Radiator) quantity.Quantity {
	others := quantity.Is(false)
	for _, o := range b.Radiators() {
		others = others.Or(quantity.Is(o.Path() != r.Path()).And(o.CooledBy.Is("air")).And(aboard(b, o)))
	}
	none := quantity.SI(0, quantity.TemperatureDiff)
	return quantity.FirstOf(r.AirRise, quantity.Choose(others, airRise, none))
}

// coolerHeat is what a transmission or oil cooler has to give up.
func coolerHeat(b *ledger.Build, r *ledger.Radiator) quantity.Quantity {
	lost := b.Engine().RatedPower.Mul(lossShare).As("heat of the transmission", "share lost × rated power")
	return quantity.FirstOf(r.Heat, quantity.Choose(r.Cools.Is("transmission"), lost, r.Heat))
}

func checkTransmissionCooler(b *ledger.Build, s *lint.Sheet) {
	box := b.Transmission()
	all := coolers(b, "transmission")
	for _, r := range all {
		rise := quantity.Choose(r.CooledBy.Is("coolant"), quantity.SI(0, quantity.TemperatureDiff), warmed(b, r))
		given := GivenUp(rated(r), r.InletLimit, sink(b, r), rise)
		s.On(r, "").When(r.Cools.Is("transmission"), "it cools something else").When(aboard(b, r), "it is not on the finished vehicle").
			AtMost(coolerHeat(b, r), given)
	}
	if len(all) == 0 {
		s.On(box, "cooler").When(box.Kind.Is("automatic"), "a manual transmission").
			Holds(unwritten("a radiator.x that cools transmission", box), "")
	}
}

// sink is what cools a cooler: the outside air, or the engine's coolant at its
// hottest.
func sink(b *ledger.Build, r *ledger.Radiator) quantity.Quantity {
	return quantity.Choose(r.CooledBy.Is("coolant"), b.Cooling().TopTankLimit, b.Cooling().Ambient)
}

// unwritten is a truth that waits for an entry that is not there.
func unwritten(what string, e ledger.Subject) quantity.Truth {
	return quantity.Unknown([]quantity.Need{{Key: what, Place: e.Place()}})
}
