package fuel

import (
	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

const fire = "Leaking fuel burns. Work with the tank empty, the battery off and air moving; local codes and a licensed shop have the last word."

// Pack checks the fuel system.
var Pack = &lint.Pack{
	Name:  "fuel",
	Title: "Fuel: what it touches, the hoses, the filler, what is left of the old system, and the supply to the pump",
	Rules: []*lint.Rule{material, wetted, tankPlace, hoseClass, filler, gasolineLeftOver, dieselNeeds, filter, lineLoss, returned, coldFuel},
}

var material = &lint.Rule{
	Name:    "fuel/material",
	Title:   "nothing that the fuel touches suffers from any fuel carried",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{data.Source("biodiesel-text"), data.Source("e85-text"), data.Source("elastomer-lab"), data.Source("matrix"), data.Source("blends")},
	Backs:   []string{"biodiesel-text", "e85-text", "elastomer-lab", "matrix"},
	Note: "Each cell of the matrix has its own source, which the reason names; a cell marked from memory is not confirmed. Bare metal and fuel-grade compounds, wetted all the time: a coating or the compound's maker can change the answer. " +
		knownWords(),
	Caution: fire,
	Check:   checkMaterial,
}

var hoseClass = &lint.Rule{
	Name:    "fuel/hose-class",
	Title:   "every fuel hose is made for its fuel, pressure and temperature",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{data.Source("j30-scope"), data.Source("j30-numbers")},
	Backs:   []string{"j30-scope", "j30-numbers"},
	Note:    "The maker's ratings come first, then the SAE J30 type. The type's pressures and temperatures are from memory, for bores up to 3/8 in, and make a should. A hose in the tank needs the maker's word. A line said to stay below 100 °F waits for a document, a hose says what clamps hold it, or how it is joined, and ties and tape are no clamps (all common practice). Of metal tube only what its maker rates is checked. Bores that differ by more than 10 % do not fit (common practice).",
	Caution: fire,
	Check:   checkHoseClass,
}

var filler = &lint.Rule{
	Name:    "fuel/filler",
	Title:   "a diesel's filler takes the wide nozzle, its label says diesel, and its hose is in the ledger",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{data.Source("j285")},
	Note:    "A neck for the light-duty diesel spout still refuses the larger spout of truck lanes, " + truckSpout + " and up. A wide neck takes a gasoline spout too: only the label stands against that. A filler that is a part of its own has a hose that carries fuel and names it.",
	Caution: "Gasoline in a diesel destroys the injection pump and makes the tank's vapor explosive. Cutting or welding a filler neck on a tank that held fuel kills: local codes and a licensed shop have the last word.",
	Check:   checkFiller,
}

var gasolineLeftOver = &lint.Rule{
	Name:    "fuel/gasoline-left-over",
	Title:   "a vehicle made for gasoline that burns diesel says what became of the in-tank pump and the evaporative canister, and keeps no gasoline pump",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{data.Source("wording")},
	Note:    "It asks for an answer and for a ledger that does not contradict it. A gasoline pump pushes some 40 to 60 psi (common practice) where an injection pump takes a few, and is not made for diesel: one that is kept needs its maker's word, a document that proves fuel.in-tank-pump. What the law asks of the evaporative system is for the street pack and for local rules.",
	Caution: fire,
	Check:   checkLeftOver,
}

var dieselNeeds = &lint.Rule{
	Name:    "fuel/diesel-needs",
	Title:   "a diesel has a return line, a water separator and a vent",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{data.Source("wording")},
	Note:    "An engine that needs no return line says so with return-line = \"not needed\"; that fails where a fitted part needs a fuel-return.",
	Caution: fire,
	Check:   checkDieselNeeds,
}

var filter = &lint.Rule{
	Name:    "fuel/filter",
	Title:   "the final fuel filter is no coarser than the engine asks",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{data.Source("wording")},
	Note:    "The limit is what the engine asks for, as the ledger says. Ratings are compared as printed: nominal and absolute ones are not the same thing. A diesel that is said to ask for none finer than 30 µm waits for a document (common practice).",
	Caution: "Grit that a filter lets through wears the pump until the engine stops, even in traffic. The engine maker's word comes first.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		f := b.Fuel()
		s.On(f, "").AtMost(f.FilterRating, f.FilterAsked)
		s.On(f, "what the engine asks").When(f.FilterAsked.Given().And(burnsDiesel(b).OrElse(false)).Or(quantity.Is(b.IsPhantom())), "not in the ledger, or no diesel").Work().
			Holds(vehicle.PlausibleAtMost(b, f.FilterAsked, data.Value("filter-at-most")), "")
	},
}

