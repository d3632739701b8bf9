package wiring

import (
	"slices"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/circuits"
	"fishplate/rules/refdata/conductor"
)

const (
	fire      = "Wire that is too thin, too hot or protected by too large a fuse starts fires. Disconnect the battery before you touch it; local codes and a licensed electrician have the last word."
	benchmark = "The figure is from a boat rule: for a road vehicle it is a benchmark and no law."
)

// Pack checks the wiring.
var Pack = &lint.Pack{
	Name:  "wiring",
	Title: "Wiring: voltage drop, what wires and fuses carry, relays and switches, charging and cranking",
	Rules: []*lint.Rule{
		voltageDrop, ampacity, bundle, fuseProtectsWire, fuseCarriesLoad, fuseStandard, fuseNearSource,
		relayRating, switchRating, insulation, shortCircuit, charging, grounds, cranking, crankingDuty,
		crankingCable, crankingDropRule, signalDuty, groundDuty, reaches, supplied,
	},
}

var voltageDrop = &lint.Rule{
	Name:    "wiring/voltage-drop",
	Title:   "no more than 3 % of the voltage is lost on the way to and from a critical load, better no more than 10 % to any other",
	Due:     ledger.AtFirstStart,
	Sources: slices.Concat(cited("abyc"), circuits.Sources("copper"), conductor.Sources, circuits.Sources("stranding", "sae-area", "iec-60228")),
	Backs:   []string{"abyc"},
	Note:    benchmark + " A circuit's own drop-limit counts where it is stricter. The figures are second-hand: the 10 % is a should, the 3 % a must all the same, for people die of a fuel stop or an anti-lock unit that does not work. What leads to an injection pump, a fuel stop or an anti-lock unit is critical, said or not. Copper is as warm as its zone; terminals, switches, relays and fuses lose more.",
	Caution: "A dim lamp, a slow wiper or a fuel stop that does not hold can hurt someone. Local codes and a licensed electrician have the last word.",
	Check:   checkDrop,
}

var ampacity = &lint.Rule{
	Name:    "wiring/ampacity",
	Title:   "no wire carries more than its size and insulation allow where it runs",
	Due:     ledger.AtFirstStart,
	Sources: slices.Concat(circuits.OfAmperage, circuits.Sources("adiabatic")),
	Backs:   []string{"table-5", "faa-11-9"},
	Note:    benchmark + " Sizes under 18 AWG are not in it and take an aircraft table that is given at 70 °C for bundles, so that 20 AWG is allowed far less than a size's step below 18 AWG. The starter's cable is exempt; a ground that states no load is not judged. A momentary load is judged by the root mean square of its cycle (on-time, 30 s where that is not said, and off-time, as long where that is not said), and by the adiabatic formula while it is on: past 5 s that takes no heat to be given off, and so is cautious.",
	Caution: fire,
	Check:   checkAmpacity,
}

var bundle = &lint.Rule{
	Name:    "wiring/bundle",
	Title:   "no wire in a bundle carries more than the bundle allows",
	Should:  true,
	Due:     ledger.AtFirstStart,
	Sources: circuits.Sources("bundling", "table-5", "nec-ambient", "faa-11-9"),
	Note:    "Below 50 V the bundle factors are a benchmark and no law, on a boat too. They take all wires of the bundle as loaded at once.",
	Caution: fire,
	Check:   checkBundle,
}

var fuseProtectsWire = &lint.Rule{
	Name:    "wiring/fuse-protects-wire",
	Title:   "the fuse that protects a wire opens before the wire carries more than it may",
	Due:     ledger.AtFirstStart,
	Sources: slices.Concat(circuits.OfProtection, circuits.Sources("table-5", "nec-ambient"), cited("cfr-455")),
	Backs:   []string{"faa-protector"},
	Note:    "Aircraft practice, a benchmark here. 33 CFR 183.455 would let a boat's fuse reach 150 % of the wire's amperage. A wire without a fuse of its own takes the nearest one upstream; the starter's cable needs none, and a signal needs one where it is taken straight off the battery or the starter's stud. 20 and 22 AWG may have the fuse of 5 A that the aircraft chart gives them, where it is no hotter than 135 °F: that basis is from memory.",
	Caution: fire,
	Check:   checkProtects,
}

