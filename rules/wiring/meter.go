package wiring

import (
	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/circuits"
	"fishplate/rules/vehicle"
)

// metered are the latest tests of kind cranking, and what of them counts: a
// meter knows the terminals that a sum leaves out.
type metered struct {
	tests  []*ledger.Test
	counts []quantity.Truth // fresh, and all of it read
}

// meter judges the tests of kind cranking and gives those that count.
func meter(b *ledger.Build, s *lint.Sheet) metered {
	out := metered{tests: vehicle.Latest(b, "cranking")}
	for _, t := range out.tests {
		kind, r := t.Kind.Is("cranking"), t.Readings
		now, told := vehicle.Untouched(b, t.Date, vehicle.Cranking)
		// The sum stands in for a stale one, so that it is only advice to take it again.
		s.On(t, "as it is now").Recommended().When(kind, "").Work().Holds(now, "%s", told)
		whole := r.CrankingFeed.Given().And(r.CrankingGround.Given()).And(r.Current.Given())
		out.counts = append(out.counts, kind.And(now).And(whole).OrElse(false))
	}
	return out
}

// instead is what the meter read, or what is reckoned where no test counts.
func (m metered) instead(reckoned quantity.Quantity, read func(ledger.Readings) quantity.Quantity) quantity.Quantity {
	out := reckoned
	for i, t := range m.tests {
		out = quantity.Choose(m.counts[i], read(t.Readings), out)
	}
	return out
}

// plausible holds what the meter read against the copper between its tips,
// which loses that much at the least, whatever its terminals are like.
func (m metered) plausible(b *ledger.Build, s *lint.Sheet, is quantity.Truth, of *circuits.Run, feed, back quantity.Quantity) {
	for _, t := range m.tests {
		r, kind := t.Readings, t.Kind.Is("cranking")
		for _, side := range []struct {
			name       string
			read, ohms quantity.Quantity
		}{{"feed", r.CrankingFeed, feed}, {"ground", r.CrankingGround, back}} {
			copper := meteredLeast.Mul(circuits.Drop(quantity.Abs(r.Current), side.ohms)).As("what the copper alone loses, cold", "0.6 U")
			s.On(t, side.name+" of "+of.Path()).When(kind, "").When(is, noStarter).
				Work().Holds(vehicle.PlausibleAtLeast(b, side.read, copper), "")
		}
	}
}

func readFeed(r ledger.Readings) quantity.Quantity   { return r.CrankingFeed }
func readGround(r ledger.Readings) quantity.Quantity { return r.CrankingGround }

// readBoth is what both sides lose at another current than that of the test.
func readBoth(load quantity.Quantity) func(ledger.Readings) quantity.Quantity {
	return func(r ledger.Readings) quantity.Quantity {
		lost := r.CrankingFeed.Add(r.CrankingGround).Div(quantity.Abs(r.Current)).As("resistance by the meter", "(U_f + U_g) / |I|")
		return circuits.Drop(load, lost)
	}
}
