package harness

import (
	"slices"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/circuits"
)

const live = "A cut or loose wire may be live: it shorts against the body and burns. Disconnect the battery before you open a plug; local codes and a licensed electrician have the last word."

// Pack checks plugs and splices, pin by pin.
var Pack = &lint.Pack{
	Name:  "harness",
	Title: "Harness: every pin of an opened plug accounted for, and every wire ending somewhere that says the same",
	Rules: []*lint.Rule{pinAccounted, bothEnds, cutEnds, oneWire, gaugeCarries, colors, circuitEnds, functions, polarity},
}

var pinAccounted = &lint.Rule{
	Name:    "harness/pin-accounted",
	Title:   "of a plug that was opened every pin is kept, moved, new, cut, capped or empty",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{quantity.Practice},
	Note:    "All ways of the plug, including those that never had a wire: a row each, or in one line, unused = [3, 5, 7] or, of a plug with a row for every wire, unused = \"all others\". A way that is said to be unused and has a wire by its row fails here; one that another pin or a splice ends in, in harness/both-ends. A plug counts as opened where it says so, or where a pin of it is moved, new, cut or capped.",
	Caution: live,
	Check:   checkAccounted,
}

var bothEnds = &lint.Rule{
	Name:    "harness/both-ends",
	Title:   "a wire ends at a pin, splice, relay or part that is there and says the same of it, and mated plugs agree pin by pin",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{quantity.Practice},
	Note:    "A wire that stayed as it was need not say where it ends. A wire of the vehicle's own that meets an empty or dead pin of the mate is a should: it leads nowhere, and may be meant to. Which terminal of a part or relay is not asked.",
	Caution: "Two wires swapped in a plug can put power where none belongs, or leave a lamp or a fuel stop dead. " + live,
	Check:   checkBothEnds,
}

var cutEnds = &lint.Rule{
	Name:    "harness/cut-ends",
	Title:   "a wire that was cut is capped or spliced at both ends, and one that was pulled out is accounted for",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{quantity.Practice},
	Note:    "The end at the pin by the pin's row; the other by other-end, or by the row of the pin that the wire went to. A wire that was pulled out may have been moved to a pin whose wire has its color.",
	Caution: live,
	Check:   checkCutEnds,
}

var oneWire = &lint.Rule{
	Name:    "harness/one-wire",
	Title:   "a pin is used once",
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{quantity.Practice},
	Note:    "Two wires in one terminal are crimped on the thicker one and pull out at the thinner, and a seal does not close on two: the trade joins them in a splice.",
	Caution: live,
	Check:   checkOneWire,
}

var gaugeCarries = &lint.Rule{
	Name:    "harness/gauge",
	Title:   "the fuse of a pin's circuit opens before the wire in the pin carries more than it may",
	Due:     ledger.AtFirstStart,
	Sources: slices.Concat(circuits.OfProtection, circuits.OfAmperage),
	Backs:   []string{"faa-protector"},
	Note:    "The figures are from a boat rule and from aircraft practice: benchmarks here, and no law. The wire in the pin has the circuit's insulation and zone, and its gauge where the row gives none; the fuse is the circuit's own, or the nearest one upstream. What the terminal itself carries is for its maker to say.",
	Caution: "A pigtail thinner than its circuit is the fuse, and it burns. Disconnect the battery before you touch the wiring; local codes and a licensed electrician have the last word.",
	Check:   checkGauge,
}

var colors = &lint.Rule{
	Name:    "harness/colors",
	Was:     "harness/colours",
	Title:   "two wires of one color in one plug are told apart",
	Should:  true,
	Due:     ledger.AtFirstStart,
	Sources: []quantity.Citation{quantity.Practice},
	Note:    "Of a plug that was opened. A stripe is part of the color; a mark, or another gauge, tells two apart.",
	Caution: "A wire taken for another of its color feeds what must be dead, or leaves a brake or a stop circuit dead. Test each with a lamp before you connect it, battery off while you work; local codes and a licensed electrician have the last word.",
	Check:   checkColors,
}
