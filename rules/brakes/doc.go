// Package brakes is the rule pack on stopping: recorded stop tests, what feeds
// the booster at idle, whether one pump does for brakes and steering, how braking is
// shared between the axles and which lock first, and the parking brake.
//
// The axle loads and heights behind it are package vehicle's. Left out: air
// brakes, trailers, brakes getting hot, and pads and linings. An antilock system is believed by its
// document, in place of the order of locking.
//
// What was chosen where a rule leaves room:
//
//   - stopping. The row of 49 CFR 393.52(d) goes by the gross rating alone: for
//     a vehicle on a truck chassis, passengers and property come under the same
//     two figures. A vehicle on a passenger-car chassis is asked for more (21
//     ft/s2, 20 ft), which a shop's [limits] can say; tractors and combinations
//     are left out. The text asks distance, deceleration and braking force; what
//     a test recorded is judged, of distance and deceleration. A test from
//     another speed than 20 mph is turned into one from 20 mph by FromSpeed,
//     with the pedal's time as a doubt that grows the further off it was. The
//     emergency distances are left out: one row of them is in question.
//   - assist. hookups/fed already compares what a supply is said to give. Here a
//     gauge counts: a [test.x] of kind "assist", read at idle, against the least
//     that the booster needs; an assisted stop left with the engine off, better two; and a
//     vacuum booster is not fed by the manifold of a diesel, unless the engine
//     has intake-throttle = true. The booster is a fitted part with the role
//     "brake-booster". A part with the role "electric-brake-booster" or
//     "manual-brakes" says that there is nothing to feed.
//   - hydraulic-power. A booster that fluid works shares its pump with the steering:
//     that both were worked together on the road is a must, the pump's figures are
//     shoulds. Which parts it feeds is read off their needs.
//   - balance. The share of the braking comes from a roller or plate tester (a
//     [test.x] of kind "brake-force"), else from brake-torque and the tires. It
//     is judged empty and loaded, with the load that braking moves to the front.
//     Two things are asked: that the deceleration of 393.52 is reached on dry
//     pavement before any wheel locks (a must; the friction is common practice),
//     and at what braking the rear wheels come to lock first: 0.5 g or more (a
//     must, unless it is the maker's own choice nearly unchanged), 0.8 g or more
//     (a should). An anti-lock with its document or a watched stop settles it.
//   - parking. That it holds on 20 % both ways with a driver aboard is a must,
//     though the figure is from memory; loaded, a should. A test on another
//     grade, at another weight, or by a pull on the level is turned into the grade
//     that the same force holds. That force follows sin(atan G); an empty truck
//     that holds on 20 % need not when it is loaded.
//   - A test counts where nothing that it rests on changed after it
//     (vehicle.Untouched).
//   - Of several tests of a kind the latest counts. One without a date counts
//     with it.
package brakes
