package rules_test

// Where the writer sets his own bar: a figure that no maker prints, a reading
// that no gauge gives, two entries that cannot both be right.

var dangerousBars = []variant{
	{"a gross rating above both axles'", []string{"weight/gross"}, []edit{set("vehicle", "gross-rating", `"14000 lb"`)}},
	{"a tire's rating typed far above its load index", []string{"weight/tires-cover-rating"}, []edit{
		set("tire.lt-265-75-16e", "load-rating", `"5200 lb"`)}},
	{"a tire's load index typed far below its rating", []string{"weight/tires-cover-rating"}, []edit{
		set("tire.lt-265-75-16e", "load-index", "60")}},
	{"tires blown up past the sidewall's figure", []string{"weight/tire-pressure"}, []edit{
		set("tire.lt-265-75-16e", "pressure", `"110 psi"`)}},
	{"a rating that is said to be for 20 psi", []string{"weight/tire-pressure"}, []edit{
		set("tire.lt-265-75-16e", "max-pressure", `"20 psi"`), set("tire.lt-265-75-16e", "pressure", `"20 psi"`)}},
	{"a table that has the full load at 20 psi", []string{"weight/tire-pressure"}, []edit{
		set("tire.lt-265-75-16e", "pressure", `"20 psi"`), set("tire.lt-265-75-16e", "load-at-pressure", `"3400 lb"`)}},
	{"passenger tires that do not cover the axle", []string{"weight/tires-cover-rating"}, []edit{
		set("tire.lt-265-75-16e", "service", `"passenger"`), set("tire.lt-265-75-16e", "load-rating", `"3200 lb"`)}},
	{"wheels for half of what stands on them", []string{"weight/wheel-load"}, []edit{
		with("[wheel.weak]\nload-rating = \"1200 lb\""), set("vehicle.rear", "wheel", `"wheel.weak"`)}},
	{"two tons on the bed", []string{"weight/gross", "weight/rear-axle"}, []edit{set("load.bed-load", "mass", `"4000 ± 50 lb"`)}},
	{"a rack of 400 lb on a roof for 150", []string{"weight/roof-load"}, []edit{
		with("[part.rack]\nrole = \"rack\"\norigin = \"bought\"\nmass = \"400 lb\"\nat = { behind = \"60 in\", right = \"0 in\", above = \"80 in\" }\nmounted-on = \"roof\"\nfitted-on = 2026-04-12")}},
	{"a trailer past the combined rating", []string{"weight/trailer"}, []edit{set("trailer", "mass", `"5000 ± 50 lb"`)}},
	{"a trailer without weight on its tongue", []string{"weight/trailer"}, []edit{set("trailer", "tongue", `"40 ± 5 lb"`)}},
	{"six inches of lift, and the tests from before", []string{"brakes/stopping", "brakes/parking"}, []edit{
		set("vehicle.front", "spring-rate-was", `"400 lb/in"`), set("vehicle.front", "ride-change", `"-6 ± 0.1 in"`), set("vehicle.front", "springs-fitted-on", "2026-04-17")}},

	{"a stop in a third of the way that a road allows", []string{"brakes/stopping"}, []edit{set("test.stop", "readings.distance", `"9 ± 0.3 ft"`)}},
	{"a stop at two g", []string{"brakes/stopping"}, []edit{
		unset("test.stop", "readings.distance"), set("test.stop", "readings.deceleration", `"64 ft/s2"`)}},
	{"a stop in 34 ft", []string{"brakes/stopping"}, []edit{set("test.stop", "readings.distance", `"34 ± 0.5 ft"`)}},
	{"a stop from walking pace", []string{"brakes/stopping"}, []edit{
		set("test.stop", "readings.speed", `"8 ± 0.3 mph"`), set("test.stop", "readings.distance", `"4.5 ± 0.5 ft"`)}},
	{"a booster that is said to need hardly any vacuum", []string{"brakes/assist"}, []edit{set("part.brake-booster", "needs.vacuum.least", `"1 inHg"`)}},
	{"more vacuum than there is air", []string{"brakes/assist"}, []edit{set("test.booster", "readings.vacuum", `"40 ± 0.5 inHg"`)}},
	{"the booster fed by the diesel's manifold", []string{"brakes/assist", "hookups/fed"}, []edit{
		set("part.brake-booster", "needs.vacuum.from", `"part.engine"`), set("part.engine", "gives.vacuum", `"20 inHg"`)}},
	{"the booster's vacuum read at 2000 rpm", []string{"brakes/assist"}, []edit{set("test.booster", "readings.engine-speed", `"2000 ± 10 rpm"`)}},
	{"a booster that nobody gauged", []string{"brakes/assist"}, []edit{without("test.booster")}},
	{"a booster that its role does not call one", []string{"brakes/assist"}, []edit{unset("part.brake-booster", "role")}},
	{"a brake balance that nobody read", []string{"brakes/balance"}, []edit{without("test.brake-lane")}},
	{"a parking brake that held a pull of 200 lbf", []string{"brakes/parking"}, []edit{
		unset("test.parking", "readings.held-up"), unset("test.parking", "readings.held-down"), set("test.parking", "readings.pull", `"200 ± 20 lbf"`)}},
	{"a parking brake that nobody tried", []string{"brakes/parking"}, []edit{without("test.parking"), without("instruction.park")}},
	{"a hydraulic booster never worked with the steering", []string{"brakes/hydraulic-power"}, []edit{
		unset("part.brake-booster", "needs.vacuum"), set("part.brake-booster", "needs.hydraulic-assist", `{ least = "1100 psi", from = "part.power-steering-pump" }`),
		set("test.booster", "readings.hydraulic", `"1300 ± 20 psi"`)}},
	{"a booster and a steering that together are too much for the pump", []string{"brakes/hydraulic-power"}, []edit{
		unset("part.brake-booster", "needs.vacuum"), set("part.brake-booster", "needs.hydraulic-assist", `{ least = "1100 psi", from = "part.power-steering-pump" }`),
		set("test.booster", "readings.hydraulic", `"1300 ± 20 psi"`), with("[test.road]\nkind = \"road\"\ndate = 2026-04-14\nreadings = { braked-and-steered = false }")}},

	{"a pinion 4 deg off", []string{"driveline/joints-cancel", "driveline/torsional"}, []edit{set("shaft.rear", "slopes.to", `"7.5 ± 0.1 deg"`)}},
	{"plain joints called constant-velocity", []string{"driveline/torsional"}, []edit{
		set("shaft.rear", "joints", `"cv"`), set("shaft.rear", "slopes.to", `"7.5 ± 0.1 deg"`)}},
	{"one seat, and three belts", []string{"weight/payload"}, []edit{
		set("vehicle", "seats", "1"), with("[seat-belt.left]\nseat = \"left\"\nwebbing = \"original\"\n[seat-belt.right]\nseat = \"right\"\nwebbing = \"original\"")}},
	{"yokes out of line", []string{"driveline/torsional"}, []edit{set("shaft.rear", "phased", "false")}},
	{"a slip that is nearly out", []string{"driveline/slip"}, []edit{set("shaft.rear", "slip-engaged", `"2 in"`)}},
	{"a slip that may come out to its last thread", []string{"driveline/slip"}, []edit{
		set("shaft.rear", "slip-engaged", `"1 1/2 in"`), set("shaft.rear", "slip-engaged-least", `"0.1 in"`)}},
	{"a slip that bottoms", []string{"driveline/slip"}, []edit{set("shaft.rear", "slip-left", `"1/2 in"`)}},
	{"a transmission for half the torque", []string{"driveline/torque"}, []edit{set("transmission", "torque-rating", `"250 lb-ft"`)}},
	{"a light transmission with a ship's rating", []string{"driveline/torque"}, []edit{set("transmission", "torque-rating", `"5000 lb-ft"`)}},
	{"a transfer case for a tenth of low gear", []string{"driveline/torque"}, []edit{set("transfer", "torque-rating", `"900 lb-ft"`)}},
	{"a front axle for half of what its tires hold", []string{"driveline/torque"}, []edit{set("vehicle.front", "torque-rating", `"2000 lb-ft"`)}},
	{"an engine with half the torque that its power takes", []string{"driveline/torque"}, []edit{set("engine", "peak-torque", `"150 lb-ft"`)}},
	{"an engine with a quarter of the power that its torque makes", []string{"cooling/heat"}, []edit{set("engine", "rated-power", `"50 hp"`)}},
	{"a power that its torque outdoes, and a label that names the engine alone", []string{"driveline/torque"}, []edit{set("engine", "rated-power", `"112 hp"`)}},
	{"a shaft of foil from tube that nobody draws", []string{"driveline/shaft-torque"}, []edit{
		set("shaft.rear", "yield", `"400000 psi"`), set("shaft.rear", "wall", `"0.02 in"`)}},
	{"a front shaft that nobody wrote down", []string{"driveline/in-ledger"}, []edit{without("shaft.front")}},
	{"a grade on which it never started", []string{"gearing/grade"}, []edit{set("test.quarry-ramp", "readings.started", "false")}},
	{"an alternator with another count of poles than the tachometer is told", []string{"gearing/tach-signal"}, []edit{set("tachometer", "pole-pairs", "8")}},

	{"a fan 3/8 in from the core, on an engine that moves as much", []string{"clearance/gap"}, []edit{set("gap.fan-to-core", "measured", `"3/8 ± 1/16 in"`)}},
	{"an engine against the firewall when it rocks", []string{"clearance/gap"}, []edit{set("gap.turbo-to-firewall", "measured", `"1/4 ± 1/16 in"`), set("gap.turbo-to-firewall", "relief", `"0 in"`)}},
	{"a fan on an engine that is said not to move", []string{"clearance/gap"}, []edit{
		set("gap.fan-to-core", "measured", `"1 1/8 ± 1/16 in"`), set("gap.fan-to-core", "motion", `"0 in"`)}},
	{"a steering shaft by a pump that is said not to move", []string{"clearance/gap"}, []edit{
		set("gap.steering-shaft-to-lift-pump", "motion", `"0 in"`), set("gap.steering-shaft-to-lift-pump", "measured", `"9/16 ± 1/32 in"`)}},
	{"a firewall with ten inches taken out of it", []string{"clearance/gap"}, []edit{
		set("gap.turbo-to-firewall", "measured", `"1/8 ± 1/16 in"`), set("gap.turbo-to-firewall", "relief", `"10 ± 1/16 in"`)}},
	{"a downpipe an inch from the brake line", []string{"clearance/gap"}, []edit{set("gap.downpipe-to-brake-line", "measured", `"1 1/4 ± 1/16 in"`)}},
	{"a downpipe that swings against the brake line", []string{"clearance/gap"}, []edit{
		set("gap.downpipe-to-brake-line", "motion", `"1 1/2 ± 1/8 in"`)}},
	{"an exhaust of which nobody knows how far it swings", []string{"clearance/gap"}, []edit{unset("gap.muffler-to-tank", "motion")}},
	{"a fan in plain words, on an engine that is said not to move", []string{"clearance/gap"}, []edit{
		set("gap.fan-to-core", "between", `["fan", "radiator"]`), set("gap.fan-to-core", "measured", `"1 1/8 ± 1/16 in"`), set("gap.fan-to-core", "motion", `"0 in"`)}},
	{"the fender's gap from the smaller tires", []string{"clearance/remeasured"}, []edit{set("gap.tire-to-fender", "read", "2025-12-28")}},
	{"a fan's gap of nobody knows when", []string{"clearance/remeasured"}, []edit{unset("gap.fan-to-core", "read")}},
	{"a shaft read nobody knows when", []string{"driveline/remeasured"}, []edit{unset("shaft.rear", "read")}},
	{"shields that are in no list of parts", []string{"clearance/hot-parts"}, []edit{without("part.heat-shield")}},
	{"a shield that came off", []string{"clearance/gap"}, []edit{set("gap.downpipe-to-brake-line", "shielded", "false")}},
	{"a fuel line that the shaft can reach", []string{"clearance/gap"}, []edit{set("gap.fuel-line-to-front-shaft", "measured", `"2 ± 1/8 in"`)}},
	{"the tank's gap from the exhaust called an access", []string{"clearance/hot-parts"}, []edit{
		set("gap.muffler-to-tank", "kind", `"filter-access"`), set("gap.muffler-to-tank", "least", `"0 in"`)}},
	{"tires that rub at lock", []string{"clearance/gap"}, []edit{set("gap.tire-to-fender", "measured", `"1/4 ± 1/16 in"`)}},

	{"a turbocharger on an engine without boost", []string{"cooling/charge-air"}, []edit{set("engine", "boost", `"0 psi"`)}},
	{"charge air of 400 °F, as the ledger allows", []string{"cooling/charge-air"}, []edit{
		set("radiator.charge-air", "outlet-limit", `"400 degF"`), set("radiator.charge-air", "effectiveness", `"0.2"`)}},
	{"an exhaust that is said to stand any back pressure", []string{"cooling/exhaust"}, []edit{
		set("exhaust", "back-pressure", `"120 ± 2 inH2O"`), set("exhaust", "back-pressure-limit", `"150 inH2O"`)}},
	{"an intake that is said to stand any restriction", []string{"cooling/intake"}, []edit{
		set("intake", "restriction", `"60 ± 1 inH2O"`), set("intake", "restriction-limit", `"80 inH2O"`)}},
	{"a radiator rated at next to no difference", []string{"cooling/heat"}, []edit{set("radiator.main", "rating-difference", `"20 K"`)}},
	{"air of twice the pressure", []string{"cooling/cap"}, []edit{set("cooling", "air-pressure", `"30 psia"`)}},
	{"a heater core for a radiator", []string{"cooling/heat"}, []edit{set("radiator.main", "part", `"part.heater-core"`)}},
	{"a charge-air cooler that cools all of it", []string{"cooling/charge-air"}, []edit{set("radiator.charge-air", "effectiveness", `"1.00"`)}},
	{"a top-tank test with the thermostat shut", []string{"cooling/air-to-boil"}, []edit{
		set("test.long-grade", "readings.ambient", `"20 ± 2 degF"`), set("test.long-grade", "readings.top-tank", `"121 ± 2 degF"`)}},
	{"no coolant's loop in the ledger", []string{"cooling/loops"}, []edit{without("loop.water"), without("loop.heater")}},
	{"a filter for a third of the air", []string{"cooling/intake"}, []edit{set("intake", "filter-flow", `"200 cfm"`)}},
	{"the fan taken off", []string{"hookups/usual-questions"}, []edit{set("part.fan", "fitted", "false")}},
	{"the radiator taken off", []string{"cooling/heat", "cooling/loops", "hookups/fed"}, []edit{set("part.radiator", "fitted", "false")}},

	{"a filter like a sieve, as the ledger asks", []string{"fuel/filter"}, []edit{
		set("fuel", "filter-rating", `"100 um"`), set("fuel", "filter-asked", `"100 um"`)}},
	{"a tank that needs no air, it says", []string{"fuel/diesel-needs"}, []edit{set("fuel", "vent", `"not needed"`)}},
	{"a tank under a sealed cap", []string{"fuel/diesel-needs"}, []edit{set("fuel", "vent", `"Sealed cap"`)}},
	{"a tool box for a water separator", []string{"fuel/diesel-needs"}, []edit{set("fuel", "water-separator", `"part.bed-box"`)}},
	{"the heater's hose for a return", []string{"fuel/diesel-needs"}, []edit{set("fuel", "return-line", `"hose.heater-return"`)}},
	{"no return, it says, and the pump sends fuel back", []string{"fuel/diesel-needs"}, []edit{set("fuel", "return-line", `"not needed"`)}},
	{"a fuel hose that never gets warm", []string{"fuel/hose-class"}, []edit{
		set("hose.filter-to-pump", "temperature", `"40 degF"`), set("hose.filter-to-pump", "rated-temperature", `"60 degF"`)}},
	{"a fuel hose held by a zip tie", []string{"fuel/hose-class"}, []edit{set("hose.filter-to-pump", "clamps", `"two zip ties"`)}},
	{"a fuel hose that is said to carry coolant", []string{"fuel/line-loss"}, []edit{set("hose.filter-to-pump", "carries", `"coolant"`)}},

	{"gasoline in the diesel's tank", []string{"fuel/filler"}, []edit{set("tank.main", "fluid", `"gasoline"`)}},
	{"a fuel hose on a spigot half as wide again", []string{"fuel/hose-class"}, []edit{set("hose.filter-to-pump", "bore-to", `"5/8 in"`)}},
	{"the lift pump taken off", []string{"hookups/fed", "fuel/line-loss"}, []edit{set("part.lift-pump", "fitted", "false")}},
	{"oil for the turbocharger at half of what it needs", []string{"hookups/fed"}, []edit{set("part.engine", "gives.turbo-oil", `"10 ± 2 psi"`)}},
	{"the throttle's cable taken off since it was tried", []string{"hookups/usual-questions"}, []edit{set("part.throttle-cable", "fitted", "false")}},
	{"drums turned since the stop test", []string{"brakes/stopping"}, []edit{
		with("[part.drums]\nrole = \"brake-drum\"\norigin = \"original\"\n[work.drums]\nparts = [\"part.drums\"]\ndid = \"repaired\"\nby = \"Teo Masz\"\ndate = 2026-04-16")}},
	{"a brake lane of before the tires", []string{"brakes/balance"}, []edit{set("test.brake-lane", "date", "2025-06-01")}},
	{"the steering pump taken off", []string{"hookups/fed", "hookups/orphaned"}, []edit{set("part.power-steering-pump", "fitted", "false")}},
	{"a steering that nothing assists, or nobody says so", []string{"hookups/usual-questions"}, []edit{unset("part.steering-box", "needs.hydraulic-assist")}},
	{"a stop test of next year, by a slip of the pen", []string{"paperwork/dates"}, []edit{set("test.stop", "date", "2027-04-14")}},
	{"an answer from after the vehicle went", []string{"paperwork/dates"}, []edit{set("answer.engine-stop", "date", "2026-05-30")}},
	{"a throttle that does not return", []string{"hookups/usual-questions"}, []edit{set("answer.throttle-return", "says", `"No."`)}},
	{"an engine stop that nobody tried yet", []string{"hookups/usual-questions"}, []edit{set("answer.engine-stop", "says", `"not tried yet"`)}},
	{"nothing for a runaway, in one word", []string{"hookups/usual-questions"}, []edit{set("answer.runaway", "says", `"nothing"`)}},
}

