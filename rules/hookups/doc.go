// Package hookups checks what parts must be fed and what they supply: vacuum,
// pressure, heat, drive, signals. It also asks what the old engine or gearbox
// quietly did, so that the ledger finds what its writer never thought of.
//
// How what a part gives meets what another needs is the kind's
// (ledger.Build.Hookup): a level is at least the need's least; pulses a turn or
// a mile agree with exactly; what adds up is checked at the part that feeds,
// against all that it feeds at once, each counted as often as the part is
// there; of the rest it is enough that they are given. Electric power and
// ground are circuits and not checked here.
//
// What was chosen where practice leaves it open:
//
//   - A part that feeds others has to be fed itself: what comes from one that
//     names nothing that feeds it is missing; from one that is fed by a part
//     that is off, or that gives no such thing, it is none, and so on down the
//     line. Whether it gets enough is told at that part alone.
//   - Parts may feed each other in a ring (engine, turbocharger, charge-air
//     cooler, engine). Where a ring is of one kind alone nobody makes it, and it
//     is not fed.
//   - orphaned passes a need that names nothing that feeds it: that is fed's to
//     tell.
//   - What a part gives is also used where [tachometer] or [speedometer]
//     names the part as its sender.
//   - A question is settled by what refdata/questions.toml names. A part that
//     came with the vehicle proves nothing by being there: it has to say who
//     feeds it. An [answer] to a question that there is not fails.
//   - An answer that says only "not yet", "ask Teo" or "ok", or "no" to what was to be tried, is none
//     (package vehicle, Says).
//   - What the old gearbox was the ledger does not say. Another gearbox than
//     the original raises the questions of its own kind.
//
// Left out: losses on the way, storage such as a vacuum tank, and demand that
// changes over time.
package hookups
