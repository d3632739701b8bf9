// Package cooling checks what carries an engine's heat away and what it
// breathes: the radiator against the heat of rated power, boiling, the
// transmission and charge-air coolers, that fluid loops are whole, and intake
// and exhaust.
//
// What was chosen where a rule leaves room:
//
// Heat. What goes in is [cooling] rejected, else fuel-flow times the fuel's
// lower heating value times heat-share; neither has a default, for the share
// ran from 16 to 31 % in four published tests. A figure outside 16 to 35 % of what
// the engine can burn at rated power waits for a document, and so does a mild
// design ambient. The heating value is that of the
// fuel the engine is made for; blends with biodiesel have less. Heat of a cooler
// with cooled-by = "coolant" (in the radiator's tank) is added. What comes out is
// a radiator's rating in proportion to the difference between inlet and air,
// the inlet at top-tank-limit, the air at the design ambient and warmed by
// coolers ahead (air-rise, assumed 0 to 15 K where other coolers are in the
// ledger and it is not measured). A core without a rating may state its
// conductance with both flows: then the effectiveness of a cross-flow core.
//
// Boiling. The saturation line of water at (air pressure + cap) over the mole
// fraction of water, less 0 to 2 K at 50 % glycol, which spans the ideal
// 108 degC at 1 atm and the printed 106. "Three degrees a psi" is never used. Air
// pressure is [cooling] air-pressure; without it sea level, 101.325 kPa (US
// Standard Atmosphere) with 3 kPa either way for weather (from memory): a build
// that will live in the mountains says so, or is judged too kindly. The cap is to
// leave 10 K between the hottest top tank allowed and boiling. A test of kind
// "top-tank" is judged twice: ambient at which it would boil, and at which
// the top tank would pass its limit, each no lower than the design ambient, with
// the rise scaled up to rated power by engine speed; below 60 % of it, of a part
// throttle, or from before what it rests on changed it does not count. Of several
// the latest does. Both limits are the ledger's own, so the rule is a must
// although the practice and Raoult's figures are from memory.
//
// Transmission cooler. Asked of an automatic; judged wherever one is in the
// ledger, all of a transmission's together: 5 % of rated power at the least, or
// what the ledger states where that is more; 10 % of one that tows, as a should. At
// stall no cooler is enough: a gauge and an instruction are asked for, as a should.
// An oil cooler is only asked to be in a loop.
//
// Charge air. Compressor outlet by pressure ratio and efficiency, then the
// cooler's stated effectiveness against the outside air (and its air-rise, for
// one that does not stand foremost), or against the top tank's limit where the
// engine's coolant cools it; a water circuit of its own is left out. The limit is
// the engine maker's (outlet-limit of the radiator.x). An engine without a blower
// says boost = "0 psi".
//
// Loops. Fluids that come back: charge air and fuel are none. Bores are those
// the hose says of itself and of what it joins; a hose of role "reducer" has
// two. Two parts with no hose between are taken as bolted together. A loop not
// finished is work, missing until the first start; a hose whose bore does not
// fit fails at any time.
//
// Intake and exhaust. Filter and duct are judged by free air at rated power.
// Restriction and back pressure are read at rated power, which a vehicle that
// has not run cannot give: they are due at delivery, not at the first start.
//
// Left out: fan power and air-side drag, warm-up, thermostats, expansion and
// degassing, air inlet temperature under a hood, pressure lost in charge pipes,
// exhaust temperature and pipe size.
package cooling
