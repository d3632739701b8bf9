package rules_test

// Where things stand: what heat spoils by the hot end of the exhaust, shafts that do not
// reach, heights, places and figures that no vehicle has.

// at is a place as a ledger has it.
func at(behind, right, above string) string {
	return `{ behind = "` + behind + `", right = "` + right + `", above = "` + above + `" }`
}

var dangerousGeometry = []variant{
	{"a fuel filter inside the downpipe", []string{"clearance/near-hot"}, []edit{set("part.fuel-filter", "at", at("12 in", "12 in", "26 in"))}},
	{"a battery against the turbocharger", []string{"clearance/near-hot"}, []edit{set("part.battery", "at", at("1 in", "11 in", "35 in"))}},
	{"a booster over the downpipe", []string{"clearance/near-hot"}, []edit{set("part.brake-booster", "at", at("14 in", "11 in", "30 in"))}},
	{"a tank whose wall stands at the exhaust pipe", []string{"clearance/near-hot"}, []edit{
		set("tank.main", "at", at("98 in", "2 in", "23 in")), set("part.fuel-tank", "at", at("98 in", "2 in", "23 in"))}},
	{"a filter inside the downpipe, and a gap of five inches between the two", []string{"clearance/along"}, []edit{
		set("part.fuel-filter", "at", at("12 in", "12 in", "26 in")), gapBetween("filter", "exhaust-to-fuel", "part.fuel-filter", `5 ± 1/8 in`)}},
	{"a filter near the downpipe, its gap called an access", []string{"clearance/near-hot"}, []edit{
		set("part.fuel-filter", "at", at("14 in", "4 in", "26 in")), with("[gap.filter]\nbetween = [\"part.downpipe\", \"part.fuel-filter\"]\nkind = \"filter-access\"\nmeasured = \"1 ± 1/16 in\"\nleast = \"1/2 in\"\nread = 2026-04-03")}},
	{"a filter near the downpipe, and the gap that was read is to what is further off", []string{"clearance/hot-parts"}, []edit{
		set("part.fuel-filter", "at", at("14 in", "-2 in", "26 in"))}},
	{"the fuel's gap read at the muffler alone", []string{"clearance/hot-parts"}, []edit{without("gap.downpipe-to-fuel-hose")}},
	{"the brake line's gap read at the rear axle", []string{"clearance/hot-parts"}, []edit{set("gap.downpipe-to-brake-line", "between", `["part.exhaust-pipe", "brake line over the axle"]`)}},
	{"the wiring's gap read at the tail", []string{"clearance/hot-parts"}, []edit{set("gap.downpipe-to-heater-cable", "between", `["part.exhaust-pipe", "tail lamp wire"]`)}},
	{"the rubber's gap read at the muffler", []string{"clearance/hot-parts"}, []edit{set("gap.turbo-to-mount-rubber", "between", `["part.muffler", "hanger"]`)}},
	{"a floor over the exhaust that nobody taped", []string{"clearance/hot-parts"}, []edit{without("gap.exhaust-to-floor")}},
}

var soundGeometry = []variant{
	{"a fuel filter 13.4 in from the downpipe, and its gap", nil, []edit{
		set("part.fuel-filter", "at", at("14 in", "-2 in", "26 in")), gapBetween("filter", "exhaust-to-fuel", "part.fuel-filter", `9 1/2 ± 1/8 in`)}},
	{"a fuel filter 9 in from the downpipe, its gap read and shielded", nil, []edit{
		set("part.fuel-filter", "at", at("18 in", "4 in", "24 in")), gapBetween("filter", "exhaust-to-fuel", "part.fuel-filter", `4 3/4 ± 1/8 in`), set("gap.filter", "shielded", "true")}},
	{"a battery 12.8 in from the turbocharger", nil, []edit{set("part.battery", "at", at("-12 in", "16 in", "35 in"))}},
	{"the tank three inches nearer to the exhaust", nil, []edit{
		set("tank.main", "at", at("98 in", "-12 in", "23 in")), set("part.fuel-tank", "at", at("98 in", "-12 in", "23 in"))}},
	{"the hot end in plain words", nil, []edit{set("gap.downpipe-to-brake-line", "between", `["downpipe", "brake line, right rail"]`)}},
	{"the pump of the same donor near its turbocharger", nil, []edit{
		set("part.injection-pump", "at", `{ from = "assembly.powertrain", behind = "-20 in", right = "0 in", above = "8 in" }`),
		set("gap.downpipe-to-fuel-hose", "between", `["part.turbocharger", "pump's supply hose"]`), set("gap.downpipe-to-fuel-hose", "measured", `"9 ± 1/4 in"`), unset("gap.downpipe-to-fuel-hose", "along"),
		set("gap.downpipe-to-fuel-hose", "shielded", "true"), unset("part.turbocharger", "change")}},
}

// gapBetween is a gap that was read between the downpipe and a part.
func gapBetween(id, kind, part, measured string) edit {
	return with("[gap." + id + "]\nbetween = [\"part.downpipe\", \"" + part + "\"]\nkind = \"" + kind + "\"\nmeasured = \"" + measured + "\"\nmotion = \"3/8 ± 1/8 in\"\nread = 2026-04-03")
}