var soundBars = []variant{
	{"a top tank that may come to 220 °F", nil, []edit{set("cooling", "top-tank-limit", `"220 degF"`)}},
	{"an owner who never leaves the coast", nil, []edit{set("cooling", "ambient", `"90 degF"`)}},
	{"a power that its torque outdoes, and a label that names it", nil, []edit{
		set("engine", "rated-power", `"112 hp"`), set("document.engine-label", "proves", `["engine", "part.engine", "engine.rated-power"]`)}},
	{"a stop by its deceleration", nil, []edit{
		unset("test.stop", "readings.distance"), set("test.stop", "readings.deceleration", `"20 ± 0.5 ft/s2"`)}},
	{"a very good stop", nil, []edit{set("test.stop", "readings.distance", `"15 ± 0.5 ft"`)}},
	{"neither trailer nor hitch", nil, []edit{without("trailer"), without("part.hitch")}},
	{"a hitch that is for the winch", nil, []edit{without("trailer")}},
	{"a tongue just above the least", nil, []edit{set("trailer", "tongue", `"182 ± 5 lb"`), set("trailer", "mass", `"1800 ± 20 lb"`)}},
	{"a top speed of 85 mph", nil, []edit{set("vehicle", "top-speed", `"85 mph"`)}},
	{"heavier rear springs, before all tests", nil, []edit{
		set("vehicle.rear", "spring-rate-was", `"500 lb/in"`), set("vehicle.rear", "ride-change", `"-0.4 ± 0.1 in"`), set("vehicle.rear", "springs-fitted-on", "2026-01-17"),
		with("[answer.brake-hoses]\nquestion = \"brake-hoses\"\nsays = \"slack at lock and droop, dry under a hard pedal\"\ndate = 2026-04-14")}},
	{"a hood gap in a tape's fractions", nil, []edit{
		set("gap.engine-to-hood", "measured", `"1 3/4 in"`), set("gap.engine-to-hood", "motion", `"1/4 in"`)}},
	{"a blend in the tank, and diesel carried", nil, []edit{set("fuel", "carries", `["diesel", "B5", "B20"]`), set("tank.main", "fluid", `"B5"`)}},
	{"a fan that keeps half an inch: an inch is practice, and a should", nil, []edit{set("gap.fan-to-core", "measured", `"1 ± 1/16 in"`)}},
	{"a muffler hung stiff", nil, []edit{set("gap.muffler-to-tank", "motion", `"0 in"`)}},
	{"an engine on solid mounts", nil, []edit{
		set("engine", "rock", `"0 ± 0 deg"`), set("gap.rocker-cover-to-wiper-tray", "motion", `"0 in"`)}},
	{"coolant of 60 % glycol", nil, []edit{set("cooling", "mix", `"60 %"`)}},
	{"a wider supply line", nil, []edit{set("hose.supply-line", "bore", `"3/8 in"`), set("hose.supply-line", "bore-from", `"3/8 in"`), set("hose.supply-line", "bore-to", `"3/8 in"`)}},
	{"flows a little over what it burns", nil, []edit{
		set("hose.tank-to-line", "flow", `"15 gph"`), set("hose.supply-line", "flow", `"15 gph"`), set("hose.filter-to-pump", "flow", `"15 gph"`)}},
	{"the sides of the front axle weighed", nil, []edit{
		set("weighing.as-built", "front-left", `"1900 ± 5 lb"`), set("weighing.as-built", "front-right", `"1865 ± 5 lb"`)}},
	{"constant-velocity joints at both ends, and a photo of them", nil, []edit{
		set("shaft.rear", "joints", `"cv"`), set("document.photo-register", "proves", `["part.fan", "part.turbocharger", "part.rear-driveshaft", "part.front-driveshaft", "part.fuel-tank", "shaft.rear.joints"]`)}},
	{"a belt for every seat", nil, []edit{
		with("[seat-belt.left]\nseat = \"left\"\nwebbing = \"original\"\n[seat-belt.right]\nseat = \"right\"\nwebbing = \"original\"")}},
	{"a booster that asks for 12 inHg", nil, []edit{set("part.brake-booster", "needs.vacuum.least", `"12 inHg"`)}},
	{"an inch of engagement, and more on the shaft", nil, []edit{set("shaft.rear", "slip-engaged-least", `"1 in"`)}},
	{"tires set to what the sidewall says, to the pound", nil, []edit{set("tire.lt-265-75-16e", "max-pressure", `"80.0 psi"`)}},
	{"worm-drive clamps on the fuel", nil, []edit{set("hose.filter-to-pump", "clamps", `"worm drive, stainless"`)}},
	{"a vent with a sealed grommet on its way", nil, []edit{set("fuel", "vent", `"hose to the rail through a sealed grommet"`)}},
	{"an answer that begins with no", nil, []edit{set("answer.cab-air", "says", `"No gas in the cab: meter on the seat, twenty minutes at idle, windows shut and open."`)}},
	{"a hydraulic booster in place of the vacuum one", nil, []edit{
		unset("part.brake-booster", "needs.vacuum"), set("part.brake-booster", "needs.hydraulic-assist", `{ least = "1100 psi", from = "part.power-steering-pump" }`),
		set("test.booster", "readings.hydraulic", `"1300 ± 20 psi"`), with("[test.road]\nkind = \"road\"\ndate = 2026-04-14\nreadings = { braked-and-steered = true }")}},
	{"a second tank with lines of its own", nil, []edit{with("[wetted.tank-two]\npart = \"part.tank-two\"\nmaterial = \"aluminum\"\n[part.tank-two]\nname = \"Second tank\"\nrole = \"fuel-tank\"\norigin = \"bought\"\norder-as = \"tank\"\nmass = \"40 lb\"\n" +
		"at = { behind = \"150 in\", right = \"10 in\", above = \"23 in\" }\nfitted-on = 2026-04-12\n[hose.two]\ncarries = \"fuel\"\nmaterial = \"carbon-steel\"\nfrom = \"part.tank-two\"\nto = \"part.fuel-filter\"\n" +
		"bore = \"0.305 in\"\nbore-from = \"0.305 in\"\nbore-to = \"0.305 in\"\nlength = \"90 in\"\nrole = \"supply\"\npressure = \"5 psi\"\ntemperature = \"122 degF\"\nrated-pressure = \"500 psi\"\n" +
		"rated-temperature = \"400 degF\"\nrated-for = [\"diesel\", \"B20\"]\nflow = \"26 gph\"")}},
}