var fuseCarriesLoad = &lint.Rule{
	Name:    "wiring/fuse-carries-load",
	Title:   "a continuous load is no more than 80 % of its fuse, any other no more than all of it",
	Due:     ledger.AtFirstStart,
	Sources: cited("continuous", "fuse-75", "fuse-slope"),
	Backs:   []string{"continuous"},
	Note:    "A building rule, a benchmark here. Where the fuse sits, a continuous load is better no more than 75 % at 25 °C, less 0.2 to 0.5 % a kelvin above: a bracket, for no maker's curve was seen, and so a should. The place is the circuit's fuse-zone, or its zone. What a feeder's fuse carries is all that it feeds, at once. An electric fuel pump and a controller of engine or transmission are on as long as the engine is: their circuits are continuous, said or not.",
	Caution: "A fuse that runs hot opens on the road: what it feeds goes dead. Never answer that with a larger fuse than the wire allows. Local codes and a licensed electrician have the last word.",
	Check:   checkCarries,
}

var fuseStandard = &lint.Rule{
	Name:    "wiring/fuse-standard",
	Title:   "a fuse has a rating that blade or bolt-in fuses are made in",
	Should:  true,
	Due:     ledger.AtFirstStart,
	Sources: cited("blade", "bolt-in"),
	Backs:   []string{"blade", "bolt-in"},
	Note:    "So that the next owner finds one on the road. Breakers are not judged.",
	Caution: "Never bridge a fuse, and never put a larger one in to get home: what burns then is the wire. Local codes and a licensed electrician have the last word.",
	Check:   checkStandard,
}

var fuseNearSource = &lint.Rule{
	Name:    "wiring/fuse-near-source",
	Title:   "no more than 7 in of wire lies between the source and the fuse, 40 in where it is sheathed, 72 in of sheathed main cable from the battery",
	Due:     ledger.AtFirstStart,
	Sources: cited("cfr-455", "main-conductor", "practice"),
	Backs:   []string{"cfr-455", "main-conductor", "practice"},
	Note:    benchmark + " A cable fed straight from the battery, or from the starter's stud, may be longer: 72 in in a sheath, which is second-hand and a must because an unfused main cable burns vehicles; bare, 40 in by common practice, and 7 in as advice. A wire without a fuse of its own is not judged here. A cable with a source at either end, such as from the alternator to the battery, has one fuse-from-source in the ledger: measure it from the battery, whose end this judges like a cable from the battery; an alternator limits itself, and its own end is exempt.",
	Caution: fire + " A charge cable is live from the battery even while the engine is off: between two sources, see to both ends.",
	Check:   checkNear,
}

var relayRating = &lint.Rule{
	Name:    "wiring/relay-rating",
	Title:   "a relay's contacts carry no more than their rating",
	Due:     ledger.AtFirstStart,
	Sources: cited("practice"),
	Note:    "All that one relay switches, at once. Lamps and motors draw more at the start than a resistive rating says.",
	Caution: fire,
	Check:   checkRelay,
}

var switchRating = &lint.Rule{
	Name:    "wiring/switch-rating",
	Title:   "a switch carries no more than its rating",
	Due:     ledger.AtFirstStart,
	Sources: cited("practice"),
	Note:    "Only where the ledger gives the rating of a switch in the circuit. Lamps and motors draw more at the start than a resistive rating says.",
	Caution: fire,
	Check:   checkSwitch,
}

var insulation = &lint.Rule{
	Name:    "wiring/insulation",
	Title:   "a wire's insulation is rated 10 K above the hottest place that it runs through",
	Due:     ledger.AtFirstStart,
	Sources: slices.Concat(cited("practice"), circuits.Sources("sae-insulation", "iso-6722"), cited("engine-space")),
	Note:    "A wire to a part that sits on the engine has to say its zone; one that states less than the 50 °C that 33 CFR 183.425 takes for an engine space waits for a document. The ratings of the SAE types are from memory. What a wire's own current adds is the ampacity rule's.",
	Caution: fire,
	Check:   checkInsulation,
}

