package rules_test

// Wires, fuel and heat: what burns, leaks, boils or leaves the engine dead on the road.

var dangerousWires = []variant{
	{"the pump's wire without its fuse", []string{"wiring/fuse-protects-wire"}, []edit{unset("circuit.pump-hold", "fuse")}},
	{"the main feed's fuse five feet from the battery, bare", []string{"wiring/fuse-near-source"}, []edit{set("circuit.main-feed", "fuse-from-source", `"60 in"`)}},
	{"a main feed as thin as a lamp's", []string{"wiring/ampacity"}, []edit{set("circuit.main-feed", "gauge", `"10 AWG"`)}},
	{"a main feed written a tenth as long as it is", []string{"wiring/reaches"}, []edit{set("circuit.main-feed", "length", `"6.6 in"`)}},
	{"a starter's cable that cannot reach the starter", []string{"wiring/reaches"}, []edit{set("circuit.starter-cable", "length", `"30 in"`)}},
	{"plain vinyl wire by the engine", []string{"wiring/ampacity"}, []edit{set("circuit.pump-hold", "insulation", `"GPT"`)}},
	{"forty feet of thin wire to the pump", []string{"wiring/fuse-protects-wire", "wiring/voltage-drop"}, []edit{set("circuit.pump-hold", "length", `"40 ft"`), set("circuit.pump-hold", "gauge", `"20 AWG"`)}},
	{"an alternator that gives less at idle than is drawn", []string{"wiring/charging"}, []edit{set("supply", "alternator-idle", `"20 A"`), set("supply", "alternator-cruise", `"45 A"`)}},
	{"a battery for half the engine", []string{"wiring/cranking"}, []edit{set("supply", "battery-cca", `"400 A"`)}},
	{"a relay of 30 A for a grid of 95", []string{"wiring/relay-rating"}, []edit{set("relay.intake-heat-a", "contact-rating", `"30 A"`)}},
	{"the blower's switch half of its load", []string{"wiring/switch-rating"}, []edit{set("circuit.blower", "switch-rating", `"8 A"`)}},
	{"the tachometer's wire pinned to the speedometer's way", []string{"harness/both-ends", "harness/one-wire"}, []edit{set("plug.bulkhead", "pins.6.to", `"plug.dash:4"`)}},
	{"a wire at the bulkhead that nobody accounts for", []string{"harness/both-ends", "harness/pin-accounted"}, []edit{unset("plug.bulkhead", "pins.8")}},
	{"a fuel pump called intermittent, near all of its fuse", []string{"wiring/fuse-carries-load"}, []edit{
		with(fuelPump("7.2 A"))}},
	{"a heater called cranking, and no fuse", []string{"wiring/fuse-protects-wire"}, []edit{set("circuit.heat-feed-a", "duty", `"cranking"`), unset("circuit.heat-feed-a", "fuse")}},

	{"natural rubber in the diesel", []string{"fuel/material"}, []edit{set("hose.filter-to-pump", "material", `"natural-rubber"`)}},
	{"a galvanized tank", []string{"fuel/material"}, []edit{set("wetted.tank-wall", "material", `"zinc-galvanized"`)}},
	{"a gasoline label at the filler", []string{"fuel/filler"}, []edit{set("fuel", "filler-label", `"UNLEADED GASOLINE ONLY"`)}},
	{"a filler that takes only the thin nozzle", []string{"fuel/filler"}, []edit{set("fuel", "filler", `"narrow"`)}},
	{"nothing that takes water out of the fuel", []string{"fuel/diesel-needs"}, []edit{unset("fuel", "water-separator")}},
	{"the return not said", []string{"fuel/diesel-needs"}, []edit{unset("fuel", "return-line")}},
	{"the tank without a vent", []string{"fuel/diesel-needs"}, []edit{unset("fuel", "vent")}},
	{"a hose past its pressure", []string{"fuel/hose-class"}, []edit{set("hose.filter-to-pump", "pressure", `"150 psi"`)}},
	{"a hose past its heat", []string{"fuel/hose-class"}, []edit{set("hose.return-engine", "rated-temperature", `"140 degF"`)}},
	{"the fill hose in no list, whatever it is made of", []string{"fuel/filler"}, []edit{without("hose.fill")}},
	{"a fuel by a word that no list has", []string{"ledger/words", "fuel/hose-class"}, []edit{set("hose.filter-to-pump", "carries", `"feul"`)}},
	{"a supply line too thin for the pump", []string{"fuel/line-loss"}, []edit{set("hose.supply-line", "bore", `"1/8 in"`), set("hose.supply-line", "length", `"20 ft"`)}},

	{"a radiator of half the heat", []string{"cooling/heat"}, []edit{set("radiator.main", "rating", `"80 kW"`)}},
	{"charge air as hot as it comes", []string{"cooling/charge-air"}, []edit{set("radiator.charge-air", "effectiveness", `"0.30"`)}},
	{"the coolant's loop left open", []string{"cooling/loops"}, []edit{set("loop.water", "closed", "false")}},
	{"a top tank that boiled on the grade", []string{"cooling/air-to-boil"}, []edit{set("test.long-grade", "readings.top-tank", `"214 ± 2 degF"`)}},
}

// fuelPump is an electric pump of what load on a fuse of 7.5 A, its circuit said
// to be intermittent.
func fuelPump(load string) string {
	return "[part.electric-pump]\nrole = \"fuel-pump\"\norigin = \"bought\"\nmass = \"2 lb\"\nat = { behind = \"60 in\", right = \"-15 in\", above = \"21 in\" }\nfitted-on = 2026-04-03\norder-as = \"pump\"\n" +
		"[circuit.electric-pump]\nlike = \"circuit.pump-hold\"\nto = [\"part.electric-pump\"]\nduty = \"intermittent\"\nfuse = \"7.5 A\"\nload = \"" + load + "\"\n" +
		"[answer.crash-stop]\nquestion = \"pump-stops\"\nsays = \"inertia switch on the firewall, tried with a mallet\"\ndate = 2026-04-10\n" +
		"[wetted.electric-pump]\npart = \"part.electric-pump\"\nmaterial = \"fkm\""
}

var soundWires = []variant{
	{"a heavier starter cable", nil, []edit{set("circuit.starter-cable", "gauge", `"3/0 AWG"`)}},
	{"a main feed by the shortest way, terminals towards each other", nil, []edit{set("circuit.main-feed", "length", `"50 in"`)}},
	{"a hose near its rated heat", nil, []edit{set("hose.return-engine", "temperature", `"250 degF"`)}},
	{"the better hose in place of the good one", nil, []edit{set("hose.filter-to-pump", "material", `"fkm-peroxide-cured"`)}},
	{"a fuel pump called intermittent, at two thirds of its fuse", nil, []edit{with(fuelPump("5.0 A"))}},
	{"a filler that is one part with the tank", nil, []edit{without("hose.fill"), set("part.filler-neck", "counted-in", `"part.fuel-tank"`), set("part.fuel-tank", "mass", `"38 lb"`), unset("part.filler-neck", "mass")}},
	{"a lamp wire one size heavier", nil, []edit{set("circuit.bed-lamps", "gauge", `"12 AWG"`)}},
	{"a top tank with two degrees to spare at the design ambient", nil, []edit{set("test.long-grade", "readings.top-tank", `"185 ± 1 degF"`), set("test.long-grade", "readings.ambient", `"81 ± 1 degF"`)}},
	{"a cap of 16 psi", nil, []edit{set("cooling", "cap", `"16 psi"`)}},
}
