// Package wiring checks the wiring: what is lost on the way to a load, what
// wires, fuses, relays and switches carry, what insulation bears, and whether
// alternator and battery keep up.
//
// The network. A circuit is fed by what its `from` names; where that is left
// out, by the circuit whose `to` names it, or by what leads to the relay that
// switches it. It feeds the circuits whose `from` names it or that its `to`
// names, each once, relays in between. Parts do not link circuits: what hangs on
// a fuse block says `from = "circuit.main-feed"`, not the block. A circuit that
// feeds others and states no load has none of its own; one that feeds none must
// state it. What a ground returns is no load. A signal without a stated load
// takes 0 to 0.5 A, assumed. A circle of from and to leaves its currents
// missing, and says so. Where two circuits lead to one relay, each carries all
// of it, and the worse drop and the larger fuse count.
//
// Voltage drop. I R of every run from the source, one way, with all that each
// run feeds switched on at once, and of the end's own load on its way back: a
// feeder's return carries only what it states as its own, since the returns of
// what it feeds are counted there. A starter's current counts for cranking
// circuits only: the lamp that hangs on its cable may dim while it turns.
//
// Copper. AWG by ASTM B258 with 2 % for the lay of the strands; SAE cable types
// by SAE's smaller areas, with no such addition, as ABYC's table takes them;
// SAE sizes that the table lacks (20 and 22 AWG, say) take 88 to 100 % of the
// AWG area, assumed. mm2 sizes by IEC 60228 class 5, those it lacks by the
// spread of resistance times area, assumed, whatever the insulation. Terminals,
// splices, contacts and fuses are left out, and so is the wire's own warmth.
//
// Amperage. 33 CFR 183.425 Table 5 at its 30 °C, times the square-root factor
// for the zone. "Allowable amperage" in fuse-protects-wire has that factor too. A
// size between two takes the smaller. Sizes under 18 AWG take the FAA's
// figures, which are given at 70 °C and for bundles: they are corrected from
// 70 °C, and no bundle factor comes on top. They begin at 105 °C; for cooler
// insulation there is none and the check is missing.
//
// The starter. Circuits of duty cranking that have the same from and to lie side
// by side: each states the whole current, their copper and amperages add up and
// so do one over their resistances. The larger of the supply's and the circuits'
// currents is what the cable, its drop and the battery are judged by. Cranking
// again and again is judged at the table's 30 °C, not in the zone: what is
// cranked for long is cold, and a zone's temperature is its hottest. The ground
// is that from battery to engine, or where the ledger has none the circuit's own
// return.
//
// Momentary loads. The ampacity rule takes the root mean square of a cycle:
// on-time, 30 s where that is not said, and off-time, as long as on-time where
// that is not said; and the adiabatic formula for the on-time. A fuse still
// protects the wire as if the load were steady.
//
// Fuses. A continuous load is also held, as a should, against what the fuse
// carries where it sits: its fuse-zone, or else the zone of the wire.
//
// Short circuit. A fault begins at the insulation's rating and may reach what
// IEC 60364-4-43 gives for thermoplastic or cross-linked insulation; where the
// ledger gives a temperature only, anything from the one to the other. Metric
// sizes have their nominal area.
//
// What the ledger may leave out: a zone (20 to 40 °C), a zone's temperature (40
// to 60 °C in an engine space), the resistance of a chassis return (0 to
// 10 mohm). Each is graded assumed. A bundle count, a switch rating, and fault
// current with clearing time are judged only where they are given.
package wiring
