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
	{"a filter inside the turbocharger, said to be the donor's too", []string{"clearance/near-hot"}, []edit{
		set("part.fuel-filter", "at", `{ from = "assembly.powertrain", behind = "-15 in", right = "8 in", above = "9 in" }`), set("part.fuel-filter", "origin", `"donor"`), set("part.fuel-filter", "donor", `"donor.delivery-truck"`),
		unset("part.turbocharger", "change")}},
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

	{"a rear shaft 20 in too short", []string{"driveline/length"}, []edit{set("shaft.rear", "length", `"30 1/4 in"`)}},
	{"a rear shaft 20 in too short, and nobody knows what it was", []string{"driveline/length"}, []edit{set("shaft.rear", "length", `"30 1/4 in"`), unset("shaft.rear", "length-was")}},
	{"a rear shaft 20 in too long, of wide tube", []string{"driveline/length"}, []edit{
		set("shaft.rear", "length", `"70 1/4 in"`), set("shaft.rear", "tube", `"5.00 in"`), unset("shaft.rear", "length-was")}},
	{"a front shaft 20 in too short", []string{"driveline/length"}, []edit{set("shaft.front", "length", `"13 1/2 in"`)}},
	{"a front shaft shortened where it had to be lengthened", []string{"driveline/length"}, []edit{set("shaft.front", "length", `"28 1/2 in"`)}},
	{"a front shaft longer than its two ends are apart", []string{"driveline/length"}, []edit{set("shaft.front", "length", `"53 1/2 in"`), unset("shaft.front", "length-was")}},

	{"a center of gravity at 14.5 in", []string{"weight/cg-height"}, []edit{set("vehicle", "cg-height", `"14.5 ± 0.5 in"`)}},
	{"a center of gravity at 20 in, and no overall height", []string{"weight/cg-height"}, []edit{set("vehicle", "cg-height", `"20 ± 0.5 in"`), unset("vehicle", "height")}},
	{"a center of gravity at 45 in, which hides what was added on high", []string{"weight/cg-height"}, []edit{set("vehicle", "cg-height", `"45 ± 0.5 in"`)}},

	{"a wheelbase with another digit", []string{"weight/places"}, []edit{set("vehicle", "wheelbase", `"119.0 in"`)}},
	{"a track with another digit", []string{"weight/places"}, []edit{set("vehicle.front", "track", `"76.5 in"`)}},
	{"a ball in the middle of the frame", []string{"weight/places"}, []edit{set("trailer", "ball-at", at("86 in", "0 in", "19 in"))}},
	{"a rack below the ground", []string{"weight/places"}, []edit{set("part.headache-rack", "at", at("78 in", "0.0 in", "-64 in"))}},
	{"a load below the ground", []string{"weight/places"}, []edit{set("load.bed-load", "at", at("126 in", "0 in", "-42 in"))}},
	{"a load ten vehicles behind", []string{"weight/places"}, []edit{set("load.saws-and-fuel", "at", at("980 in", "0 in", "40 in"))}},
	{"tires of 25 in, by a digit", []string{"weight/tire-size"}, []edit{set("tire.lt-265-75-16e", "diameter", `"25.0 in"`)}},
	{"single tires that are said to be pairs", []string{"weight/tires-cover-rating"}, []edit{set("vehicle.rear", "tires", "4")}},
	{"wheels of ten times the rating", []string{"weight/wheel-load"}, []edit{set("wheel.steel-16x8", "load-rating", `"35800 lb"`)}},
	{"500 lb from one axle to the other on the ticket", []string{"weight/on-the-scale"}, []edit{
		set("weighing.as-built", "front", `"3265 ± 5 lb"`), set("weighing.as-built", "rear", `"2915 ± 5 lb"`)}},
	{"a low range of one", []string{"driveline/torque"}, []edit{set("transfer", "low", "1.0")}},
	{"a gearbox without its low gears", []string{"driveline/torque"}, []edit{set("transmission", "gears", "[1.65, 1.00, 0.76]")}},
	{"a transfer case of ten times the rating", []string{"driveline/torque"}, []edit{set("transfer", "torque-rating", `"56000 lb-ft"`)}},
	{"a rear axle of ten times the rating", []string{"driveline/torque"}, []edit{set("vehicle.rear", "torque-rating", `"92000 lb-ft"`)}},
	{"an axle under the pan that does not come up", []string{"clearance/gap"}, []edit{
		set("vehicle.front", "bump-travel", `"0 in"`), set("gap.pan-to-axle", "motion", `"1/4 ± 1/8 in"`)}},
	{"a powertrain ten inches lower, its pan below the axle", []string{"clearance/along"}, []edit{
		set("assembly.powertrain", "at", at("14 1/4 in", "3/4 in", "16 3/4 in"))}},
	{"a steering shaft through the injection pump", []string{"clearance/near-moving"}, []edit{
		set("part.steering-shaft", "at", at("-11.75 in", "-7.25 in", "32.75 in"))}},
	{"a lift pump on the steering shaft, and more than an inch between the two", []string{"clearance/along"}, []edit{
		set("part.steering-shaft", "at", at("-7.75 in", "-7.25 in", "26.75 in"))}},
	{"a tank that is not where its part is", []string{"weight/places"}, []edit{set("tank.main", "at", at("140 in", "-15 in", "23 in"))}},
	{"a tank below the ground", []string{"weight/places"}, []edit{set("tank.main", "at", at("98 in", "-15 in", "-23 in"))}},
	{"a combined rating with a zero too many", []string{"weight/trailer"}, []edit{set("vehicle", "combined-rating", `"115000 lb"`)}},
	{"a suspension that takes nothing of the slip", []string{"driveline/slip"}, []edit{
		set("shaft.rear", "slip-used", `"0 ± 0 in"`), set("shaft.rear", "slip-left", `"1/8 ± 1/16 in"`)}},
	{"a slip of 45 in, by a point", []string{"driveline/slip"}, []edit{set("shaft.rear", "slip-engaged", `"45 in"`)}},
	{"a tube with a wall of ten times", []string{"driveline/shaft-torque"}, []edit{set("shaft.rear", "wall", `"0.83 in"`)}},
	{"a tube of eight inches", []string{"driveline/shaft-torque"}, []edit{set("shaft.rear", "tube", `"8.00 in"`)}},
	{"a top gear of a tenth", []string{"driveline/torque"}, []edit{set("transmission", "gears", "[5.20, 2.90, 1.65, 1.00, 0.076]")}},
	{"tracks of 86 in", []string{"weight/places"}, []edit{set("vehicle.front", "track", `"86.5 in"`), set("vehicle.rear", "track", `"85.0 in"`)}},
	{"axles of 1.40", []string{"driveline/torque"}, []edit{set("vehicle.front", "final-drive", `"1.40"`), set("vehicle.rear", "final-drive", `"1.40"`)}},
	{"a converter that takes torque away", []string{"driveline/torque"}, []edit{set("transmission", "kind", `"automatic"`), set("transmission", "stall-ratio", "0.19")}},
	{"an engine to be held above its governor", []string{"gearing/cruise"}, []edit{set("engine", "cruise-limit", `"4700 rpm"`)}},
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

	{"a rear shaft an inch and a half shorter: other yokes", nil, []edit{set("shaft.rear", "length", `"48 3/4 in"`)}},
	{"a front shaft an inch longer", nil, []edit{set("shaft.front", "length", `"34 1/2 in"`)}},
	{"a rear shaft of which nobody knows what it was", nil, []edit{unset("shaft.rear", "length-was")}},
	{"a rear shaft 11 in shorter behind a long tail, and its drawing", nil, []edit{
		set("shaft.rear", "length", `"37 1/4 in"`), unset("shaft.rear", "length-was"), set("document.drawing-register", "proves", `["shaft.rear.length"]`)}},
	{"a center of gravity at 26 in", nil, []edit{set("vehicle", "cg-height", `"26 ± 0.5 in"`)}},
	{"a center of gravity at 31 in", nil, []edit{set("vehicle", "cg-height", `"31 ± 0.5 in"`)}},
	{"a center of gravity at 21.5 in that was weighed level and raised", nil, []edit{
		set("vehicle", "cg-height", `"21.5 ± 0.3 in"`), set("document.scale-ticket-received", "proves", `["weighing.as-received", "vehicle.cg-height"]`)}},
	{"a wheelbase an inch and a half off its axle", nil, []edit{set("vehicle", "wheelbase", `"130.5 in"`)}},
	{"a rear axle six inches wider", nil, []edit{set("vehicle.rear", "track", `"71.0 in"`)}},
	{"a drawbar of a foot and a half", nil, []edit{set("trailer", "ball-at", at("200 in", "0 in", "19 in")), set("trailer", "tongue", `"180 ± 5 lb"`)}},
	{"a tire that measures half an inch less", nil, []edit{set("tire.lt-265-75-16e", "diameter", `"31.1 in"`)}},
	{"a wheel rated a third over its tire", nil, []edit{set("wheel.steel-16x8", "load-rating", `"4500 lb"`)}},
	{"100 lb from one axle to the other on the ticket", nil, []edit{
		set("weighing.as-built", "front", `"3665 ± 5 lb"`), set("weighing.as-built", "rear", `"2515 ± 5 lb"`)}},
	{"a transfer case with a low range of two", nil, []edit{set("transfer", "low", "2.0")}},
	{"an axle that comes up by two inches", nil, []edit{set("vehicle.front", "bump-travel", `"2 ± 1/16 in"`), set("gap.pan-to-axle", "motion", `"2 1/8 ± 1/8 in"`)}},
	{"a powertrain an inch and a half lower", nil, []edit{set("assembly.powertrain", "at", at("14 1/4 in", "3/4 in", "25 1/4 in"))}},
	{"a steering shaft four inches from the pump", nil, []edit{set("part.steering-shaft", "at", at("-9 in", "-10.5 in", "32 in"))}},
	{"a tank three inches off its part", nil, []edit{set("tank.main", "at", at("101 in", "-15 in", "23 in"))}},
	{"a combined rating of three times the gross one", nil, []edit{set("vehicle", "combined-rating", `"27000 lb"`)}},
	{"a suspension that takes a quarter inch of the slip", nil, []edit{set("shaft.rear", "slip-used", `"1/4 ± 1/16 in"`)}},
	{"a rear shaft of thick tube", nil, []edit{set("shaft.rear", "wall", `"0.188 in"`)}},
	{"a top gear of 0.64", nil, []edit{set("transmission", "gears", "[5.20, 2.90, 1.65, 1.00, 0.64]")}},
	{"an engine that may be held at its governor", nil, []edit{set("engine", "cruise-limit", `"2700 rpm"`)}},
	{"tracks of 73 in", nil, []edit{set("vehicle.front", "track", `"74.0 in"`), set("vehicle.rear", "track", `"73.0 in"`)}},
	{"a second hitch in front, for the winch", nil, []edit{
		with("[part.front-hitch]\nrole = \"hitch\"\norigin = \"bought\"\nmass = \"0 to 10 lb\"\nat = { behind = \"-34 in\", right = \"0 in\", above = \"20 in\" }")}},
	{"the pump of the same donor near its turbocharger", nil, []edit{
		set("part.injection-pump", "at", `{ from = "assembly.powertrain", behind = "-20 in", right = "0 in", above = "8 in" }`),
		set("gap.downpipe-to-fuel-hose", "between", `["part.turbocharger", "pump's supply hose"]`), set("gap.downpipe-to-fuel-hose", "measured", `"9 ± 1/4 in"`), unset("gap.downpipe-to-fuel-hose", "along"),
		set("gap.downpipe-to-fuel-hose", "shielded", "true"), unset("part.turbocharger", "change")}},
}

// gapBetween is a gap that was read between the downpipe and a part.
func gapBetween(id, kind, part, measured string) edit {
	return with("[gap." + id + "]\nbetween = [\"part.downpipe\", \"" + part + "\"]\nkind = \"" + kind + "\"\nmeasured = \"" + measured + "\"\nmotion = \"3/8 ± 1/8 in\"\nread = 2026-04-03")
}
