package rules_test

// What nobody wrote down, or wrote down in a word that says nothing: hoses, what
// the fuel touches, consumers without a circuit, pins the wrong way round.

// anyHose is a hose between two parts, held by clamps.
func anyHose(id, carries, material, from, to, more string) edit {
	return with("[hose." + id + "]\ncarries = \"" + carries + "\"\nmaterial = \"" + material + "\"\nfrom = \"part." + from + "\"\nto = \"part." + to + "\"\nclamps = \"worm drive\"\n" + more)
}

var dangerousOverlooked = []variant{
	{"a heater hose of vinyl", []string{"hookups/hoses"}, []edit{set("hose.heater-supply", "material", `"PVC"`)}},
	{"a radiator hose of natural rubber", []string{"hookups/hoses"}, []edit{set("hose.radiator-top", "material", `"natural-rubber"`)}},
	{"a radiator hose of nobody knows what", []string{"hookups/hoses"}, []edit{unset("hose.radiator-top", "material")}},
	{"a radiator hose on zip ties", []string{"hookups/hoses"}, []edit{set("hose.radiator-top", "clamps", `"zip ties"`)}},
	{"a radiator hose that its maker rates below the cap", []string{"hookups/hoses"}, []edit{
		set("hose.radiator-top", "rated-pressure", `"10 psi"`), set("hose.radiator-top", "pressure", `"5 psi"`)}},
	{"a heater hose that its maker rates below the top tank", []string{"hookups/hoses"}, []edit{set("hose.heater-supply", "rated-temperature", `"200 degF"`)}},
	{"a brake hose of nitrile", []string{"hookups/hoses"}, []edit{anyHose("brake", "brake-fluid", "nbr", "frame", "front-axle", "")}},
	{"a brake line of copper", []string{"hookups/hoses"}, []edit{anyHose("brake", "brake-fluid", "copper", "frame", "front-axle", "")}},
	{"a steering hose of heater hose", []string{"hookups/hoses"}, []edit{anyHose("steering", "power-steering-fluid", "epdm", "power-steering-pump", "steering-box", `rated-pressure = "2000 psi"`)}},
	{"a steering hose of a cooler's pressure", []string{"hookups/hoses"}, []edit{anyHose("steering", "power-steering-fluid", "nbr", "power-steering-pump", "steering-box", `rated-pressure = "250 psi"`)}},
	{"a steering hose that nobody rates", []string{"hookups/hoses"}, []edit{anyHose("steering", "power-steering-fluid", "nbr", "power-steering-pump", "steering-box", "")}},
	{"oil to the turbocharger in heater hose", []string{"hookups/hoses"}, []edit{anyHose("turbo-oil", "engine-oil", "epdm", "engine", "turbocharger", "")}},
	{"the booster's vacuum in vinyl tube", []string{"hookups/hoses"}, []edit{anyHose("vacuum", "vacuum", "pvc", "vacuum-pump", "brake-booster", "")}},
	{"a fuel hose that nothing holds", []string{"fuel/hose-class"}, []edit{unset("hose.filter-to-pump", "clamps"), unset("hose.filter-to-pump", "joined")}},

	{"nothing written of what the fuel touches", []string{"fuel/wetted"}, []edit{
		without("wetted.tank-wall"), without("wetted.pickup"), without("wetted.sender-seal"), without("wetted.filler"), without("wetted.lines"),
		without("wetted.filter-head"), without("wetted.filter-seal"), without("wetted.lift-pump-seal"), without("wetted.injection-pump-seals")}},
	{"the lift pump's seals left out, and B20 in the tank", []string{"fuel/wetted"}, []edit{without("wetted.lift-pump-seal")}},
	{"the filter's head written, and not its seal", []string{"fuel/wetted"}, []edit{without("wetted.filter-seal")}},
	{"the gasoline tank's wall left out", []string{"fuel/wetted"}, []edit{without("wetted.tank-wall")}},

	{"what stops the engine, as Teo knows", []string{"hookups/usual-questions"}, []edit{set("answer.engine-stop", "says", `"ask Teo"`)}},
	{"a runaway that is on the phone", []string{"hookups/usual-questions"}, []edit{set("answer.runaway", "says", `"see my phone, photos of Thursday"`)}},
	{"exhaust gas in the cab: ok", []string{"hookups/usual-questions"}, []edit{set("answer.cab-air", "says", `"ok"`)}},
	{"a steering that looks fine", []string{"hookups/usual-questions"}, []edit{set("answer.steering-joints", "says", `"looks fine to me"`)}},
	{"a throttle's return tried by Teo, who says that it works", []string{"hookups/usual-questions"}, []edit{set("answer.throttle-return", "says", `"Teo tried it Tuesday, works great"`)}},
	{"an interlock later", []string{"hookups/usual-questions"}, []edit{set("answer.starter-interlock", "says", `"will do that next week"`)}},

	{"the panel's power and ground the wrong way round at the loom", []string{"harness/polarity"}, []edit{
		set("plug.engine-loom", "pins.2.to", `"part.engine"`), set("plug.engine-loom", "pins.3.to", `"part.fuse-block"`),
		set("plug.engine-loom", "pins.2.function", `"ground"`), set("plug.engine-loom", "pins.3.function", `"power"`),
		set("plug.bulkhead", "pins.2.function", `"ground"`), set("plug.bulkhead", "pins.3.function", `"power"`),
		set("plug.dash", "pins.1.function", `"ground"`), set("plug.dash", "pins.2.function", `"power"`)}},
	{"the panel's power and ground swapped behind the dash", []string{"harness/polarity"}, []edit{
		set("plug.dash", "pins.1.to", `"splice.dash-ground"`), set("plug.dash", "pins.2.to", `"plug.bulkhead:2"`), set("plug.bulkhead", "pins.2.to", `"plug.dash:2"`),
		set("splice.dash-ground", "joins", `["plug.bulkhead:3", "plug.dash:1", "part.body-harness"]`)}},
	{"a panel that nobody says which way round to feed", []string{"harness/polarity"}, []edit{
		unset("plug.instruments", "pins.1.function"), unset("plug.instruments", "pins.2.function"),
		set("plug.engine-loom", "pins.2.to", `"part.engine"`), set("plug.engine-loom", "pins.3.to", `"part.fuse-block"`)}},
	{"the panel's supply in the engine's ground", []string{"harness/polarity"}, []edit{set("plug.engine-loom", "pins.3.to", `"part.fuse-block"`)}},

	{"a winch and no circuit", []string{"wiring/supplied"}, []edit{fittedOn("winch", "winch", "2026-04-05")}},
	{"an electric fuel pump and no circuit", []string{"wiring/supplied"}, []edit{fittedOn("pump", "fuel-pump", "2026-04-03")}},
	{"an electric fan ahead of the radiator and no circuit", []string{"wiring/supplied"}, []edit{fittedOn("front-fan", "fan", "2026-04-03")}},
	{"a cab heater and no circuit", []string{"wiring/supplied"}, []edit{fittedOn("cab-heater", "cab-heater", "2026-04-05")}},
	{"the beacon's circuit left out, and the beacon on the roof", []string{"wiring/supplied"}, []edit{without("circuit.beacon")}},
	{"a horn moved, on wires that nobody wrote down", []string{"wiring/supplied"}, []edit{
		with("[part.horn]\nrole = \"horn\"\norigin = \"original\"\nmass = \"1 lb\"\nat = { behind = \"60 in\", right = \"0 in\", above = \"30 in\" }\nwas-at = { behind = \"-20 in\", right = \"0 in\", above = \"30 in\" }")}},

	{"a second battery on cables that nobody wrote down", []string{"wiring/supplied"}, []edit{
		fittedOn("battery-two", "battery", "2026-03-20")}},
	{"a strap for a lamp, and the main feed that does not say how it returns", []string{"wiring/grounds"}, []edit{
		unset("circuit.main-feed", "return"), set("circuit.frame-strap", "gauge", `"6 AWG"`), set("circuit.body-ground", "gauge", `"6 AWG"`)}},
	{"the brakes adjusted after the stop", []string{"brakes/stopping"}, []edit{
		with("[work.brakes]\nparts = [\"part.brake-booster\"]\ndid = \"adjusted\"\nby = \"June Farrow\"\ndate = 2026-04-18")}},
	{"the heater's hoses in no list", []string{"cooling/loops"}, []edit{without("loop.heater"), without("hose.heater-supply"), without("hose.heater-return")}},
	{"a radiator bolted to the engine, by the ledger", []string{"cooling/loops"}, []edit{
		without("hose.radiator-top"), set("loop.water", "through", `["part.engine", "part.radiator", "hose.radiator-bottom"]`)}},
	{"a heater hose that is said to carry exhaust, and is of vinyl", []string{"cooling/loops"}, []edit{
		set("hose.heater-supply", "carries", `"exhaust"`), set("hose.heater-supply", "material", `"pvc"`)}},
	{"a loop of coolant that is said to be of fuel", []string{"cooling/loops"}, []edit{set("loop.heater", "carries", `"fuel"`)}},
	{"a fill hose on a filler that came off", []string{"fuel/hose-class"}, []edit{set("part.filler-neck", "fitted", "false")}},
	{"heater hoses on a core that came off", []string{"hookups/hoses"}, []edit{set("part.heater-core", "fitted", "false")}},
	{"a tank's vent with a bolt in it", []string{"fuel/diesel-needs"}, []edit{set("fuel", "vent", `"plugged with a bolt until the valve comes"`)}},
	{"a tank's vent that Teo knows", []string{"fuel/diesel-needs"}, []edit{set("fuel", "vent", `"ask Teo"`)}},
	{"a tank of our own ahead of the front axle", []string{"fuel/tank-place"}, []edit{
		set("part.fuel-tank", "was-at", `{ behind = "98 in", right = "-15 in", above = "23 in" }`), set("part.fuel-tank", "at", `{ behind = "-24 in", right = "0 in", above = "23 in" }`)}},
	{"the new fuel lines never measured to the shaft", []string{"clearance/wanted"}, []edit{without("gap.fuel-line-to-front-shaft")}},

	{"a winch counted in the bumper, and no circuit to either", []string{"wiring/supplied"}, []edit{
		fittedOn("winch", "winch", "2026-04-05"), set("part.winch", "counted-in", `"part.hitch"`)}},
	{"a steering box that is said to need next to nothing", []string{"hookups/fed"}, []edit{
		set("part.steering-box", "needs.hydraulic-assist.least", `"50 psi"`), set("part.power-steering-pump", "gives.hydraulic-assist", `"60 psi"`)}},
	{"an engine that is the one that came out", []string{"hookups/orphaned"}, []edit{set("engine", "part", `"part.engine-was"`)}},
	{"a loom that is said to have come off with the old battery, and is plugged in", []string{"harness/both-ends"}, []edit{
		set("plug.engine-loom", "mounted-on", `"part.battery-was"`)}},
	{"a leaking brake line, to be renewed some day", []string{"paperwork/steps-done"}, []edit{
		with("[work.line]\ntitle = \"renew the brake line, it leaks\"\nparts = [\"part.frame\"]\ndid = \"renewed\"\nstage = \"road-test\"")}},
}

