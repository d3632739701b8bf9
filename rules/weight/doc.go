// Package weight is the rule pack on what the vehicle weighs and where: axle
// loads against certified ratings, tires and wheels, ride height, front share
// and resistance to rolling over.
//
// The sums behind it are package vehicle's, and so is what they assume and
// leave out. Every load is static, on level ground: braking and cornering are left
// out. A [trailer]'s tongue has a rule of its own and is in no other.
//
// What was chosen where a rule leaves room:
//
//   - A rating is the certified one. Nothing here lets a shop raise it.
//   - tires-cover-rating stays a must though the load-index table was read
//     second-hand. In tire-load, a rating that only the table gives makes a should.
//   - A tire's service is what the ledger says, else what its size says (LT, P).
//     Passenger tires are divided by 1.10 in tires-cover-rating and, as 49 CFR
//     571.110 has it, in tire-reserve; tire-load takes the rating as marked.
//   - With 4 tires on an axle the dual rating counts, which no index in the ledger
//     gives.
//   - ride-height takes the curb as judged against the curb as received. With
//     other springs nothing can be reckoned: it waits for the axle's ride-change.
//   - tire-pressure takes the maker's table where the ledger has it, and then holds
//     it against the kindest formula; without one the rating falls with the
//     pressure to a power of 0.5 to 1. The heavier side is a should: half of the
//     axle 5 % more unless the sides were weighed, and what every mass since shifts.
//   - tire-speed goes by the top speed that the ledger states, seated by 150 lb in
//     every seat whatever loads there are, and by cargo at cargo-at as a should.
//   - counted-once, on-the-scale and replaced look at the ledger itself: a mass
//     twice in it, one that the scale did not find, an old part that a new one's
//     role asks for.
//   - trailer is asked for where there is a hitch or a brake controller.
//   - A rating typed in is held against what else the ledger has: a tire's against
//     its load index, the gross one against the axles' together.
//   - cg-height, places and tire-size hold what the ledger states of the vehicle against
//     what such vehicles have and against what it states elsewhere: the height of the
//     center of gravity against wheels, overall height and what came off; axles, ball and
//     masses by their places; a tire by its size. on-the-scale holds each axle to 10 %.
//   - rollover leaves out the spring's give and the suspension's roll, as the
//     static stability factor does; track is the mean of the two axles'.
package weight
