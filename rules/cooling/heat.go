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
	c, phantom := b.Cooling(), quantity.Is(b.IsPhantom())
	s.On(c, "").AtMost(heatIn(b), heatOut(b))
	least, most := data.Value("least-heat-share"), data.Value("greatest-heat-share")
	burnt := FuelPower(c.FuelFlow, vehicle.HeatingValue(b))
	fuel := quantity.Choose(c.FuelFlow.Given(), quantity.Max(burnt, vehicle.LeastFuelHeat(b)), vehicle.LeastFuelHeat(b))
	const reckoned = "it is reckoned from the fuel"
	s.On(c, "rejected heat").When(c.Rejected.Given().Or(phantom), reckoned).Work().
		Holds(vehicle.Plausible(b, c.Rejected, least.Mul(fuel), most.Mul(vehicle.MostFuelHeat(b))), "")
	byFuel := c.Rejected.Given().Not().And(c.HeatShare.Given()).Or(phantom)
	s.On(c, "share of the fuel's heat").When(byFuel, "the heat is stated, or nothing is yet").Work().Holds(vehicle.Plausible(b, c.HeatShare, least, most), "")
	s.On(c, "fuel flow").When(byFuel, "the heat is stated, or nothing is yet").AtLeast(burnt, vehicle.LeastFuelHeat(b))
	for _, r := range coolers(b, "coolant") {
		s.On(r, "what gives it up").When(r.Cools.Is("coolant"), "it cools something else").When(r.Part.Given().Or(phantom), "it names no part yet").
			Holds(b.Part(r.Part).Role.Is("radiator"), "%s is no radiator, by its role", r.Part)
		s.On(r, "rating difference").When(r.Cools.Is("coolant"), "it cools something else").When(r.RatingDifference.Given().Or(phantom), "no rating in the ledger").Work().
			Holds(vehicle.PlausibleAtLeast(b, r.RatingDifference, data.Value("rating-difference-least")), "")
	}
	s.On(c, "design ambient").Recommended().When(c.Ambient.Given().Or(phantom), "not in the ledger yet").AtLeast(c.Ambient, data.Value("least-design-ambient"))
	for _, t := range vehicle.Latest(b, "top-tank") {
		s.On(t, "design ambient").When(t.Kind.Is("top-tank"), "").When(t.Readings.Ambient.Given().Or(phantom), "the air was not read").
			Says("it was driven in warmer air than it is designed for").AtLeast(c.Ambient, t.Readings.Ambient)
	}
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
	others := airCooledBut(b, r)
	none := quantity.SI(0, quantity.TemperatureDiff)
	return quantity.FirstOf(r.AirRise, quantity.Choose(others, airRise, none))
}

type othersKey struct{}

// airCooledBut tells whether air cools any cooler but one.
func airCooledBut(b *ledger.Build, r *ledger.Radiator) quantity.Truth {
	return ledger.Memo(b, othersKey{}, func() map[string]quantity.Truth {
		all, out := b.Radiators(), map[string]quantity.Truth{}
		is := make([]quantity.Truth, len(all))
		before := quantity.Is(false)
		for i, o := range all {
			is[i] = o.CooledBy.Is("air").And(aboard(b, o))
			out[o.Path()] = before
			before = before.Or(is[i])
		}
		after := quantity.Is(false)
		for i := len(all) - 1; i >= 0; i-- {
			out[all[i].Path()] = out[all[i].Path()].Or(after)
			after = after.Or(is[i])
		}
		return out
	})[r.Path()]
}

// coolerHeat is what a transmission or oil cooler that sits in the coolant gives
// to it: of an automatic no less than the least that is lost in one.
func coolerHeat(b *ledger.Build, r *ledger.Radiator) quantity.Quantity {
	power := b.Engine().RatedPower
	lost := power.Mul(lossShare).As("heat of the transmission", "share lost × rated power")
	stated := quantity.Choose(power.Given(), quantity.Max(r.Heat, leastLost(b)), r.Heat)
	return quantity.Choose(r.Cools.Is("transmission"), quantity.FirstOf(stated, lost), r.Heat)
}

// leastLost is the least that an automatic turns into heat on a hard pull.
func leastLost(b *ledger.Build) quantity.Quantity {
	return b.Engine().RatedPower.Mul(data.Value("automatic-loss-least")).As("heat of the transmission, at the least", "0.05 × rated power")
}

func checkTransmissionCooler(b *ledger.Build, s *lint.Sheet) {
	box, auto := b.Transmission(), b.Transmission().Kind.Is("automatic")
	all := coolers(b, "transmission")
	if len(all) == 0 {
		s.On(box, "cooler").When(auto, "a manual transmission").Holds(unwritten("a radiator.x that cools transmission", box), "")
		return
	}
	given, stated := share(b, all)
	const manual, other = "a manual transmission", "it cools something else"
	any := quantity.Is(false)
	for _, r := range all {
		is := r.Cools.Is("transmission").And(aboard(b, r))
		any = any.Or(is)
		s.On(r, "inlet limit").When(is, other).When(r.InletLimit.Given().Or(quantity.Is(b.IsPhantom())), "not in the ledger yet").Work().
			Holds(vehicle.PlausibleAtMost(b, r.InletLimit, data.Value("fluid-at-most")), "")
	}
	lost := quantity.Choose(auto, quantity.Choose(stated.Given(), quantity.Max(stated, leastLost(b)), leastLost(b)), stated)
	s.On(box, "cooler").When(any, other).AtMost(lost.As("heat of the transmission", "as stated, 5 % of rated power at the least"), given)
	towing := vehicle.Tows(b).Or(quantity.Is(b.IsPhantom()))
	pulled := b.Engine().RatedPower.Mul(data.Value("automatic-loss-towing")).As("heat of the transmission while it tows", "0.1 × rated power")
	s.On(box, "cooler, towing").Recommended().When(auto, manual).When(any, other).When(towing, "nothing in the ledger says that it tows").AtMost(pulled, given)
}

// share is what the coolers of a transmission give up together, each from its own
// hottest inlet, and what they are said to have to.
func share(b *ledger.Build, all []*ledger.Radiator) (given, stated quantity.Quantity) {
	none := quantity.SI(0, quantity.Power)
	var gives, says []quantity.Quantity
	for _, r := range all {
		is := r.Cools.Is("transmission").And(aboard(b, r))
		rise := quantity.Choose(r.CooledBy.Is("coolant"), quantity.SI(0, quantity.TemperatureDiff), warmed(b, r))
		gives = append(gives, quantity.Choose(is, GivenUp(rated(r), r.InletLimit, sink(b, r), rise), none))
		if r.Heat.Known() || len(all) == 1 || b.IsPhantom() {
			says = append(says, quantity.Choose(is, r.Heat, none))
		}
	}
	given = quantity.Sum(quantity.Power, gives...).As("heat that the coolers give up", "each from its own hottest inlet")
	if len(says) == 0 {
		return given, all[0].Heat
	}
	return given, quantity.Sum(quantity.Power, says...).As("heat that the ledger states", "the sum of the coolers'")
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
