// Package gearing is the rule pack on the ratio between engine and road: the
// engine's speed at cruise, the road speed at its governor, starting on a grade,
// and whether speedometer and tachometer are told what they expect.
//
// How tires roll, and what the gears make of speed and torque, is package
// vehicle's.
//
// What was chosen where a rule leaves room:
//
//   - A tire's diameter is the one stated, else the nominal one by its size (UN
//     Regulation No. 54). Engine and road speed do not go by its circle but by the
//     turns a mile that were counted, else by the rolling circumference, 3.05 D for
//     a radial: 34 in tires on 4.10 gears with a 0.78 top gear put 2,055 rpm at 65
//     mph by the circle and about 2,117 on the road.
//   - cruise and governed take the vehicle's top speed where that is below 65 and
//     70 mph: what will never be driven so fast need not be geared for it.
//   - grade tells what grade the engine can start the vehicle on in low, and what
//     grade the driven tires hold on, as two checks; a [test.x] on a grade is a
//     third. Low is the greatest ratio and, where there is a transfer case, its
//     low range. Both axles pull where both are driven.
//   - The torque at a manual's clutch as it takes up is taken to be 0.5 to 1.0 of
//     the engine's greatest: trade's guess, for none is written down.
//   - road-speed-signal takes a count over a measured mile, else reckons, else,
//     for the vehicle's own sender of which nothing is known, takes it that it was
//     right before tires and axle changed. divided-by is for a converter box
//     between a fine-toothed sender and the dial.
//   - tach-signal takes pulses where a sender says so itself (a flywheel pickup),
//     else the alternator's phase; divided-by is for a converter on the way. Where
//     both are stated they have to agree.
//   - A count over a measured mile counts where tires, axle and sender did not change
//     after it, and of several tests on a grade the latest. What is counted and what
//     the sender gives should agree.
//   - spare is asked where the tires changed, belt-speed where a pulley is another
//     than the engine's own.
//   - Front-only drive is reckoned by the front axle, all else by the rear.
//
// Left out: whether there is power enough for a speed, gaps between gears, fuel
// burnt, what a torque converter slips at cruise.
package gearing
