package rules_test

// Hookups, street, paperwork: what must be fed, what was never asked or tried,
// what the road looks at, what nobody wrote down.

var dangerousPapers = []variant{
	{"the vacuum pump left off, the booster still on it", []string{"hookups/fed", "hookups/orphaned"}, []edit{
		set("part.vacuum-pump", "fitted", "false")}},
	{"the booster's hose still on the engine that came out", []string{"hookups/fed", "hookups/orphaned"}, []edit{
		set("part.brake-booster", "needs.vacuum.from", `"part.engine-was"`)}},
	{"a worn pump that gives the booster too little vacuum", []string{"hookups/fed"}, []edit{
		set("part.vacuum-pump", "gives.vacuum", `"12 inHg"`)}},
	{"the steering pump left off", []string{"hookups/fed", "hookups/orphaned"}, []edit{
		set("part.power-steering-pump", "fitted", "false")}},
	{"a steering pump that opens far below what the box wants", []string{"hookups/fed"}, []edit{
		set("part.power-steering-pump", "gives.hydraulic-assist", `"600 psi"`)}},
	{"oil to the turbocharger pinched", []string{"hookups/fed"}, []edit{
		set("part.engine", "gives.turbo-oil", `"9 psi"`)}},
	{"a radiator that gives up less than the engine makes", []string{"hookups/fed"}, []edit{
		set("part.radiator", "gives.coolant-cooling", `"90 kW"`)}},
	{"the speedometer's sender an eighth out", []string{"hookups/fed"}, []edit{
		set("part.speed-sender", "gives.road-speed-signal", `"4500 pulses/mi"`)}},

	{"the throttle's return never tried", []string{"hookups/usual-questions"}, []edit{without("answer.throttle-return")}},
	{"the throttle's return tried, nobody knows when", []string{"hookups/usual-questions"}, []edit{unset("answer.throttle-return", "date")}},
	{"another throttle cable since the throttle was tried", []string{"hookups/usual-questions"}, []edit{
		set("part.throttle-cable", "fitted-on", "2026-04-10")}},
	{"nothing but the key stops the engine", []string{"hookups/usual-questions"}, []edit{without("answer.engine-stop")}},
	{"nothing stops a runaway", []string{"hookups/usual-questions"}, []edit{without("answer.runaway")}},
	{"nothing tells of low oil pressure", []string{"hookups/usual-questions"}, []edit{without("answer.oil-pressure")}},
	{"nothing tells of hot coolant", []string{"hookups/usual-questions"}, []edit{without("answer.coolant-temperature")}},
	{"nothing tells that the battery is not charged", []string{"hookups/usual-questions"}, []edit{without("answer.charge-warning")}},
	{"it starts in gear", []string{"hookups/usual-questions"}, []edit{without("answer.starter-interlock")}},
	{"the new steering shaft never tried from lock to lock", []string{"hookups/usual-questions"}, []edit{without("answer.steering-joints")}},
	{"another steering shaft since the steering was tried", []string{"hookups/usual-questions", "paperwork/torqued"}, []edit{
		set("part.steering-shaft", "fitted-on", "2026-04-10")}},
	{"the old tank never cleaned, nor tried low", []string{"hookups/usual-questions"}, []edit{without("answer.tank-pickup")}},
	{"exhaust gas in the cab never looked for", []string{"hookups/usual-questions"}, []edit{without("answer.cab-air")}},
	{"another downpipe since exhaust gas was looked for", []string{"hookups/usual-questions"}, []edit{
		set("part.downpipe", "fitted-on", "2026-04-18")}},
	{"nobody says what was cut and welded", []string{"hookups/usual-questions"}, []edit{without("answer.cuts")}},
	{"an electric pump that a crash does not stop", []string{"hookups/usual-questions"}, []edit{
		with("[part.electric-pump]\nrole = \"fuel-pump\"\norigin = \"bought\"\nmass = \"2 lb\"\nat = { behind = \"60 in\", right = \"-15 in\", above = \"21 in\" }\n" +
			"[circuit.electric-pump]\nlike = \"circuit.pump-hold\"\nto = [\"part.electric-pump\"]")}},
	{"an automatic, and park never tried", []string{"hookups/usual-questions"}, []edit{
		set("transmission", "kind", `"automatic"`)}},
	{"new brake hoses that nobody looked at on full lock", []string{"hookups/usual-questions"}, []edit{
		with("[part.brake-hoses]\nrole = \"brake-hose\"\norigin = \"bought\"\nmass = \"1 lb\"\nat = { behind = \"0 in\", right = \"0 in\", above = \"20 in\" }\norder-as = \"hose\"")}},

	{"no bolt torqued, or nobody says so", []string{"paperwork/torqued"}, []edit{without("work.bolts")}},
	{"paint on the bolts, and no wrench", []string{"paperwork/torqued"}, []edit{set("work.bolts", "did", `"coated"`)}},
	{"the engine's mounts left out of the round with the wrench", []string{"paperwork/torqued"}, []edit{
		set("work.bolts", "parts", `["part.transmission-mount", "part.bell-housing", "part.clutch", "part.transmission", "part.transfer-case", "part.rear-driveshaft", "part.front-driveshaft", "part.steering-shaft"]`)}},
	{"the front axle's load a guess", []string{"paperwork/measured"}, []edit{set("weighing.as-built", "front", `"~3765 lb"`)}},
	{"the fan's gap a guess", []string{"paperwork/measured"}, []edit{set("gap.fan-to-core", "measured", `"~1 7/8 in"`)}},
	{"mounts that no drawing and no photo shows", []string{"paperwork/origin"}, []edit{unset("part.engine-mount", "made.drawing")}},

	{"headlamps above the federal height", []string{"street/lamp-heights"}, []edit{set("lamp.headlamps", "height", `"55 ± 1/4 in"`)}},
	{"headlamps measured before the tires", []string{"street/lamp-heights"}, []edit{set("lamp.headlamps", "read", "2025-09-01")}},
	{"front tires that stand out of the body", []string{"street/tire-cover"}, []edit{set("vehicle.front", "fender-cover", `"-1/2 in"`)}},
	{"a deck of our own, and no stop lamps", []string{"street/rear-lamps"}, []edit{
		with("[part.deck]\nrole = \"bed\"\norigin = \"made\"\nmade = { material = \"steel\", process = \"welded\", drawing = \"document.drawing-register\" }\n" +
			"mass = \"40 lb\"\nat = { behind = \"120 in\", right = \"0 in\", above = \"40 in\" }\nfitted-on = 2026-04-15")}},
	{"a belt sewn by nobody knows whom", []string{"street/belts"}, []edit{unset("seat-belt.middle", "certificate")}},
	{"work lamps that come on with the high beam", []string{"street/auxiliary-lamps"}, []edit{
		set("lamp.bed-lamps", "switched-with", `"the high beam"`)}},
	{"a booster by a word that no list has", []string{"ledger/words"}, []edit{set("part.brake-booster", "role", `"break-boster"`)}},
}

