package rules_test

// Weight, clearance, driveline, gearing, brakes.

var dangerousMechanical = []variant{
	{"a crane of a ton and a quarter on the bed", []string{"weight/gross", "weight/rear-axle"}, []edit{
		with(`[part.crane]
name = "Crane"
origin = "bought"
mass = "2500 lb"
at = { behind = "140 in", right = "0 in", above = "50 in" }
fitted-on = 2026-04-15`)}},
	{"a winch on the nose that the scale never saw, and no date", []string{"weight/on-the-scale"}, []edit{
		with(`[part.winch]
role = "winch"
origin = "bought"
mass = "310 lb"
at = { behind = "-30 in", right = "0 in", above = "30 in" }`)}},
	{"a mass written twice, once in the engine's", []string{"weight/counted-once"}, []edit{
		set("part.starter", "counted-in", `"part.engine"`)}},
	{"half-flat tires", []string{"weight/tire-pressure"}, []edit{
		set("tire.lt-265-75-16e", "pressure", `"25 psi"`)}},
	{"tires whose pressure nobody knows", []string{"weight/tire-pressure"}, []edit{
		unset("tire.lt-265-75-16e", "pressure")}},
	{"tires made for 120 km/h on a truck driven at 75 mph", []string{"weight/tire-speed"}, []edit{
		set("tire.lt-265-75-16e", "speed-symbol", `"L"`)}},
	{"tires made for 81 mph on a truck driven at 90", []string{"weight/tire-speed"}, []edit{
		set("tire.lt-265-75-16e", "speed-symbol", `"M"`), set("vehicle", "top-speed", `"90 mph"`)}},
	{"nine seats, and only two people in the loads", []string{"weight/seated"}, []edit{
		set("vehicle", "seats", "9"), set("vehicle", "seats-at", `{ behind = "20 in", right = "0 in", above = "44 in" }`)}},
	{"a trailer whose tongue overloads the rear axle", []string{"weight/trailer"}, []edit{
		set("vehicle", "combined-rating", `"20000 lb"`), set("trailer", "mass", `"11000 lb"`), set("trailer", "tongue", `"1600 lb"`)}},
	{"a stop test from before the swap", []string{"brakes/stopping"}, []edit{
		set("test.stop", "date", "2025-08-20")}},
	{"a stop test without a date", []string{"brakes/stopping"}, []edit{
		unset("test.stop", "date")}},
	{"a stop test of the empty truck", []string{"brakes/stopping"}, []edit{
		set("test.stop", "readings.weight", `"6200 ± 20 lb"`)}},
	{"a stop test that nobody weighed the truck for", []string{"brakes/stopping"}, []edit{
		unset("test.stop", "readings.weight")}},
	{"calipers renewed after the stop test", []string{"brakes/stopping"}, []edit{
		with(`[part.front-calipers]
role = "brake-caliper"
origin = "bought"
count = 2
mass = "9 lb"
at = { behind = "0 in", right = "0 in", above = "15 in" }
fitted-on = 2026-04-16`)}},
	{"other springs after the stop test", []string{"brakes/stopping"}, []edit{
		set("vehicle.rear", "spring-rate-was", `"500 lb/in"`), set("vehicle.rear", "ride-change", `"-0.5 ± 0.1 in"`), set("vehicle.rear", "springs-fitted-on", "2026-04-17")}},
	{"a parking brake tried facing up only", []string{"brakes/parking"}, []edit{
		unset("test.parking", "readings.held-down")}},
	{"a parking brake that rolls facing down", []string{"brakes/parking"}, []edit{
		set("test.parking", "readings.held-down", "false")}},
	{"a parking brake tried on the level", []string{"brakes/parking"}, []edit{
		set("test.parking", "readings.grade", `"3.0 % ± 0.4 %"`)}},
	{"a parking brake tried before the other tires went on", []string{"brakes/parking"}, []edit{
		set("test.parking", "date", "2026-01-02")}},
	{"a booster gauged before the vacuum pump was renewed", []string{"brakes/assist"}, []edit{
		set("part.vacuum-pump", "fitted-on", "2026-04-15")}},
	{"no assisted stop left with the engine off", []string{"brakes/assist"}, []edit{
		set("test.booster", "readings.stops-left", "0")}},
	{"most of the braking at the rear", []string{"brakes/balance"}, []edit{
		set("test.brake-lane", "readings.front-brake", `"1450 ± 15 lbf"`), set("test.brake-lane", "readings.rear-brake", `"1120 ± 15 lbf"`)}},
	{"the rear wheels were seen to lock first", []string{"brakes/balance"}, []edit{
		set("test.stop", "readings.fronts-lock-first", "false")}},
	{"a proportioning valve changed after the brake lane", []string{"brakes/balance", "brakes/stopping"}, []edit{
		with(`[part.valve]
role = "proportioning-valve"
origin = "bought"
mass = "2 lb"
at = { behind = "60 in", right = "-20 in", above = "20 in" }
fitted-on = 2026-04-14`)}},
	{"front and rear axle of different ratios", []string{"driveline/axles-match"}, []edit{
		set("vehicle.front", "final-drive", `"4.10"`)}},
	{"other tires in front than behind, by 4 %", []string{"driveline/axles-match"}, []edit{
		set("vehicle.front", "tire", `"tire.odd"`), with(`[tire.odd]
size = "LT245/75R16"
service = "light-truck"
load-index = 123
load-rating = "3415 lb"
load-rating-dual = "3085 lb"
speed-symbol = "Q"
pressure = "80 psi"
max-pressure = "80 psi"
revs-per-mile = "684 rev/mi"`)}},
	{"a shaft tube of foil", []string{"driveline/shaft-torque"}, []edit{
		set("shaft.rear", "wall", `"0.012 in"`)}},
	{"a front shaft of exhaust pipe", []string{"driveline/shaft-torque"}, []edit{
		set("shaft.front", "wall", `"0.049 in"`), unset("shaft.front", "yield")}},
	{"a shaft that whips at 85 mph, of a truck that is said never to go there", []string{"driveline/critical-speed"}, []edit{
		set("vehicle", "top-speed", `"40 mph"`), set("shaft.rear", "tube", `"1.10 in"`), unset("shaft.rear", "yield")}},
	{"joints rated for half of what reaches them", []string{"driveline/shaft-torque"}, []edit{
		set("shaft.rear", "joint-rating", `"600 lb-ft"`)}},
	{"an adapter that nobody dialled in", []string{"driveline/alignment"}, []edit{
		unset("transmission", "bore-runout")}},
	{"a shaft read before the engine went in", []string{"driveline/remeasured"}, []edit{
		set("part.transfer-case", "fitted-on", "2026-04-09")}},
	{"a speedometer an eighth slow", []string{"gearing/road-speed-signal"}, []edit{
		set("speedometer", "measured", `"3480 ± 20 pulses/mi"`)}},
	{"a speedometer counted on the old tires", []string{"gearing/road-speed-signal"}, []edit{
		set("speedometer", "read", "2025-09-01")}},
	{"a grade climbed before the engine was changed", []string{"gearing/grade"}, []edit{
		set("test.quarry-ramp", "date", "2025-08-30")}},
	{"no steering gap", []string{"clearance/wanted"}, []edit{without("gap.steering-shaft-to-lift-pump")}},
	{"no gap from pan to axle", []string{"clearance/wanted"}, []edit{without("gap.pan-to-axle")}},
	{"no gap from tire to body, on other tires", []string{"clearance/wanted"}, []edit{without("gap.tire-to-fender")}},
	{"no gap at either shaft", []string{"clearance/wanted"}, []edit{without("gap.front-shaft-to-crossmember"), without("gap.rear-shaft-to-tank-strap")}},
	{"a pan that the axle hits at bump, its motion said to be none", []string{"clearance/gap"}, []edit{
		set("gap.pan-to-axle", "measured", `"3 3/8 ± 1/16 in"`), set("gap.pan-to-axle", "motion", `"0 in"`)}},
	{"gaps taped before the engine was fitted again", []string{"clearance/remeasured"}, []edit{
		set("part.engine", "fitted-on", "2026-04-09")}},
}

