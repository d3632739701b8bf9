package cooling

import (
	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

// boilingPoint is that of the build's coolant under its cap.
func boilingPoint(b *ledger.Build) quantity.Quantity {
	return ledger.Memo(b, key("boiling"), func() quantity.Quantity {
		c := b.Cooling()
		ideal := Boiling(saturation, air(b), c.Cap, WaterFraction(c.Mix, moleRatio))
		return BelowIdeal(ideal, belowIdeal, c.Mix, half)
	})
}

// heated is a top-tank test's rise over ambient as it would be at rated power,
// and the share of that at which it was done: with the throttle open an engine
// gives at least as much torque as at rated speed, and heat goes with power.
func heated(b *ledger.Build, t *ledger.Test) (rise, share quantity.Quantity) {
	r := t.Readings
	turned := quantity.FirstOf(r.EngineSpeed, vehicle.EngineSpeedIn(b, t, r.Speed))
	share = PowerShare(turned, b.Engine().RatedPowerAt).As("share of rated power", "min(n / n_r, 1)")
	return RiseAtFull(r.TopTank, r.Ambient, share).As("rise over ambient at rated power", "rise / s"), share
}

func checkAirToBoil(b *ledger.Build, s *lint.Sheet) {
	c, tests := b.Cooling(), vehicle.Latest(b, "top-tank")
	for _, t := range tests {
		kind, r := t.Kind.Is("top-tank"), t.Readings
		rise, share := heated(b, t)
		now, told := vehicle.Untouched(b, t.Date, vehicle.Heat)
		s.On(t, "as it is now").When(kind, "").Work().Holds(now, "%s", told)
		s.On(t, "how it was done").When(kind, "").Work().Holds(r.FullThrottle.And(written(r.Weight)).And(written(r.Speed)), "the throttle was not open")
		s.On(t, "warm").When(kind, "").AtLeast(r.TopTank, data.Value("warm-at-least"))
		s.On(t, "power").When(kind, "").AtLeast(share, data.Value("test-power"))
		s.On(t, "boiling").When(kind, "").AtLeast(boilingPoint(b).Sub(rise).As("air-to-boil temperature", "T_boil - rise"), c.Ambient)
		s.On(t, "top tank").When(kind, "").AtLeast(c.TopTankLimit.Sub(rise).As("limiting ambient", "T_limit - rise"), c.Ambient)
	}
	if len(tests) == 0 {
		s.On(c, "").AtLeast(quantity.Waits(quantity.Temperature, "a test.x of kind top-tank", c.Place()), c.Ambient)
	}
}

// written is that a value is in the ledger, and missing where not.
func written(v quantity.Quantity) quantity.Truth {
	if v.Known() {
		return quantity.Is(true)
	}
	return quantity.Unknown(v.Needs())
}

// checkCap checks that the coolant boils above the hottest that the top tank
// may get, under a cap that the engine asks for and the radiator stands.
func checkCap(b *ledger.Build, s *lint.Sheet) {
	c, phantom := b.Cooling(), quantity.Is(b.IsPhantom())
	s.On(c, "boils above the limit").AtLeast(boilingPoint(b), c.TopTankLimit)
	s.On(c, "boils well above the limit").Recommended().AtLeast(boilingPoint(b), c.TopTankLimit.Add(data.Value("boils-above")).As("hottest top tank, and a little", "T_limit + 10 K"))
	asked := c.CapAsked.Given()
	s.On(c, "as the engine asks").When(asked.Or(phantom), "the engine's figure is not in the ledger").AtLeast(vehicle.TradeSize(c.Cap), c.CapAsked)
	s.On(c, "10 psi").Recommended().When(asked.Not(), "the engine's own figure is there").AtLeast(vehicle.TradeSize(c.Cap), data.Value("cap-least"))
	s.On(c, "cap").When(c.Cap.Given().Or(phantom), "not in the ledger yet").Work().Holds(vehicle.PlausibleAtMost(b, c.Cap, data.Value("cap-at-most")), "")
	s.On(c, "air pressure").When(c.AirPressure.Given().Or(phantom), "sea level is taken").Work().Holds(vehicle.PlausibleAtMost(b, c.AirPressure, data.Value("air-pressure-at-most")), "")
	s.On(c, "hottest top tank").When(c.TopTankLimit.Given().Or(phantom), "not in the ledger yet").Work().
		Holds(vehicle.PlausibleAtMost(b, c.TopTankLimit, data.Value("top-tank-at-most")), "")
}
