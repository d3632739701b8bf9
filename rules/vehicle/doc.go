// Package vehicle reckons what several packs share about a build as a whole:
// what stands on each axle, how high it stands, how tall its tires are and how
// they roll, and how fast and how hard the engine turns what it drives.
//
// Weights are masses, as a scale's ticket prints them. Four states are told
// apart (type State): as received, predicted from that, as built, and as
// judged. Curb is with every tank full and nobody aboard; loaded is curb and
// every load, and is not known before the ledger has one.
//
// What was chosen where a definition leaves room:
//
//   - An original part that came off is taken off with the mass it had then:
//     mass-before where the ledger says it, else mass.
//   - An original part that stayed and says a new mass, or moved and says a
//     mass, changes the load by mass at its place now less mass-before (else
//     mass) at its place before. That is count * (mass - mass-before) where it
//     did not move, and what the move shifts where its mass did not change.
//   - A part is off where it says fitted = false, and also where it says when it
//     came off and does not say that it went on again after.
//   - What came off after a weighing counts from where it is now, where that is
//     said, for it was weighed there.
//   - A part that went on or came off on the day of a weighing did so before it.
//   - A part that does not say its origin leaves the prediction waiting for it:
//     an original part changes nothing by being there, any other its whole mass.
//   - A tank whose capacity is written as 0 is not there, whatever else the
//     ledger says of it.
//   - cg-height is that of the curb as received. The part of the height that the
//     scales found and no entry explains is left out.
//   - A tire turns as often a mile as was counted (revs-per-mile), else by its
//     rolling circumference; whose size has no R is a diagonal tire.
//   - A shaft turns with the pinion of the axle that it goes to, at the vehicle's
//     top speed: the front axle where that is the role of its part, else the rear
//     one; a shaft to a transfer case faster by its high range.
//   - Torques are the engine's greatest through the gears without losses, at the
//     converter's stall: more than a stalled engine makes, so on the safe side.
//   - A weighing is read on a level floor: the shift of load by the height of
//     the vehicle's mass on a slope is left out, and so is what fluids in lines
//     and the spare fuel in a filter neck weigh.
package vehicle
