// Package weight is the rule pack on what the vehicle weighs and where: axle
// loads against certified ratings, tires and wheels, ride height, front share
// and resistance to rolling over.
//
// The sums behind it are package vehicle's, and so is what they assume and
// leave out. Every load is static, on level ground: braking, cornering and a
// trailer's tongue are left out (write the tongue as a load behind the rear
// axle).
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
//     other springs nothing can be reckoned: it waits for a reading
//     "front-ride-change" or "rear-ride-change" of some [test.x].
//   - rollover leaves out the spring's give and the suspension's roll, as the
//     static stability factor does; track is the mean of the two axles'.
package weight
