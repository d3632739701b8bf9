package rules_test

// What a shop overlooks: a part replaced and its papers of the old one, a key
// that was left out, a wire run by the short way.

// fittedOn is a bought part of a role, fitted on a day.
func fittedOn(id, role, day string) edit {
	return with("[part." + id + "]\nrole = \"" + role + "\"\norigin = \"bought\"\nmass = \"4 lb\"\nat = { behind = \"0 in\", right = \"0 in\", above = \"18 in\" }\norder-as = \"" + id + "\"\nfitted-on = " + day)
}

// torquedOn is a round with the wrench over one part.
func torquedOn(id, day string) edit {
	return with("[work." + id + "]\nparts = [\"part." + id + "\"]\ndid = \"torqued\"\nby = \"June Farrow\"\ndate = " + day)
}

var dangerousShop = []variant{
	{"a pitman arm since the steering was tried, its nut torqued", []string{"hookups/usual-questions"}, []edit{
		fittedOn("pitman-arm", "pitman-arm", "2026-04-10"), torquedOn("pitman-arm", "2026-04-10")}},
	{"a tie rod whose nuts nobody torqued", []string{"paperwork/torqued"}, []edit{fittedOn("tie-rod", "tie-rod", "2026-04-05")}},
	{"hubs that nobody torqued", []string{"paperwork/torqued"}, []edit{fittedOn("hubs", "hubs", "2026-04-05")}},
	{"the round with the wrench without a word of what was done", []string{"paperwork/torqued"}, []edit{unset("work.bolts", "did")}},
	{"a shackle of another length after the gaps and the stop", []string{"brakes/stopping", "clearance/remeasured"}, []edit{fittedOn("shackles", "shackle", "2026-04-17")}},
	{"a booster taken off after the stop", []string{"brakes/stopping"}, []edit{
		set("part.brake-booster", "fitted", "false"), set("part.brake-booster", "removed-on", "2026-04-16")}},
	{"a booster fed by the turbocharger", []string{"hookups/fed"}, []edit{set("part.brake-booster", "needs.vacuum.from", `"part.turbocharger"`)}},
	{"a stop's speed in km/h", []string{"brakes/stopping"}, []edit{set("test.stop", "readings.speed", `"20.2 ± 0.3 km/h"`)}},
	{"the brake lane's axles the wrong way round", []string{"brakes/balance"}, []edit{
		set("test.brake-lane", "readings.front-brake", `"660 ± 15 lbf"`), set("test.brake-lane", "readings.rear-brake", `"1910 ± 15 lbf"`)}},
	{"the fender's gap of nobody knows when, under other tires", []string{"clearance/remeasured"}, []edit{unset("gap.tire-to-fender", "read")}},
	{"the gap at a lengthened shaft of nobody knows when", []string{"clearance/remeasured"}, []edit{unset("gap.front-shaft-to-crossmember", "read")}},
	{"another muffler, and the gap to the tank of the old one", []string{"clearance/hot-parts"}, []edit{
		set("part.muffler", "fitted", "false"), fittedOn("muffler-b", "muffler", "2026-04-05")}},
	{"low range left out of the ledger", []string{"driveline/in-ledger"}, []edit{without("transfer")}},
	{"the alternator's cable left out of the ledger", []string{"wiring/charging"}, []edit{without("circuit.charge-cable")}},
	{"another starter, and the cable on the old one", []string{"wiring/cranking-cable"}, []edit{
		set("part.starter", "fitted", "false"), fittedOn("starter-b", "starter", "2026-04-05")}},
	{"the frame's strap still on the engine that came out", []string{"wiring/grounds"}, []edit{set("circuit.frame-strap", "from", `"part.engine-was"`)}},
	{"a starter's cable from nowhere, too short to reach", []string{"wiring/cranking-duty"}, []edit{
		unset("circuit.starter-cable", "from"), set("circuit.starter-cable", "length", `"20 in"`)}},
	{"a relay's thin wire straight off the battery", []string{"wiring/fuse-protects-wire"}, []edit{set("circuit.start-trigger", "from", `"part.battery"`)}},
	{"the battery moved to the deck, its cables as they were", []string{"wiring/reaches"}, []edit{
		set("part.battery", "at", `{ behind = "140 in", right = "25 in", above = "35 in" }`)}},
	{"an engine bay of 85 °F, by a digit", []string{"wiring/insulation"}, []edit{set("zone.engine-bay", "temperature", `"85 degF"`)}},
	{"vinyl wire to the pump, said to run in the cab", []string{"wiring/insulation"}, []edit{
		set("circuit.pump-hold", "zone", `"zone.cab"`), set("circuit.pump-hold", "insulation", `"GPT"`)}},
	{"a winch off the battery without a fuse", []string{"wiring/fuse-protects-wire"}, []edit{
		fittedOn("winch", "winch", "2026-04-16"), with("[circuit.winch]\nfrom = \"part.battery\"\nto = [\"part.winch\"]\nload = \"400 A\"\nduty = \"momentary\"\ngauge = \"2/0 AWG\"\ninsulation = \"SGX\"\nlength = \"60 in\"\nreturn = \"wire\"\nzone = \"zone.engine-bay\"")}},
	{"the panel's power joined into the ground's splice", []string{"harness/both-ends"}, []edit{
		set("splice.dash-ground", "joins", `["plug.bulkhead:3", "plug.dash:1", "part.body-harness"]`)}},
	{"pure biodiesel in a tank of seals for B20", []string{"fuel/filler"}, []edit{set("tank.main", "fluid", `"B100"`)}},
	{"an owner who asks for pure biodiesel", []string{"fuel/hose-class"}, []edit{set("fuel", "carries", `["diesel", "B20", "B100"]`)}},
	{"another separator, and the supply still through the old one", []string{"fuel/diesel-needs"}, []edit{
		set("part.fuel-filter", "fitted", "false"), fittedOn("filter-b", "water-separator", "2026-04-05")}},
	{"a radiator hose on a neck half an inch smaller", []string{"cooling/loops"}, []edit{set("hose.radiator-top", "bore-to", `"1 1/2 in"`)}},
	{"a rear shaft's tube in centimeters", []string{"driveline/shaft-torque"}, []edit{set("shaft.rear", "tube", `"3.00 cm"`)}},
	{"the rear pinion's slope with the other sign", []string{"driveline/joints-cancel"}, []edit{set("shaft.rear", "slopes.to", `"-3.3 ± 0.1 deg"`)}},
	{"the rear axle moved since the shaft was read", []string{"driveline/remeasured"}, []edit{
		set("part.rear-axle", "was-at", `{ behind = "127 in", right = "0 in", above = "15 in" }`), set("part.rear-axle", "moved", "2026-04-10")}},
	{"the rear axle weighed in kilograms", []string{"weight/rear-axle"}, []edit{set("weighing.as-built", "rear", `"2415 ± 5 kg"`)}},
	{"a belt's certificate that is the emission letter", []string{"street/belts"}, []edit{set("seat-belt.middle", "certificate", `"document.emission-letter"`)}},
	{"a runaway that waits for its valve", []string{"hookups/usual-questions"}, []edit{set("answer.runaway", "says", `"TBD, waiting for the valve"`)}},
	{"a runaway answered with dots", []string{"hookups/usual-questions"}, []edit{set("answer.runaway", "says", `"..."`)}},
}

