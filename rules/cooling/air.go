package cooling

import (
	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

// compressed is the temperature after the compressor at rated power.
func compressed(b *ledger.Build) quantity.Quantity {
	return ledger.Memo(b, key("compressed"), func() quantity.Quantity {
		e := b.Engine()
		restriction := quantity.Default(b.Intake().Restriction, unmeasured)
		ratio := PressureRatio(air(b), e.Boost, restriction)
		return CompressorOutlet(b.Cooling().Ambient, ratio, gamma, quantity.Default(e.CompEff, compressor))
	})
}

// cooled is the charge after a charge-air cooler, which stands ahead of all
// others unless its air-rise says otherwise.
func cooled(b *ledger.Build, r *ledger.Radiator) quantity.Quantity {
	rise := quantity.FirstOf(r.AirRise, quantity.SI(0, quantity.TemperatureDiff))
	return CoolerOutlet(compressed(b), r.Effectiveness, sink(b, r).Add(rise))
}

func checkChargeAir(b *ledger.Build, s *lint.Sheet) {
	e := b.Engine()
	blown := e.Boost.Equals(0).Not()
	all := coolers(b, "charge-air")
	for _, r := range all {
		s.On(r, "").When(r.Cools.Is("charge-air"), "it cools something else").When(aboard(b, r), "it is not on the finished vehicle").When(blown, noBoost).
			AtMost(cooled(b, r), r.OutletLimit)
	}
	turbo := fitted(b, "turbocharger").Or(quantity.Is(b.IsPhantom()))
	s.On(e, "boost").When(turbo, "no turbocharger is fitted").When(e.Boost.Given().Or(quantity.Is(b.IsPhantom())), "boost is not in the ledger yet").
		Holds(blown, "a turbocharger is fitted, and boost is written as none")
	for _, r := range all {
		s.On(r, "effectiveness").When(r.Cools.Is("charge-air"), "it cools something else").When(blown, noBoost).When(r.Effectiveness.Given().Or(quantity.Is(b.IsPhantom())), "not in the ledger yet").Work().
			Holds(vehicle.PlausibleAtMost(b, r.Effectiveness, data.Value("effectiveness-at-most")), "")
		s.On(r, "limit").When(r.Cools.Is("charge-air"), "it cools something else").When(blown, noBoost).When(r.OutletLimit.Given().Or(quantity.Is(b.IsPhantom())), "not in the ledger yet").Work().
			Holds(vehicle.PlausibleAtMost(b, r.OutletLimit, data.Value("charge-at-most")), "")
	}
	if len(all) == 0 {
		s.On(e, "charge-air cooler").When(fitted(b, "charge-air-cooler"), "no charge-air cooler is fitted").When(blown, noBoost).
			Holds(unwritten("a radiator.x that cools charge-air", e), "")
	}
}

const noBoost = "the engine has no boost"

// fitted tells whether a part that is on the finished vehicle says this role.
func fitted(b *ledger.Build, role string) quantity.Truth {
	out := quantity.Is(false)
	for p := range b.Fitted() {
		out = out.Or(p.Role.Is(role).OrElse(false))
	}
	return out
}

// airFlow is what the engine breathes at rated power, as it is outside.
func airFlow(b *ledger.Build) quantity.Quantity {
	return ledger.Memo(b, key("air flow"), func() quantity.Quantity {
		e, outside := b.Engine(), b.Cooling().Ambient
		charge := compressed(b)
		for _, r := range coolers(b, "charge-air") {
			charge = cooled(b, r)
		}
		inside := quantity.Choose(e.Boost.Equals(0), outside, charge)
		drawn := FourStroke(e.Displacement, e.RatedPowerAt, quantity.Default(e.VolEff, volumetric))
		return FreeAir(drawn, e.Boost, air(b), inside, outside)
	})
}

func checkIntake(b *ledger.Build, s *lint.Sheet) {
	in := b.Intake()
	s.On(in, "filter").AtMost(airFlow(b), in.FilterFlow)
	s.On(in, "duct").Recommended().AtMost(MeanVelocity(airFlow(b), vehicle.TradeSize(in.Bore)), ductVelocity)
	within(s.On(in, "restriction"), in.Restriction, in.RestrictionLimit, "intake-restriction")
	usual(b, s, in, in.RestrictionLimit, "restriction-limit-at-most")
}

func checkExhaust(b *ledger.Build, s *lint.Sheet) {
	ex := b.Exhaust()
	within(s.On(ex, "back pressure"), ex.BackPressure, ex.BackPressureLimit, "back-pressure")
	usual(b, s, ex, ex.BackPressureLimit, "back-pressure-limit-at-most")
}

// usual checks that a limit which the ledger calls the engine maker's is one that
// engine makers print, or has a document.
func usual(b *ledger.Build, s *lint.Sheet, e ledger.Subject, limit quantity.Quantity, most string) {
	s.On(e, "the limit").When(limit.Given().Or(quantity.Is(b.IsPhantom())), "a benchmark stands in").Due(ledger.AtDelivery).Work().
		Holds(vehicle.PlausibleAtMost(b, limit, data.Value(most)), "")
}

// within judges a pressure read at rated power by the engine maker's limit.
// Where that is not in the ledger a benchmark stands in, and then it is a should.
func within(u *lint.Subject, read, limit quantity.Quantity, benchmark string) {
	if limit.Given().Fails() {
		u.Recommended().Says("the engine maker's limit is not in the ledger; a benchmark stands in: %s", data.Source("army-manuals"))
	}
	u.Due(ledger.AtDelivery).AtMost(read, quantity.FirstOf(limit, data.Value(benchmark)))
}