var lineLoss = &lint.Rule{
	Name:    "fuel/line-loss",
	Title:   "the pressure lost between tank and pump at the coldest is no more than the pump allows",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{data.Source("darcy"), data.Source("critical-zone"), data.Source("drawn-tube"), data.Source("afdc"), data.Source("b100-properties"), data.Source("inlet-limits"), data.Source("d975"), vehicle.HeatingSource},
	Backs:   []string{"darcy", "inlet-limits", "d975"},
	Note: "The limit is what the pump allows, as the ledger says; over 12 inHg, the most that an engine maker was seen to allow, it waits for a document. In the line is every hose and tube that carries fuel and leads, by its from and to, from a tank to the first pump, whatever role it says. " +
		"A gauge at the pump's inlet settles it in place of the sum: a [test.x] of kind fuel-supply, with its vacuum at full load and the coldest that can be had. Straight line only: take filter, separator, fittings and lift off what the pump allows. " +
		"Between Re 2000 and 4000 the flow may be laminar or turbulent and the loss is anything between the two. Density is that of the heaviest fuel carried at 60 °F. The flow is at least what the engine burns at rated power with 45 % of the heat turned to work (common practice: none on the road does better); diesel thinner than No. 1 may be at 40 °C waits for a document. " +
		"The roughness of drawn tube is from memory and moves the result by less than a hundredth in lines of this size.",
	Caution: "A pump that starves draws air and the engine stops, even in traffic. A gauge at the pump's inlet beats this sum, and the pump maker's limit comes first. Fuel burns: test with no flame near and the fire extinguisher at hand.",
	Check:   checkLineLoss,
}

var returned = &lint.Rule{
	Name:    "fuel/return-loss",
	Title:   "the return takes back what the pump sends within the pump's limit, or is no smaller and no longer than the donor's",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{data.Source("return-limits"), data.Source("darcy"), data.Source("critical-zone"), data.Source("wording")},
	Backs:   []string{"return-limits"},
	Note: "Limits run from 2 kPa to 67 kPa by engine, so there is no general one: write the engine's (return-allows; above the greatest that was seen it waits for a document), or bore and length of the return on the vehicle that the engine comes from. With neither this asks for one as a should. " +
		"The sum is line-loss's, over what leads from the pump back to the tank; fittings and a cooler in it are left out.",
	Caution: "A return that is too narrow raises the pressure in the injection pump's housing: it changes the timing, and blows out the shaft's seal, into the engine's oil or onto the exhaust. " + fire,
	Check:   checkReturn,
}

var coldFuel = &lint.Rule{
	Name:    "fuel/cold-fuel",
	Title:   "a diesel's driver is told which fuel the cold needs",
	Should:  true,
	Due:     ledger.AtDelivery,
	Sources: []quantity.Citation{data.Source("cloud-point")},
	Note:    "Wax comes out of diesel at its cloud point, and closes the filter: it is to be no higher than the coldest that the vehicle will see. An [instruction.x] that is about fuel says so.",
	Caution: "An engine that stops for wax stops in the cold and in traffic. Never warm a tank or a line with a flame.",
	Check:   checkColdFuel,
}
