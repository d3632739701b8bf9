package rules_test

// Fuel, coolant, oil: what runs in lines.

var dangerousFluids = []variant{
	{"a thin supply hose that is called a return", []string{"fuel/line-loss"}, []edit{
		set("hose.filter-to-pump", "role", `"return"`), set("hose.filter-to-pump", "bore", `"1/8 in"`)}},
	{"a thin supply hose that is called nothing", []string{"fuel/line-loss"}, []edit{
		unset("hose.filter-to-pump", "role"), set("hose.filter-to-pump", "bore", `"1/8 in"`)}},
	{"a stretch of the supply line that nobody wrote down", []string{"fuel/line-loss"}, []edit{without("hose.supply-line")}},
	{"a pump that is said to draw through anything", []string{"fuel/line-loss"}, []edit{
		set("fuel", "pump-allows", `"12 psi"`)}},
	{"diesel as thin as water", []string{"fuel/line-loss"}, []edit{set("fuel", "viscosity", `"0.8 cSt"`)}},
	{"a supply line that is said to pass less than the engine burns", []string{"fuel/line-loss"}, []edit{
		set("hose.filter-to-pump", "flow", `"4 gph"`)}},
	{"a return of brake tube", []string{"fuel/return-loss"}, []edit{set("hose.return-line", "bore", `"0.13 in"`)}},
	{"a return that ends in the air", []string{"fuel/return-loss"}, []edit{set("hose.return-line", "to", `"the rail"`)}},
	{"a pump that is said to return against anything", []string{"fuel/return-loss"}, []edit{set("fuel", "return-allows", `"25 psi"`)}},
	{"the gasoline pump left in the diesel's tank", []string{"fuel/gasoline-left-over"}, []edit{
		set("fuel", "in-tank-pump", `"kept"`), set("part.in-tank-pump", "fitted", "true")}},

	{"a radiator cap that holds nothing", []string{"cooling/cap"}, []edit{set("cooling", "cap", `"0 psi"`)}},
	{"a cap that holds nothing, of an engine that is said to ask none, and a top tank up to 228 °F", []string{"cooling/cap"}, []edit{
		set("cooling", "cap", `"0 psi"`), unset("cooling", "cap-asked"), set("cooling", "top-tank-limit", `"228 degF"`)}},
	{"a cap weaker than the engine asks", []string{"cooling/cap"}, []edit{set("cooling", "cap", `"7 psi"`)}},
	{"a cap that bursts the radiator", []string{"cooling/cap"}, []edit{set("cooling", "cap", `"35 psi"`)}},
	{"plain water that boils below the limit", []string{"cooling/cap"}, []edit{
		set("cooling", "cap", `"0 psi"`), set("cooling", "mix", `"0 %"`), unset("cooling", "cap-asked")}},
	{"a top tank that may get as hot as it likes", []string{"cooling/cap"}, []edit{set("cooling", "top-tank-limit", `"245 degF"`)}},
	{"a third of the heat, on the writer's word", []string{"cooling/heat"}, []edit{set("cooling", "rejected", `"40 kW"`)}},
	{"a design ambient of a day in May", []string{"cooling/heat"}, []edit{set("cooling", "ambient", `"65 degF"`)}},
	{"a top-tank test with the foot half down", []string{"cooling/air-to-boil"}, []edit{set("test.long-grade", "readings.full-throttle", "false")}},
	{"a top-tank test in a gear that hardly loads it", []string{"cooling/air-to-boil"}, []edit{
		set("test.long-grade", "readings.speed", `"33 ± 0.4 mph"`), set("test.long-grade", "readings.top-tank", `"140 ± 2 degF"`)}},
	{"a top-tank test at three quarters of the power, as hot as at all of it", []string{"cooling/air-to-boil"}, []edit{
		set("test.long-grade", "readings.speed", `"44 ± 0.4 mph"`)}},
	{"a top-tank test of which nobody knows the gear", []string{"cooling/air-to-boil"}, []edit{unset("test.long-grade", "readings.gear")}},
	{"a top-tank test of a truck that nobody weighed", []string{"cooling/air-to-boil"}, []edit{unset("test.long-grade", "readings.weight")}},
	{"a top-tank test from before the fan", []string{"cooling/air-to-boil"}, []edit{set("part.fan", "fitted-on", "2026-04-19")}},
	{"a top-tank test of the old engine", []string{"cooling/air-to-boil"}, []edit{set("test.long-grade", "date", "2025-08-20")}},
	{"an automatic whose cooler is said to have nothing to do", []string{"cooling/transmission-cooler"}, []edit{
		set("transmission", "kind", `"automatic"`), with(fluidCooler("2 kW", "1 kW", "250 degF"))}},
	{"an automatic whose fluid may get as hot as it likes", []string{"cooling/transmission-cooler"}, []edit{
		set("transmission", "kind", `"automatic"`), with(fluidCooler("15 kW", "7 kW", "380 degF"))}},
	{"a water-side cooler behind the heater's valve", []string{"hookups/usual-questions"}, []edit{
		with("[part.heater-valve]\nrole = \"heater-valve\"\norigin = \"original\"\n[part.oil-cooler]\nrole = \"oil-cooler\"\norigin = \"bought\"\nmass = \"2 lb\"\n" +
			"at = { behind = \"20 in\", right = \"0 in\", above = \"30 in\" }\norder-as = \"cooler\"\n" +
			"[radiator.oil]\npart = \"part.oil-cooler\"\ncools = \"oil\"\ncooled-by = \"coolant\"\nheat = \"2 kW\""),
		set("loop.heater", "through", `["part.engine", "hose.heater-supply", "part.heater-core", "part.oil-cooler", "hose.heater-return"]`), set("hose.heater-return", "from", `"part.oil-cooler"`)}},
}

