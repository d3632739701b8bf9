// Package harness checks what became of the wires of plugs that a swap opened:
// every pin accounted for, every wire ending somewhere that says the same of
// it, every cut end dead, no pin used twice, no two wires mistaken for each
// other.
//
// The table. A plug is one [plug.ID] with a row a pin; what a row says of its
// pin is judged as an aspect of the plug, at the row's place. The word now says
// what became of the pin:
//
//	kept     the wire that was in it is in it still
//	moved    a wire of the vehicle was moved into it from another pin
//	new      a new wire is in it
//	cut      its wire was cut off; the end here is open, unless to names a splice
//	capped   its wire was cut off, and the end here is capped
//	empty    no wire is in it
//
// What was chosen where a rule leaves room, and why:
//
//   - A plug counts as opened where it says so, and where a pin of it says
//     moved, new, cut or capped: nobody does that to a closed plug. In one that
//     was not opened a pin that says nothing is kept.
//   - Pins left out are named by their number where the rows are numbered from 1
//     to the number of ways; where they go by letters only how many are left
//     out is known. Only pin-accounted asks for them, so that one pin left out
//     is one thing to do.
//   - A way on the plug's list of unused ones is empty as if a row said so, and
//     every rule takes it so. A row of it may tell what was in it, and no more.
//     "all others" are those without a row, of a plug that has one at least.
//   - Where the wire of a kept pin ends is asked only where the row says it:
//     nobody traces the thirty wires of a body that he did not touch. A moved or
//     new wire has to say it.
//   - A pin points back by its own to, a splice by its joins. A part or a relay
//     has no list of wires; it has to be on the finished vehicle, and nothing
//     more is asked. That what is named exists at all is checked when the ledger
//     is read. Circuits of the two ends, where one end names one, are the same.
//   - Of mated plugs one may name the other, or both may; each goes into one.
//     Pins agree where both carry a wire, on one circuit where either names one,
//     or neither does. A wire that was moved or is new and meets a pin without one
//     fails; one that was kept makes a should, for a wire of the vehicle's own
//     that the new engine does not need may stay in its plug.
//   - A wire that is cut has two cut ends. The row speaks for the one at its
//     pin: capped, or spliced (to names the splice). The rest of the wire is
//     dealt with where rest says capped, spliced or removed; or where to names
//     the pin that it went to, and that pin is cut, capped or empty, where it is
//     judged in turn.
//   - A wire that was pulled out is one that color-was names in a pin that is
//     now empty, new or moved. It is accounted for by rest, or by a pin that says
//     moved and has its color, each for one such wire, in its own plug first.
//   - A pin is used once: it has one other end, by whatever says so. Two wires
//     in one terminal fail, though it is done.
//   - The gauge of a wire is held against its circuit's fuse with the sums of the
//     wiring pack (rules/circuits): allowable amperage of that gauge with the
//     circuit's insulation in the circuit's zone. A new wire has to name its
//     circuit; of others those are judged that do. A signal, a ground and the
//     starter's cable need no fuse.
//   - A circuit's ends are what its from and to name, those of a circuit that they
//     name in turn, the relay that switches it and one whose coil it works. A
//     harness is no wrong end; a return by wire may go to battery, engine, frame
//     or body. A circuit that does not say where it leads is not judged.
//   - A function is judged against that of the other end where one end states it.
//   - Two wires of a color are told apart by a mark on one of them, or by gauges
//     that differ. A wire whose row has no color takes its circuit's, or, kept,
//     the one it had.
//
// Left out: what current a terminal carries and what sizes it takes, seals,
// locks, the order of work, which terminal of a part a wire goes to, twisted and
// shielded pairs. But for the gauge none of the rules has a published source
// here: they are common practice.
package harness