var soundPapers = []variant{
	{"another owner", nil, []edit{set("owner", "name", `"Ida Tornquist"`)}},
	{"a pump that gives the booster just enough vacuum", nil, []edit{set("part.vacuum-pump", "gives.vacuum", `"15.5 inHg"`)}},
	{"a port left over and capped", nil, []edit{set("part.vacuum-pump", "gives.compressed-air", `"2 psi"`)}},
	{"the steering shaft fitted, torqued and tried on one day", nil, []edit{
		set("part.steering-shaft", "fitted-on", "2026-04-06"), set("gap.steering-shaft-to-lift-pump", "read", "2026-04-06")}},
	{"the bolts torqued on two days by two people", nil, []edit{
		set("work.bolts", "parts", `["part.bell-housing", "part.clutch", "part.transmission", "part.transfer-case", "part.rear-driveshaft", "part.front-driveshaft", "part.steering-shaft"]`),
		with("[work.mount-bolts]\nparts = [\"part.engine-mount\", \"part.transmission-mount\"]\ndid = \"torqued\"\nby = \"June Farrow\"\ndate = 2026-04-07")}},
	{"a photo of the mounts in place of a drawing", nil, []edit{
		unset("part.engine-mount", "made.drawing"),
		set("document.photo-register", "proves", `["part.fan", "part.turbocharger", "part.rear-driveshaft", "part.front-driveshaft", "part.fuel-tank", "part.engine-mount"]`)}},
	{"the fan's gap as a tape's fraction", nil, []edit{set("gap.fan-to-core", "measured", `"1 7/8 in"`)}},
	{"headlamps near the top of what is allowed", nil, []edit{set("lamp.headlamps", "height", `"53 3/4 ± 1/8 in"`)}},
	{"a hand-operated stop in place of an answer", nil, []edit{
		without("answer.engine-stop"),
		with("[part.stop-cable]\nname = \"Stop cable\"\nrole = \"engine-stop\"\norigin = \"bought\"\nmass = \"0 to 1 lb\"\nat = { behind = \"20 in\", right = \"-12 in\", above = \"40 in\" }\nfitted-on = 2026-04-03")}},
	{"body panels off the donor, with all the lamps of a rear", nil, []edit{
		with("[part.tailgate]\nrole = \"body-panel\"\norigin = \"bought\"\nmass = \"1 lb\"\nat = { behind = \"180 in\", right = \"0 in\", above = \"40 in\" }\n" +
			"[lamp.stop]\nkind = \"stop\"\nheight = \"40 1/2 in\"\nread = 2026-04-12\n[lamp.rear-turn]\nkind = \"turn-signal\"\nheight = \"40 1/2 in\"\nread = 2026-04-12\n[lamp.plate]\nkind = \"plate\"")}},
}
