// Package driveline is the rule pack on the shafts and on what bears the torque:
// how far joints are bent and whether they cancel, what reaches the axle of it,
// at what speed a shaft whips, whether its slip stays in, and whether gears and
// axles are rated for what comes through them.
//
// Shaft speed at the vehicle's top speed, and torques at the transmission, the
// transfer case and the wheels, are package vehicle's.
//
// Slopes are readings of an angle finder in side view, down to the rear
// positive, and in plan, to the right (going rearward) positive. A joint's bend
// is the difference of the two slopes with their signs, in each view.
//
// Readings taken before-move are carried over: the shaft is laid out as a line
// in space by length and slopes, its two ends move as what they belong to moved
// since before the work, and length, slopes and slip are read off the new line.
// Readings not marked so are carried over from an assembly's measured-at where it
// has one, as gaps are. The slopes of the parts at the ends stay: a move is not
// a tilt, which the ledger has no way to say. Where the ledger knows no move, a
// reading from before one is missing and not zero; so it is for a shaft of three
// joints, whose middle bearing stands still.
//
// What was chosen where a rule leaves room:
//
//   - joint-angle is a should, its table being from memory. The shaft's top speed
//     is that at the vehicle's stated top speed, 85 mph at the least. Where the
//     vehicle gets faster by itself (the lesser of the governed speed in top gear and
//     what drag allows) critical-speed and torsional ask it again, as a should. Constant-velocity joints are out
//     of the table, but held to the 10 deg of service procedures.
//   - joints-cancel compares the two joints' angles in space; torsional sees to
//     the planes they are bent in. A shaft whose yokes are out of line, of three
//     joints, or with a constant-velocity joint has nothing to compare.
//   - torsional takes the makers' sqrt|sum of s b^2| as what it is in one plane,
//     and adds joints of different planes as vectors of twice the plane's angle.
//     That is the same wherever a shaft lies in one plane, and not fooled where it
//     does not. The 3 deg and the 400 rad/s2 are two checks,
//     both in degrees, so that a shop can tighten them with one limit; the second
//     is the angle that makes 400 rad/s2 at the shaft's top speed: more than 3
//     deg below about 3650 rpm, less above it.
//   - critical-speed is a must: its 75 % is practice and the formula is beam
//     theory, though metals' figures are from memory. Those are intervals.
//   - slip asks the engagement that the ledger gives as the least. No source has
//     one; people take the spline's own diameter.
//   - torque takes the engine's greatest torque at the converter's stall and no
//     losses, both on the safe side. The load on an axle is the one loaded and
//     standing: pulling hard adds some to the rear. Either axle may get all of
//     it, as when the other one slips with the transfer case locked.
//   - shaft-torque takes the lesser of low gear and wheel slip in the tube's shear,
//     a must; low gear alone in high range is a should. Yield is 35 ksi where the
//     ledger has none. Welds, yokes and splines are left out.
//   - axles-match goes by turns a mile times ratio, front against rear; one tire
//     under both drops out.
//   - alignment asks that runout was read where an adapter or the pairing is new, as
//     a must; that it is within the limit is a should, and so are the converter's
//     fit and, where ratings are given, mounts.
//   - An axle of the vehicle's own without a rating should get no more than it got
//     from the old engine.
//   - The engine's torque and power are held against each other.
//   - A joint of a shaft of three is found by slopes.second and length-second, its
//     second tube. Where phased is false, all three count the same way, which is
//     the worst.
//   - length holds a shaft against the places of what it joins and, where both ends are
//     the vehicle's own, against its length as received and what they moved by. The places
//     are of middles, so that the first is a wide one.
//
// in-ledger is there so that a shaft that nobody wrote down is asked for;
// remeasured does for shafts what clearance/remeasured does for gaps.
//
// Left out: joints and slip at full droop and bump but for what the suspension
// takes of the slip; splines' own torque ratings, and joints' where the ledger has
// none; balance; what half
// the critical speed does.
package driveline