var shortCircuit = &lint.Rule{
	Name:    "wiring/short-circuit",
	Title:   "a fuse clears a short circuit before the wire's insulation is ruined",
	Due:     ledger.AtFirstStart,
	Sources: slices.Concat(circuits.Sources("adiabatic"), conductor.Sources, circuits.Sources("sae-area", "sae-insulation")),
	Note:    "Only where a fault current and a clearing time are stated. The formula holds for up to 5 s; a fault begins with the wire at its insulation's rating.",
	Caution: fire,
	Check:   checkShort,
}

var charging = &lint.Rule{
	Name:    "wiring/charging",
	Title:   "the alternator has its cable, and carries all continuous loads at cruise and 80 % of them at idle",
	Due:     ledger.AtFirstStart,
	Sources: cited("practice", "j56"),
	Note:    "The rating on an alternator is by SAE J56, at 13.5 V and 23 °C: hot, and at idle, it gives less. Loads are summed where they end, each once; what a charge cable carries is none. It is known by the role of the part at its end: a circuit from a part with role = \"alternator\", or to one with role = \"battery\"; a cable between parts that say no role counts as a load. Its load is to be at least 90 % of what the alternator gives at cruise: who states the one lower than the other has one wrong. An alternator that did not come with the vehicle has a circuit that leads from it: a cable that is not written down has no size and no fuse. A test that read a voltage agrees with the system's within 35 %; a system of more than 18 V waits for such a test or a document: most parts of such a vehicle are of 12 V, and losses are judged by it (both common practice).",
	Caution: "A battery that is never full goes flat on the road, and lamps with it. Local codes and a licensed electrician have the last word.",
	Check:   checkCharging,
}

var cranking = &lint.Rule{
	Name:    "wiring/cranking",
	Title:   "the battery's cold cranking amps cover what the starter draws, 64 % of it at the least",
	Due:     ledger.AtFirstStart,
	Sources: cited("practice", "rolling-draw", "j537", "cold-draw", "warm-draw"),
	Backs:   []string{"practice", "rolling-draw", "warm-draw"},
	Note:    "That the battery covers all of it is common practice and a should, for makers recommend batteries of less: one diesel maker's starter draws 1.56 times the cold cranking amps that he asks for, at -30 °C (second-hand). Past that the voltage falls below the 7.2 V of the battery's own test and nothing turns: a must. Where the supply and a circuit of duty cranking state different currents of the starter, the larger counts; more than 25 % apart they want a word on which is warm and which cold, for a cold one draws about twice as much. Cold cranking amps are given for 30 s at -18 °C down to 7.2 V, of a new battery; marine cranking amps, at 0 °C, are a larger figure and are not those. A draw below twice 230 A for each 7.3 L of displacement (one maker's least of a warm diesel, the 7.3 L from memory; twice that cold), half of it at 24 V, waits for a document.",
	Caution: "A battery gives off gas that explodes, and welds what falls across its posts: cover them while you work. Local codes and a licensed electrician have the last word.",
	Check:   checkCranking,
}

var crankingDuty = &lint.Rule{
	Name:    "wiring/cranking-duty",
	Title:   "a circuit of duty cranking leads to a starter, and to nothing else",
	Due:     ledger.AtFirstStart,
	Sources: cited("cfr-455", "practice"),
	Note:    "The word cranking exempts a circuit from fuse and amperage, as boat rules exempt the cable of a cranking motor and no other. The starter is known by the role of the part in the circuit's to; a cable to a switch names the circuit that goes on from there, of duty cranking too.",
	Caution: fire,
	Check:   checkCrankingDuty,
}

func cited(keys ...string) []quantity.Citation {
	var out []quantity.Citation
	for _, k := range keys {
		out = append(out, data.Source(k))
	}
	return out
}
