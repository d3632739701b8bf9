package fuel

import (
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

// drawn is what a reading at the pump's inlet rests on.
var drawn = vehicle.FuelSupply

func checkLineLoss(b *ledger.Build, s *lint.Sheet) {
	f := b.Fuel()
	gauged := quantity.Is(false)
	for _, t := range vehicle.Latest(b, "fuel-supply") {
		kind := t.Kind.Is("fuel-supply")
		now, told := vehicle.Untouched(b, t.Date, drawn)
		s.On(t, "as it is now").When(kind, "").Work().Holds(now, "%s", told)
		s.On(t, "at the pump's inlet").When(kind, "").AtMost(t.Readings.Vacuum, f.PumpAllows)
		gauged = gauged.Or(kind.And(now).And(t.Readings.Vacuum.Given()).OrElse(false))
	}
	s.On(f, "").When(gauged.Not(), "a gauge at the pump's inlet read it").AtMost(supplyLoss(b), f.PumpAllows)
	s.On(f, "what the pump allows").When(f.PumpAllows.Given().Or(quantity.Is(b.IsPhantom())), "not in the ledger yet").Work().
		Holds(vehicle.PlausibleAtMost(b, f.PumpAllows, data.Value("pump-allows-at-most")), "")
	burnt := Burnt(vehicle.LeastFuelHeat(b), vehicle.HeatingValue(b), heaviest(b)).As("fuel burnt at rated power, at the least", "P_fuel / (H rho)")
	s.On(f, "flow").When(b.Engine().RatedPower.Given().And(quantity.Is(len(supplyLines(b)) > 0)).Or(quantity.Is(b.IsPhantom())), "no rated power, or no line from tank to pump, in the ledger yet").
		AtLeast(leastFlow(b, supplyLines(b)), burnt)
	s.On(f, "viscosity").When(f.Viscosity.Given().And(burnsDiesel(b)).Or(quantity.Is(b.IsPhantom())), "not in the ledger, or no diesel").Work().
		Holds(vehicle.PlausibleAtLeast(b, f.Viscosity, data.Value("thinnest-diesel")), "")
}

// leastFlow is the least that is written of the supply lines' flows.
func leastFlow(b *ledger.Build, ways [][]*ledger.Hose) quantity.Quantity {
	var all []quantity.Quantity
	for _, way := range ways {
		for _, h := range way {
			all = append(all, h.Flow)
		}
	}
	if len(all) == 0 {
		return quantity.Waits(quantity.Flow, "hoses that lead from a tank to a pump", b.Fuel().Place())
	}
	return quantity.Min(all[0], all[1:]...).As("flow in the supply line", "the least of the flows written")
}

// checkReturn goes by the pump's limit, else by the return of the vehicle that
// the engine comes from, else it asks for one of them as a should.
func checkReturn(b *ledger.Build, s *lint.Sheet) {
	f := b.Fuel()
	phantom := quantity.Is(b.IsPhantom())
	const none, noLimit = "the engine needs no return", "the pump's limit is not in the ledger"
	needed := burnsDiesel(b).And(f.ReturnLine.Is("not needed", "none").Not().OrElse(true))
	limit := f.ReturnAllows.Given()
	s.On(f, "by the pump's limit").When(needed, none).When(limit.Or(phantom), noLimit).AtMost(returnLoss(b), f.ReturnAllows)
	s.On(f, "the pump's limit").When(needed, none).When(limit.Or(phantom), noLimit).Work().
		Holds(vehicle.PlausibleAtMost(b, f.ReturnAllows, data.Value("return-allows-at-most")), "")
	was := f.ReturnBoreWas.Given().Or(f.ReturnLengthWas.Given())
	var bore, length quantity.Quantity
	if ways := returnLines(b); len(ways) == 0 {
		bore = quantity.Waits(quantity.Length, noReturn, f.Place())
		length = bore
	} else {
		bore, length = throughout(ways)
	}
	const noDonor = "the pump's limit is there, or the donor's return is not written"
	s.On(f, "bore as on the donor").When(needed, none).When(limit.Not().And(was).Or(phantom), noDonor).AtLeast(bore, vehicle.TradeSize(f.ReturnBoreWas))
	s.On(f, "length as on the donor").When(needed, none).When(limit.Not().And(was).Or(phantom), noDonor).AtMost(length, f.ReturnLengthWas)
	s.On(f, "a limit to go by").Recommended().When(needed, none).When(limit.Or(was).Not(), "there is one").
		Holds(quantity.Unknown([]quantity.Need{{Key: "fuel.return-allows, or fuel.return-bore-was and fuel.return-length-was of the vehicle that the engine comes from", Place: f.Place()}}), "")
}

// throughout is the least bore and the greatest length of the return.
func throughout(ways [][]*ledger.Hose) (bore, length quantity.Quantity) {
	var bores []quantity.Quantity
	for _, way := range ways {
		for _, h := range way {
			bores = append(bores, vehicle.TradeSize(h.Bore))
		}
	}
	length = worst(ways, "length of the return", "sum of the lengths", func(way []*ledger.Hose) quantity.Quantity {
		var each []quantity.Quantity
		for _, h := range way {
			each = append(each, h.Length)
		}
		return quantity.Sum(quantity.Length, each...)
	})
	return quantity.Min(bores[0], bores[1:]...).As("least bore of the return", "the least of the bores"), length
}

// checkColdFuel asks whether the driver is told what fuel the cold needs.
func checkColdFuel(b *ledger.Build, s *lint.Sheet) {
	told := quantity.Unknown([]quantity.Need{{Key: "an instruction.x about fuel: which fuel to buy for the coldest that it will see", Place: b.Main()}})
	for _, i := range b.Instructions() {
		for _, r := range i.About {
			if about := r.String(); i.Do.Known() && (about == "fuel" || strings.HasPrefix(about, "fuel.")) {
				told = quantity.Is(true)
			}
		}
	}
	s.On(b.Fuel(), "").When(burnsDiesel(b), noDiesel).Holds(told, "")
}