var soundMechanical = []variant{
	{"the rear shaft's angle read again, a tenth of a degree off", nil, []edit{
		set("shaft.rear", "slopes.shaft", `"5.5 ± 0.1 deg"`)}},
	{"a speedometer 2.75 % out", nil, []edit{
		set("speedometer", "measured", `"3890 ± 10 pulses/mi"`)}},
	{"a steep track that it started on, of 18 %: 20 % is practice, and a should", nil, []edit{
		set("test.quarry-ramp", "readings.grade", `"18 % ± 1 %"`)}},
	{"a tachometer 4 % out", nil, []edit{set("tachometer", "expects", `"17.3 pulses/rev"`)}},
	{"a fender gap whose motion is written 0 in", nil, []edit{
		set("gap.tire-to-fender", "motion", `"0 in"`)}},
	{"tires at 65 psi, enough for the load", nil, []edit{
		set("tire.lt-265-75-16e", "pressure", `"65 psi"`)}},
	{"tires at 45 psi by their maker's table", nil, []edit{
		set("tire.lt-265-75-16e", "pressure", `"45 psi"`), set("tire.lt-265-75-16e", "load-at-pressure", `"2270 lb"`)}},
	{"a tool box of 60 lb after all tests", nil, []edit{
		with(`[part.tool-box]
origin = "bought"
supplier = "Garrowby Gauge"
mass = "60 lb"
at = { behind = "150 in", right = "0 in", above = "44 in" }
fitted-on = 2026-04-19`)}},
	{"a stop test at 98 % of the loaded weight", nil, []edit{
		set("test.stop", "readings.weight", `"8020 ± 20 lb"`)}},
	{"brake pads of the day of the test", nil, []edit{
		with(`[part.front-pads]
role = "brake-pads"
origin = "bought"
supplier = "Garrowby Gauge"
mass = "4 lb"
at = { behind = "0 in", right = "0 in", above = "15 in" }
fitted-on = 2026-04-13`)}},
	{"the parking brake by a pull on the level", nil, []edit{
		unset("test.parking", "readings.held-up"), unset("test.parking", "readings.held-down"), set("test.parking", "readings.pull", `"1950 ± 20 lbf"`)}},
	{"a working anti-lock in place of the order of locking", nil, []edit{
		with("[brakes]\nanti-lock = \"rear\"\ndocument = \"document.drawing-register\""), set("test.brake-lane", "readings.front-brake", `"1700 ± 15 lbf"`)}},
	{"the old starter, counted in the engine that came out", nil, []edit{
		with(`[part.starter-was]
role = "starter"
origin = "original"
fitted = false
counted-in = "part.engine-was"`)}},
}
