package cooling

import (
	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

const (
	scald  = "Hot coolant under a cap scalds: it flashes to steam when the cap comes off. Let it cool first. Engine makers' limits and a licensed shop have the last word."
	fumes  = "Exhaust gas kills without a smell. An exhaust under pressure leaks at every joint: test it with the cab shut and a carbon monoxide alarm inside; local codes and a licensed shop have the last word."
	hotOil = "Overheated transmission fluid foams, burns when it meets an exhaust, and takes the drive away in traffic. The transmission maker's limits and a licensed shop have the last word."
	charge = "Charge air is hot enough to burn skin and soften the wrong hose, and a hose that lets go takes the power away in traffic. The engine maker's limits have the last word."
)

// Pack checks what carries heat away and what the engine breathes.
var Pack = &lint.Pack{
	Name:  "cooling",
	Title: "Cooling and air: the radiator, boiling, coolers, loops, intake and exhaust",
	Rules: []*lint.Rule{heat, pressureCap, airToBoil, transmissionCooler, stall, chargeAir, loops, intake, exhaust},
}

var heat = &lint.Rule{
	Name:    "cooling/heat",
	Title:   "the radiator gives up the heat of rated power at the design ambient, with the top tank at its limit",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{data.Source("rajput-balance"), vehicle.HeatingSource, data.Source("incropera"), data.Source("coolant-properties"), data.Source("trade")},
	Note: "A radiator's rating is for one difference between inlet and air: heat goes with that difference, so 165 kW at 100 °F is 99 kW at 60 °F. " +
		"Coolers stacked ahead of it warm its air; where air-rise is not measured that is taken as 0 to 15 K. A cooler in the radiator's tank adds its heat to the coolant. " +
		"The share of the fuel's heat that goes to coolant ran from 16 to 31 % in four published engine tests: state the maker's figure, or the share you take. A figure outside 16 to 35 % of what the engine can burn at rated power (25 to 45 % of the heat turned to work) waits for a document, and so does a rating for less than 50 °F; all these are common practice. The design ambient is no cooler than the air in which the vehicle was tried; 85 °F or more is common practice, and a should. " +
		"Two radiators are added up as if each had the full inlet temperature and fresh air: enter a pair in series, or one behind the other, as one. Left out: fan and coolant flow that differ from the rating's, fouling.",
	Caution: scald,
	Check:   checkHeat,
}

var pressureCap = &lint.Rule{
	Name:    "cooling/cap",
	Title:   "under its cap the coolant boils above the hottest top tank allowed, better 10 K above, and the cap is what the engine asks for",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{data.Source("coolant-practice"), data.Source("truck-diesel-sheet"), data.Source("if97"), data.Source("raoult"), data.Source("glycol-boiling"), data.Source("standard-atmosphere")},
	Backs:   []string{"coolant-practice", "truck-diesel-sheet"},
	Note: "An engine that is stopped hot heats the coolant on, and at the pump's inlet the pressure is below the cap's: the 10 K (18 °F) is common practice and so a should, that boiling coolant cools nothing is physics. With the engine's own figure (cap-asked) a weaker cap fails; without it 10 psi, the least of one truck diesel's data sheet, is a should. " +
		"A cap over 20 psi and a top tank over 230 °F wait for a document, such as a photo of the cap or the engine maker's sheet: what bursts scalds, and nobody sets his own limit. The radiator's own rating is its maker's to say.",
	Caution: scald,
	Check:   checkCap,
}

var airToBoil = &lint.Rule{
	Name:    "cooling/air-to-boil",
	Title:   "by a top-tank test at 60 % of rated power or more, scaled to all of it, the coolant neither boils nor passes the top tank's limit at the design ambient",
	Due:     ledger.AtDelivery,
	Sources: []quantity.Citation{data.Source("coolant-practice"), data.Source("cooling-test"), data.Source("if97"), data.Source("raoult"), data.Source("glycol-boiling"), data.Source("standard-atmosphere"), vehicle.RollingSource},
	Note: "\"Three degrees a psi\" is wrong where it is used: it holds near no pressure (3.3 °F for water) and averages 2.5 at 15 psi, for boiling follows the saturation line. A 15 psi cap gives water about 250 °F, not 257; 50/50 about 264. " +
		"Sea level, 101.325 ± 3 kPa for weather, is assumed where air-pressure is not given: at 5,000 ft state about 12.2 psia, and water boils 9 °F lower with no cap (5 °F under 15 psi). " +
		"Write ambient, speed, gear and weight: a long pull with the throttle open, thermostat open, fan engaged, until the reading stands still; a top tank below 150 °F (common practice) shows a shut thermostat. Engine speed, as read or by speed and gear, over rated speed is the least share of rated power that it gave; at 60 % or more (common practice) the rise is scaled up by it. " +
		"A test from before engine, fan, radiator or a cooler changed does not count, and of several the latest does. Left out: that air and water flow by another speed, a cap that does not hold, pockets that boil before the top tank does.",
	Caution: scald,
	Check:   checkAirToBoil,
}

var transmissionCooler = &lint.Rule{
	Name:    "cooling/transmission-cooler",
	Title:   "an automatic has a cooler, which gives up its heat with the fluid at its limit: 5 % of rated power at the least, better 10 % where it tows",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{data.Source("trade"), data.Source("incropera"), data.Source("atf")},
	Backs:   []string{"trade", "atf"},
	Note: "5 % of rated power, or the heat that the ledger states where that is more, is a must; 10 % where there is a trailer, a hitch or a brake controller a should; both common practice. At stall it is all of the power: see cooling/stall. " +
		"Coolers in series share the heat: write each one's inlet-limit, the second's lower by what the first takes out. A limit above 300 °F waits for a document. " +
		"A cooler in the radiator's tank is judged against the top tank's limit, the hottest that its coolant gets; one in the air stack against air warmed by 0 to 15 K unless its air-rise is measured. One behind a valve that can shut raises a usual question. Left out: flow and pressure drop in the lines.",
	Caution: hotOil,
	Check:   checkTransmissionCooler,
}

var stall = &lint.Rule{
	Name:    "cooling/stall",
	Title:   "the driver of an automatic has a gauge for its fluid, and is told how long it may pull at stall",
	Should:  true,
	Due:     ledger.AtDelivery,
	Sources: []quantity.Citation{data.Source("trade")},
	Note:    "At stall all that the engine gives becomes heat in the converter, more than any cooler takes: seconds, and then neutral. An [instruction.x] that is about the transmission, with the gauge that shows it, settles it.",
	Caution: hotOil,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		box := b.Transmission()
		told := unwritten("an instruction.x about "+box.Path()+" or its part, with its gauge: how long at stall, and at what reading to stop", box)
		for _, i := range b.Instructions() {
			gauge := i.Gauge.Names("part").And(vehicle.Aboard(b.Part(i.Gauge)))
			for _, r := range i.About {
				about := r.Same(box.Part.Word).OrElse(false).Or(quantity.Is(r.String() == box.Path()))
				told = told.Or(about.And(i.Do.Given()).And(gauge).OrElse(false))
			}
		}
		s.On(box, "").When(box.Kind.Is("automatic"), "a manual transmission").Holds(told, "")
	},
}