var soundShop = []variant{
	{"a pitman arm, its nut torqued and the steering tried since", nil, []edit{
		fittedOn("pitman-arm", "pitman-arm", "2026-04-05"), torquedOn("pitman-arm", "2026-04-06")}},
	{"hubs with the wrench on them", nil, []edit{fittedOn("hubs", "hubs", "2026-04-05"), torquedOn("hubs", "2026-04-06")}},
	{"the stop in metric units", nil, []edit{
		set("test.stop", "readings.speed", `"32.5 ± 0.5 km/h"`), set("test.stop", "readings.distance", `"7.04 ± 0.15 m"`), set("test.stop", "readings.weight", `"3692 ± 9 kg"`)}},
	{"the narrower tires of the stock on both axles", nil, []edit{
		set("vehicle.front", "tire", `"tire.lt-235-85-16e"`), set("vehicle.rear", "tire", `"tire.lt-235-85-16e"`), set("vehicle", "spare", `"tire.lt-235-85-16e"`)}},
	{"the charge cable to the starter's stud", nil, []edit{set("circuit.charge-cable", "to", `["part.starter"]`)}},
	{"a second battery beside the first", nil, []edit{
		with("[part.battery-two]\nrole = \"battery\"\norigin = \"bought\"\nmass = \"4 lb\"\nat = { behind = \"-16 in\", right = \"-25 in\", above = \"35 in\" }\norder-as = \"battery\"\nfitted-on = 2026-03-20\n" +
			"[circuit.battery-link]\nlike = \"circuit.starter-cable\"\nfrom = \"part.battery-two\"\nto = [\"part.starter\"]\nlength = \"60 in\"")}},
	{"a relay's thin wire off the battery behind its fuse", nil, []edit{
		set("circuit.start-trigger", "from", `"part.battery"`), set("circuit.start-trigger", "fuse", `"5 A"`), set("circuit.start-trigger", "fuse-from-source", `"5 in"`), set("circuit.start-trigger", "length", `"70 in"`),
		set("circuit.fuel-heat-trigger", "from", `"part.body-harness"`)}},
	{"an engine bay of 125 °F", nil, []edit{set("zone.engine-bay", "temperature", `"125 degF"`)}},
	{"a breaker in place of the blower's fuse", nil, []edit{unset("circuit.blower", "fuse"), set("circuit.blower", "breaker", `"25 A"`)}},
	{"metric wire to the blower", nil, []edit{set("circuit.blower", "gauge", `"4 mm2"`)}},
	{"front gears half a percent apart", nil, []edit{set("vehicle.front", "final-drive", `"3.92"`)}},
	{"a lower first gear", nil, []edit{set("transmission", "gears", "[5.60, 2.90, 1.65, 1.00, 0.76]")}},
	{"steel tube for the engine's return", nil, []edit{set("hose.return-engine", "material", `"steel"`), unset("hose.return-engine", "class")}},
	{"diesel and nothing else", nil, []edit{set("fuel", "carries", `["diesel"]`)}},
	{"B20 in the tank, as carried", nil, []edit{set("tank.main", "fluid", `"B20"`)}},
	{"the driver on the scale", nil, []edit{
		set("weighing.as-built", "aboard", `["load.driver"]`), set("weighing.as-built", "front", `"3878 ± 10 lb"`), set("weighing.as-built", "rear", `"2507 ± 10 lb"`)}},
	{"a booster at 20 inHg", nil, []edit{set("test.booster", "readings.vacuum", `"20 ± 0.5 inHg"`)}},
	{"a parking brake on 20.5 %", nil, []edit{set("test.parking", "readings.grade", `"20.5 % ± 0.3 %"`)}},
	{"a rear pinion half a degree off", nil, []edit{set("shaft.rear", "slopes.to", `"3.7 ± 0.1 deg"`)}},
	{"a rear shaft of aluminum", nil, []edit{
		set("shaft.rear", "material", `"aluminum"`), set("shaft.rear", "tube", `"4.00 in"`), set("shaft.rear", "wall", `"0.125 in"`), set("shaft.rear", "yield", `"40000 psi"`)}},
	{"an alternator of 105 A", nil, []edit{set("supply", "alternator-cruise", `"105 A"`), set("circuit.charge-cable", "load", `"105 A"`)}},
	{"the hood's gap in millimeters", nil, []edit{set("gap.engine-to-hood", "measured", `"44 ± 1 mm"`), set("gap.engine-to-hood", "motion", `"6 ± 1 mm"`)}},
	{"the brake line 2 3/4 in from the downpipe, shielded", nil, []edit{set("gap.downpipe-to-brake-line", "measured", `"2 3/4 ± 1/16 in"`)}},
	{"a top tank of 198 °F on a day of 98", nil, []edit{set("test.long-grade", "readings.top-tank", `"198 ± 1 degF"`), set("test.long-grade", "readings.ambient", `"98 ± 1 degF"`)}},
	{"nothing on the bed", nil, []edit{without("load.bed-load")}},
	{"a letter that names the belt for its certificate", nil, []edit{set("document.belt-certificate", "kind", `"letter"`)}},
	{"an answer that begins with a dash and says what was done", nil, []edit{set("answer.cab-air", "says", `"- meter on the seat, twenty minutes: nothing"`)}},
}
