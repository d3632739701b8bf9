package cooling

import (
	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

// boilingPoint is that of the build's coolant under its cap.
func boilingPoint(b *ledger.Build) quantity.Quantity {
	return ledger.Memo(b, key("boiling"), func() quantity.Quantity {
		c := b.Cooling()
		ideal := Boiling(saturation, air(b), c.Cap, WaterFraction(c.Mix, moleRatio))
		return BelowIdeal(ideal, belowIdeal, c.Mix, half)
	})
}

func checkAirToBoil(b *ledger.Build, s *lint.Sheet) {
	c, tested := b.Cooling(), false
	for _, t := range b.Tests() {
		kind := t.Kind.Is("top-tank")
		if kind.Fails() {
			continue
		}
		tested = true
		top, ambient := t.Readings.TopTank, t.Readings.Ambient
		s.On(t, "boiling").When(kind, "").
			AtLeast(AmbientAt(boilingPoint(b), top, ambient).As("air-to-boil temperature", "T_boil - rise"), c.Ambient)
		s.On(t, "top tank").When(kind, "").
			AtLeast(AmbientAt(c.TopTankLimit, top, ambient).As("limiting ambient", "T_limit - rise"), c.Ambient)
	}
	if !tested {
		s.On(c, "").AtLeast(quantity.Waits(quantity.Temperature, "a test.x of kind top-tank", c.Place()), c.Ambient)
	}
}
