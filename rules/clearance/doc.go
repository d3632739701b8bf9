// Package clearance checks the room between things: what is left of each gap
// in use, that its direction makes sense, that no gap rests on an old tape, and
// that what is nearest to the exhaust, by its kind and by its place, was taped, and that
// the gaps which an engine from elsewhere, other tires or other springs put in
// question are in the ledger at all.
//
// A gap's reading is carried over by what moved since: for one taped
// before-move, each part goes from where it was before the work (was-at, its
// own or that of the assembly it hangs on) to where it is now; for any other,
// an assembly with a measured-at goes from there. A gap measured before-move between
// things of which the ledger knows no move is missing and not zero. Where a
// part sits on its assembly drops out of the move, so it need not be known.
//
// What was chosen where a rule leaves room:
//
//   - Motion is stated, of an exhaust's gaps too: it swings with the engine and on
//     its hangers. Kinds that the table gives motion "none" (access) need none, but
//     one that is stated counts. Between an engine on rubber and the rest a motion
//     below 1/16 in waits for a document. The engine's rock
//     stands in where exactly one of the two is the engine or hangs where it
//     hangs, and the gap runs across the vehicle or, seen from the engine, up.
//     The whole travel of the part's place is taken as motion, which is more
//     than its component along the gap. The crankshaft line lies at
//     engine.crank-height, as far across as the engine's own place.
//   - A shield halves the limits that the table says it does, and no others.
//   - Access kinds have no limit of the trade's: the gap's own least is asked.
//   - That along agrees with the places is a rule of its own, so that a shop's
//     limit for clearance/gap does not touch it.
//   - A pan over a front axle is judged with the axle up at its stop: bump-travel
//     counts in place of a motion that is less. That the motion is no less is
//     clearance/bump, a should.
//   - wanted asks for kinds of gap, not for places: that the nearest one was taped is
//     the shop's to see.
//   - hot-parts asks every build with an engine that burns something, listed
//     exhaust or not; with another engine it asks at the hot end. near-hot goes by the
//     places: a part has no size but for a tank's capacity, so that 300 mm between two
//     middles is what asks for the tape.
//
// Left out: how heat, wear and sagging rubber change a gap, and what is nearest to
// what: the tape has to find that.
package clearance