var chargeAir = &lint.Rule{
	Name:    "cooling/charge-air",
	Title:   "the charge-air cooler brings the charge below its limit at the design ambient",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{data.Source("rajput-compressor"), data.Source("incropera"), data.Source("army-manuals"), data.Source("standard-atmosphere"), data.Source("air-practice")},
	Note: "Boost is a gauge pressure: 20 psi is a pressure ratio of 2.4, not 1.4, and temperatures are absolute in the formula. Restriction ahead of the compressor raises the ratio. " +
		"Where it is not stated, compressor efficiency is taken as 60 to 78 %. The compressor is taken to draw air at the design ambient: air from under the hood is hotter. Write boost = \"0 psi\" for an engine without a blower; with a turbocharger fitted that fails. An outlet limit above 220 °F waits for a document (common practice).",
	Caution: charge,
	Check:   checkChargeAir,
}

var loops = &lint.Rule{
	Name:    "cooling/loops",
	Title:   "every fluid loop closes and passes a pump, a heat source and an exchanger, its hoses fit, and every cooler is in one",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{data.Source("loop-practice")},
	Note: "Each hose of a loop names the things before and after it, either way round. What a part does goes by its role: an engine and a transmission carry their own pump. Two parts named one after the other are taken as bolted together, but for an engine and a radiator or heater core: the one rocks and the other does not. A hose carries what its loop carries. What takes coolant's heat from an engine that did not come with the vehicle is in a loop too: its hoses were led anew. " +
		"Bores may differ by 10 %; those stated as a trade size are compared as such. Left out: which branch the water takes where loops share a part, and air that cannot get out at the top.",
	Caution: scald,
	Check:   checkLoops,
}

var intake = &lint.Rule{
	Name:    "cooling/intake",
	Title:   "filter and duct pass the air that the engine draws at rated power, within its restriction limit",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{data.Source("four-stroke"), data.Source("volumetric-efficiency"), data.Source("rajput-compressor"), data.Source("army-manuals"), data.Source("air-practice")},
	Note: "V n / 3456 in in3 and rpm is what passes the valves; a filter sees free air, which for a boosted engine is more by the ratio of densities. Write boost = \"0 psi\" for an engine without a blower. " +
		"Restriction is read at rated power, so it is due at delivery. Without the engine maker's limit a benchmark from a heavy engine's manual stands in, as a should. The duct's velocity is a should. The limit is the engine maker's, as the ledger says, or the manual's; above 30 inH2O it waits for a document.",
	Caution: "A turning compressor takes a hand or a rag in through an open duct: never run the engine with the duct off. The engine maker's limits have the last word.",
	Backs:   []string{"army-manuals", "air-practice"},
	Check:   checkIntake,
}

var exhaust = &lint.Rule{
	Name:    "cooling/exhaust",
	Title:   "back pressure at rated power is within what the engine allows",
	Due:     ledger.AtDelivery,
	Sources: []quantity.Citation{data.Source("army-manuals")},
	Note:    "Read at the turbine outlet, or the manifold, at rated power. Without the engine maker's limit a benchmark stands in, 27 inH2O, the tighter of two heavy engines' manuals, as a should; the trade's 3 inHg (40.8 inH2O) is the limit of other engines, by a data sheet and a third manual. A limit above 60 inH2O waits for a document (common practice). The bore is not judged: what matters is read.",
	Caution: fumes,
	Check:   checkExhaust,
}
