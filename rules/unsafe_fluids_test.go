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
}

var soundFluids = []variant{
	{"the supply by a gauge at the pump, its hoses not asked", nil, []edit{
		unset("hose.supply-line", "length"),
		with("[test.inlet]\nkind = \"fuel-supply\"\ndate = 2026-04-18\nreadings = { vacuum = \"3.2 ± 0.2 inHg\" }")}},
	{"a pickup hose in the tank, ahead of the sender", nil, []edit{
		with("[hose.pickup]\ncarries = \"fuel\"\nmaterial = \"fkm-peroxide-cured\"\nfrom = \"part.fuel-tank\"\nto = \"part.fuel-sender\"\nbore = \"3/8 in\"\nlength = \"8 in\"\n" +
			"role = \"supply\"\npressure = \"1 psi\"\ntemperature = \"110 degF\"\nimmersed = true\nrated-immersed = true\nrated-pressure = \"50 psi\"\n" +
			"rated-temperature = \"257 degF\"\nrated-for = [\"diesel\", \"B20\"]\nflow = \"26 gph\"\norder-as = \"hose\"")}},
	{"the return by the donor's, a little shorter", nil, []edit{
		unset("fuel", "return-allows"), set("fuel", "return-bore-was", `"0.243 in"`), set("fuel", "return-length-was", `"150 in"`)}},
	{"the return near its limit", nil, []edit{set("fuel", "return-allows", `"2.4 psi"`)}},
}