// fluidCooler is a transmission cooler in the air, by what it gives up at 150 °F,
// what it is said to have to and the hottest fluid allowed.
func fluidCooler(rating, heat, limit string) string {
	return "[part.fluid-cooler]\nrole = \"transmission-cooler\"\norigin = \"bought\"\nmass = \"5 lb\"\nat = { behind = \"-28 in\", right = \"0 in\", above = \"30 in\" }\norder-as = \"cooler\"\n" +
		"[radiator.fluid]\npart = \"part.fluid-cooler\"\ncools = \"transmission\"\nrating = \"" + rating + "\"\nrating-difference = \"150 degF\"\nheat = \"" + heat + "\"\ninlet-limit = \"" + limit + "\""
}

var soundFluids = []variant{
	{"the supply by a gauge at the pump, its hoses not asked", nil, []edit{
		unset("hose.supply-line", "length"),
		with("[test.inlet]\nkind = \"fuel-supply\"\ndate = 2026-04-18\nreadings = { vacuum = \"3.2 ± 0.2 inHg\" }")}},
	{"a pickup hose in the tank, ahead of the sender", nil, []edit{
		with("[hose.pickup]\ncarries = \"fuel\"\nmaterial = \"fkm-peroxide-cured\"\nfrom = \"part.fuel-tank\"\nto = \"part.fuel-sender\"\nbore = \"3/8 in\"\nlength = \"8 in\"\nclamps = \"stainless band\"\n" +
			"role = \"supply\"\npressure = \"1 psi\"\ntemperature = \"110 degF\"\nimmersed = true\nrated-immersed = true\nrated-pressure = \"50 psi\"\n" +
			"rated-temperature = \"257 degF\"\nrated-for = [\"diesel\", \"B20\"]\nflow = \"26 gph\"\norder-as = \"hose\"")}},
	{"the return by the donor's, a little shorter", nil, []edit{
		unset("fuel", "return-allows"), set("fuel", "return-bore-was", `"0.243 in"`), set("fuel", "return-length-was", `"150 in"`)}},
	{"plain water under a cap of 4 psi: 10 K is practice, and a should", nil, []edit{
		set("cooling", "cap", `"4 psi"`), set("cooling", "mix", `"0 %"`), unset("cooling", "cap-asked")}},
	{"an owner who never leaves the cool coast", nil, []edit{set("cooling", "ambient", `"84 degF"`)}},
	{"a cap of what the engine asks and no more", nil, []edit{set("cooling", "cap", `"13 psi"`)}},
	{"an old engine's cap of 7 psi, as it asks", nil, []edit{set("cooling", "cap", `"7.0 psi"`), set("cooling", "cap-asked", `"7 psi"`)}},
	{"a top-tank test at nine tenths of the power, that much cooler", nil, []edit{
		set("test.long-grade", "readings.speed", `"53.5 ± 0.4 mph"`), set("test.long-grade", "readings.top-tank", `"170 ± 2 degF"`)}},
	{"the engine's speed off the tachometer in place of the gear", nil, []edit{
		unset("test.long-grade", "readings.gear"), set("test.long-grade", "readings.engine-speed", `"2520 ± 15 rpm"`)}},
	{"the old top-tank test left in the ledger", nil, []edit{
		with("[test.before]\nkind = \"top-tank\"\ndate = 2025-08-10\nreadings = { top-tank = \"205 degF\", ambient = \"90 degF\" }")}},
	{"the old grade test left in the ledger", nil, []edit{
		with("[test.ramp-before]\nkind = \"grade\"\ndate = 2025-08-10\nreadings = { grade = \"21 % ± 1 %\", started = true }")}},
	{"heat on the low side of what is usual", nil, []edit{set("cooling", "rejected", `"55 kW"`)}},
	{"the return near its limit", nil, []edit{set("fuel", "return-allows", `"2.4 psi"`)}},
}