var soundOverlooked = []variant{
	{"heater hoses of silicone", nil, []edit{
		set("hose.heater-supply", "material", `"silicone"`), set("hose.heater-return", "material", `"silicone"`)}},
	{"a radiator hose rated at the cap and the top tank", nil, []edit{
		set("hose.radiator-top", "rated-pressure", `"16 psi"`), set("hose.radiator-top", "rated-temperature", `"213 degF"`)}},
	{"a heater hose of nitrile, watched", nil, []edit{set("hose.heater-return", "material", `"nbr"`)}},
	{"a radiator hose crimped, and no clamp", nil, []edit{unset("hose.radiator-top", "clamps")}},
	{"a brake hose of EPDM and a line of steel", nil, []edit{
		anyHose("brake", "brake-fluid", "epdm", "frame", "front-axle", ""), anyHose("brake-line", "brake-fluid", "steel", "brake-booster", "frame", "")}},
	{"a steering hose rated as its pump", nil, []edit{
		anyHose("steering", "power-steering-fluid", "nbr", "power-steering-pump", "steering-box", `rated-pressure = "1500 psi"`),
		anyHose("steering-return", "power-steering-fluid", "nbr", "steering-box", "power-steering-pump", `role = "return"`)}},
	{"diesel only, and the donor's diesel pumps unasked", nil, []edit{
		set("fuel", "carries", `["diesel"]`), without("wetted.lift-pump-seal"), without("wetted.injection-pump-seals")}},
	{"a fuel hose by its joint", nil, []edit{unset("hose.filter-to-pump", "clamps")}},
	{"answers in few words", nil, []edit{
		set("answer.cab-air", "says", `"No smell, no reading."`), set("answer.starter-interlock", "says", `"Clutch switch."`), set("answer.engine-stop", "says", `"Pull cable."`)}},
	{"answers in other words", nil, []edit{
		set("answer.cab-air", "says", `"Medidor en el asiento, veinte minutos: nada"`), set("answer.runaway", "says", `"Заслонка на впуске"`)}},
	{"an answer that names what it points to", nil, []edit{set("answer.cuts", "says", `"See the crossmember's drawing; Teo welded it."`)}},
	{"a panel fed by the ignition, and grounded at the frame", nil, []edit{
		set("plug.engine-loom", "pins.3.to", `"part.frame"`), set("plug.instruments", "pins.1.function", `"ignition"`), set("plug.dash", "pins.1.function", `"ignition"`),
		set("plug.bulkhead", "pins.2.function", `"ignition"`), set("plug.engine-loom", "pins.2.function", `"ignition"`)}},
	{"no function on the way, and both at the panel", nil, []edit{
		unset("plug.engine-loom", "pins.2.function"), unset("plug.engine-loom", "pins.3.function"), unset("plug.bulkhead", "pins.2.function"), unset("plug.bulkhead", "pins.3.function"),
		unset("plug.dash", "pins.1.function"), unset("plug.dash", "pins.2.function")}},
	{"a winch on its own fuse", nil, []edit{
		fittedOn("winch", "winch", "2026-04-05"), set("part.winch", "at", `{ behind = "-30 in", right = "0 in", above = "24 in" }`),
		with("[circuit.winch]\nfrom = \"part.battery\"\nto = [\"part.winch\"]\nload = \"250 A\"\nduty = \"momentary\"\ngauge = \"4/0 AWG\"\ninsulation = \"SGX\"\nlength = \"60 in\"\nreturn = \"wire\"\nzone = \"zone.engine-bay\"\nfuse = \"300 A\"\nfuse-from-source = \"5 in\"")}},
	{"a winch that the steering pump works", nil, []edit{
		fittedOn("winch", "winch", "2026-04-05"), set("part.winch", "needs.hydraulic-assist", `{ least = "1000 psi", from = "part.power-steering-pump" }`)}},
	{"a horn of the truck's own", nil, []edit{
		with("[part.horn]\nrole = \"horn\"\norigin = \"original\"")}},
	{"a feed that does not say how it returns, and a strap that carries it", nil, []edit{unset("circuit.main-feed", "return")}},
	{"the brakes adjusted the day before the stop", nil, []edit{
		with("[work.brakes]\nparts = [\"part.brake-booster\"]\ndid = \"adjusted\"\nby = \"June Farrow\"\ndate = 2026-04-13")}},
	{"heater hoses of plain water", nil, []edit{set("hose.heater-supply", "carries", `"water"`), set("hose.heater-return", "carries", `"water"`)}},
	{"a vent by the cap", nil, []edit{set("fuel", "vent", `"vented cap"`)}},
	{"fuel lines of the truck's own, unmeasured to the shaft", nil, []edit{
		set("part.fuel-lines", "origin", `"original"`), unset("part.fuel-lines", "made"), without("gap.fuel-line-to-front-shaft")}},
	{"a steering box that needs 800 psi", nil, []edit{set("part.steering-box", "needs.hydraulic-assist.least", `"800 psi"`)}},
	{"a headliner for a later visit", nil, []edit{with("[work.trim]\ntitle = \"another headliner\"\ndid = \"renewed\"")}},
	{"a beacon counted in the lamps of the bed", nil, []edit{set("part.beacon", "counted-in", `"part.bed-lamps"`), unset("part.beacon", "mass"), without("circuit.beacon")}},
}
