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

// metered are the latest tests of kind cranking, and of those that count the
// worst on each side: a meter knows the terminals that a sum leaves out.
type metered struct {
	tests              []*ledger.Test
	feed, ground, both *ledger.Test
}

// meter judges the tests of kind cranking and picks the worst of those that
// count: fresh, and all of it read.
func meter(b *ledger.Build, s *lint.Sheet) metered {
	out := metered{tests: vehicle.Latest(b, "cranking")}
	worse := func(than, t *ledger.Test, of func(ledger.Readings) quantity.Quantity) *ledger.Test {
		if than == nil || of(t.Readings).Value() > of(than.Readings).Value() {
			return t
		}
		return than
	}
	for _, t := range out.tests {
		kind, r := t.Kind.Is("cranking"), t.Readings
		now, told := vehicle.Untouched(b, t.Date, vehicle.Cranking)
		// The sum stands in for a stale one, so that it is only advice to take it again.
		s.On(t, "as it is now").Recommended().When(kind, "").Work().Holds(now, "%s", told)
		whole := r.CrankingFeed.Given().And(r.CrankingGround.Given()).And(r.Current.Given())
		if kind.And(now).And(whole).Holds() {
			out.feed, out.ground, out.both = worse(out.feed, t, readFeed), worse(out.ground, t, readGround), worse(out.both, t, resistance)
		}
	}
	return out
}

// instead is what the meter read, or what is reckoned where no test counts.
func instead(t *ledger.Test, reckoned quantity.Quantity, read func(ledger.Readings) quantity.Quantity) quantity.Quantity {
	if t == nil {
		return reckoned
	}
	return read(t.Readings)
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

// resistance is that of both sides, by the meter.
func resistance(r ledger.Readings) quantity.Quantity {
	return MeteredResistance(r.CrankingFeed, r.CrankingGround, r.Current)
}

// readBoth is what both sides lose at another current than that of the test.
func readBoth(load quantity.Quantity) func(ledger.Readings) quantity.Quantity {
	return func(r ledger.Readings) quantity.Quantity { return circuits.Drop(load, resistance(r)) }
}
