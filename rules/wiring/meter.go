package wiring

import (
	"cmp"
	"math"
	"slices"

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

// instead is the worst that the meter read, or what is reckoned where no test
// counts.
func (m metered) instead(reckoned quantity.Quantity, read func(ledger.Readings) quantity.Quantity) quantity.Quantity {
	var all []quantity.Quantity
	for i, t := range m.tests {
		if m.counts[i].Holds() {
			all = append(all, read(t.Readings))
		}
	}
	if len(all) == 0 {
		return reckoned
	}
	return quantity.Max(all[0], all[1:]...)
}

// plausible holds what the meter read against the copper between its tips,
// which loses that much at the least, whatever its terminals are like. Of
// several starters' cables the best counts, of several tests the one that found
// the least.
func (m metered) plausible(b *ledger.Build, s *lint.Sheet, feeds, backs []quantity.Quantity) {
	if len(feeds) == 0 || len(m.tests) == 0 {
		return
	}
	for _, side := range []struct {
		name string
		read func(ledger.Readings) quantity.Quantity
		ohms []quantity.Quantity
	}{{"feed", readFeed, feeds}, {"ground", readGround, backs}} {
		t := slices.MinFunc(m.tests, func(a, b *ledger.Test) int {
			return cmp.Compare(found(side.read, a), found(side.read, b))
		})
		least := quantity.Min(side.ohms[0], side.ohms[1:]...)
		copper := meteredLeast.Mul(circuits.Drop(quantity.Abs(t.Readings.Current), least)).As("what the copper alone loses, cold", "0.6 U")
		s.On(t, side.name).When(t.Kind.Is("cranking"), "").Work().Holds(vehicle.PlausibleAtLeast(b, side.read(t.Readings), copper), "")
	}
}

// found is the resistance that a test found; below all others where a reading
// lacks.
func found(read func(ledger.Readings) quantity.Quantity, t *ledger.Test) float64 {
	v, i := read(t.Readings), t.Readings.Current
	if !v.Known() || !i.Known() {
		return -1
	}
	return v.Value() / math.Abs(i.Value())
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
