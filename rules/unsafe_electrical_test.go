package rules_test

// Wiring, harness, fuel, cooling.

var dangerousElectrical = []variant{
	{"a lift pump fed through a thin hose that is called suction", []string{"fuel/line-loss"}, []edit{
		set("hose.filter-to-pump", "role", `"suction"`), set("hose.filter-to-pump", "bore", `"1/8 in"`)}},
	{"a gasoline neck kept for a diesel", []string{"fuel/filler"}, []edit{
		set("fuel", "filler", `"narrow"`)}},
	{"a fuse of 60 A on the pump's 16 AWG", []string{"wiring/fuse-protects-wire"}, []edit{
		set("circuit.pump-hold", "fuse", `"60 A"`)}},
	{"a heater's feed called cranking, so that it needs no fuse", []string{"wiring/cranking-duty"}, []edit{
		set("circuit.heat-feed-a", "duty", `"cranking"`), unset("circuit.heat-feed-a", "fuse"), unset("circuit.heat-feed-a", "fuse-from-source")}},
	{"the body's feed called cranking, its fuse left in", []string{"wiring/cranking-duty"}, []edit{
		set("circuit.body-feed", "duty", `"cranking"`)}},
	{"no strap from the engine to the frame", []string{"wiring/grounds"}, []edit{without("circuit.frame-strap")}},
	{"a strap of 12 AWG for all that comes back", []string{"wiring/grounds"}, []edit{set("circuit.frame-strap", "gauge", `"12 AWG"`)}},
	{"the battery's ground led to the frame alone", []string{"wiring/grounds"}, []edit{set("circuit.engine-ground", "to", `["part.frame"]`)}},
	{"a starter that draws more than the battery gives, by its circuit alone", []string{"wiring/cranking"}, []edit{
		set("circuit.starter-cable", "load", `"2400 A"`)}},
	{"a starter's cable of 6 AWG", []string{"wiring/cranking-cable"}, []edit{set("circuit.starter-cable", "gauge", `"6 AWG"`)}},
	{"a starter's cable of 2 AWG, too thin to crank twice", []string{"wiring/cranking-cable"}, []edit{set("circuit.starter-cable", "gauge", `"2 AWG"`)}},
	{"the battery's ground of 6 AWG", []string{"wiring/cranking-cable"}, []edit{set("circuit.engine-ground", "gauge", `"6 AWG"`)}},
	{"the battery moved to the tail on the same cable", []string{"wiring/cranking-drop"}, []edit{set("circuit.starter-cable", "length", `"14 ft"`)}},
	{"a long way back from the engine", []string{"wiring/cranking-drop"}, []edit{set("circuit.engine-ground", "length", `"12 ft"`)}},
	{"no cable to the starter in the ledger", []string{"wiring/cranking-cable"}, []edit{without("circuit.starter-cable")}},
	{"the intake heater hung on the starter's cable", []string{"wiring/cranking-duty"}, []edit{set("circuit.starter-cable", "to", `["part.starter", "part.intake-heater"]`)}},
	{"a starter's cable with a wide limit of its own", []string{"wiring/cranking-drop"}, []edit{
		set("circuit.starter-cable", "drop-limit", `"25 %"`), set("circuit.starter-cable", "length", `"14 ft"`)}},
	{"a blower called a signal, its fuse left out", []string{"wiring/signal-duty"}, []edit{
		set("circuit.blower", "duty", `"signal"`), unset("circuit.blower", "fuse"), unset("circuit.blower", "fuse-from-source")}},
	{"a blower called a signal, its load left out", []string{"wiring/signal-duty"}, []edit{
		set("circuit.blower", "duty", `"signal"`), unset("circuit.blower", "load")}},
	{"a grid on a wire that ten seconds would burn", []string{"wiring/ampacity"}, []edit{set("circuit.heat-grid-a", "gauge", `"14 AWG"`)}},
	{"a grid said to be on for five minutes", []string{"wiring/ampacity"}, []edit{
		set("circuit.heat-grid-a", "gauge", `"8 AWG"`), set("circuit.heat-grid-a", "on-time", `"5 min"`), set("circuit.heat-grid-a", "off-time", `"30 min"`)}},
	{"a fuel stop that is allowed to lose a quarter of its voltage", []string{"wiring/voltage-drop"}, []edit{
		set("circuit.pump-hold", "drop-limit", `"25 %"`), set("circuit.pump-hold", "length", `"60 ft"`)}},
	{"a strap behind a breaker of 300 A", []string{"wiring/grounds"}, []edit{
		unset("circuit.main-feed", "fuse"), set("circuit.main-feed", "breaker", `"300 A"`), set("circuit.main-feed", "gauge", `"4/0 AWG"`), set("circuit.frame-strap", "gauge", `"4 AWG"`)}},
	{"the pump's wire pinned to the blower", []string{"harness/circuit-ends"}, []edit{set("plug.bulkhead", "pins.4.circuit", `"circuit.pump-hold"`)}},
	{"the speed sender's pin on the engine's loom led to the alternator", []string{"harness/circuit-ends"}, []edit{set("plug.engine-loom", "pins.7.to", `"part.alternator"`)}},
	{"a relay's coil wire that ends at another relay", []string{"harness/circuit-ends"}, []edit{set("plug.engine-loom", "pins.9.to", `"relay.start"`)}},
	{"the charge cable called a ground, its fuse left out", []string{"wiring/ground-duty"}, []edit{
		set("circuit.charge-cable", "duty", `"ground"`), unset("circuit.charge-cable", "fuse"), unset("circuit.charge-cable", "fuse-from-source")}},
	{"the main feed called a ground, its fuse left out", []string{"wiring/ground-duty"}, []edit{
		set("circuit.main-feed", "duty", `"ground"`), unset("circuit.main-feed", "fuse"), unset("circuit.main-feed", "fuse-from-source")}},
	{"the blower called a ground, its fuse left out", []string{"wiring/ground-duty"}, []edit{
		set("circuit.blower", "duty", `"ground"`), unset("circuit.blower", "fuse"), unset("circuit.blower", "fuse-from-source")}},
	{"the main feed called a signal, its fuse left out", []string{"wiring/signal-duty"}, []edit{
		set("circuit.main-feed", "duty", `"signal"`), unset("circuit.main-feed", "fuse"), unset("circuit.main-feed", "fuse-from-source")}},
	{"sixty feet to the fuel stop, said not to be critical", []string{"wiring/voltage-drop"}, []edit{
		set("circuit.pump-hold", "critical", "false"), set("circuit.pump-hold", "length", `"60 ft"`)}},
	{"plain vinyl wire to the pump, and no word on where it runs", []string{"wiring/insulation"}, []edit{
		unset("circuit.pump-hold", "zone"), set("circuit.pump-hold", "insulation", `"GPT"`)}},
	{"an alternator of a hundred times what its cable carries", []string{"wiring/charging"}, []edit{set("supply", "alternator-cruise", `"13000 A"`)}},
	{"the charge cable's fuse left out", []string{"wiring/fuse-protects-wire"}, []edit{
		unset("circuit.charge-cable", "fuse"), unset("circuit.charge-cable", "fuse-from-source")}},
	{"the charge cable's fuse six feet from the battery, bare", []string{"wiring/fuse-near-source"}, []edit{set("circuit.charge-cable", "fuse-from-source", `"72 in"`)}},
	{"a starter's cable insulated for 70 °C", []string{"wiring/insulation"}, []edit{set("circuit.starter-cable", "insulation", `"70 degC"`)}},
	{"lamp cord by the pump", []string{"wiring/insulation"}, []edit{set("circuit.pump-hold", "insulation", `"lamp cord"`)}},
	{"a strap of 8 AWG", []string{"wiring/grounds"}, []edit{set("circuit.frame-strap", "gauge", `"8 AWG"`)}},
	{"the blower fed at the starter's stud, and no fuse", []string{"wiring/fuse-protects-wire"}, []edit{
		set("circuit.blower", "from", `"part.starter"`), unset("circuit.blower", "fuse"), unset("circuit.blower", "fuse-from-source")}},
	{"a tachometer told poles for pole pairs", []string{"gearing/tach-signal"}, []edit{set("tachometer", "pole-pairs", "12")}},
	{"a tachometer whose pulses and poles disagree", []string{"gearing/tach-signal"}, []edit{
		set("tachometer", "pulses", `"18 pulses/rev"`), set("tachometer", "pole-pairs", "8")}},
	{"a wire at the bulkhead whose way is said to be unused", []string{"harness/pin-accounted"}, []edit{set("plug.bulkhead", "unused", "[6, 17, 18]")}},
	{"the lamps' pin left out of the dash plug, and all others said to be unused", []string{"harness/both-ends"}, []edit{
		unset("plug.dash", "pins.8"), set("plug.dash", "unused", `"all others"`)}},
	{"a supply that meets a ground across the bulkhead", []string{"harness/functions"}, []edit{
		set("plug.engine-loom", "pins.2.function", `"ground"`)}},
	{"a meter's reading of a starter's cable that is too long by far", []string{"wiring/cranking-drop"}, []edit{
		set("circuit.starter-cable", "length", `"14 ft"`), with(cranked("0.30 V", "0.25 V", "640 A", "2026-04-12"))}},
	{"a meter's reading at which the starter is short of a volt", []string{"wiring/cranking-drop"}, []edit{with(cranked("0.95 V", "0.25 V", "640 A", "2026-04-12"))}},
	{"a ground that the meter says is bad", []string{"wiring/cranking-drop"}, []edit{with(cranked("0.25 V", "0.70 V", "640 A", "2026-04-12"))}},
	{"a meter's reading of nobody knows what current", []string{"wiring/cranking-drop"}, []edit{
		set("circuit.starter-cable", "length", `"14 ft"`), with("[test.cranking]\nkind = \"cranking\"\ndate = 2026-04-12\nreadings = { cranking-feed = \"0.3 V\", cranking-ground = \"0.25 V\" }")}},
	{"a meter's reading from before the long cable", []string{"wiring/cranking-drop"}, []edit{
		set("circuit.starter-cable", "length", `"14 ft"`), set("part.battery", "fitted-on", "2026-04-16"), with(cranked("0.45 V", "0.25 V", "640 A", "2026-04-12"))}},
	{"a starter that is said to draw no more than a lamp", []string{"wiring/cranking"}, []edit{
		set("supply", "starter-current", `"60 A"`), set("circuit.starter-cable", "load", `"60 A"`), set("supply", "battery-cca", `"200 A"`)}},
	{"a starter that is said to draw what a car's does", []string{"wiring/cranking"}, []edit{
		set("supply", "starter-current", `"180 A"`), set("circuit.starter-cable", "load", `"180 A"`)}},
	{"a truck of 12 V that is said to be of 24", []string{"wiring/charging"}, []edit{set("supply", "voltage", `"25.2 V"`)}},
	{"a truck of 12 V that is said to be of 24, and charges at 14", []string{"wiring/charging"}, []edit{
		set("supply", "voltage", `"25.2 V"`), with("[test.charge]\nkind = \"charge\"\ndate = 2026-04-12\nreadings = { voltage = \"14.1 ± 0.1 V\" }")}},
}

// cranked is a test of the starter's cables by a meter.
func cranked(feed, ground, current, date string) string {
	return "[test.cranking]\nkind = \"cranking\"\ndate = " + date + "\nreadings = { cranking-feed = \"" + feed + "\", cranking-ground = \"" + ground + "\", current = \"" + current + "\" }"
}

var soundElectrical = []variant{
	{"the main fuse a foot from the battery", nil, []edit{set("circuit.main-feed", "fuse-from-source", `"12.0 in"`)}},
	{"two cables to the starter side by side, each of 1/0, and two grounds", nil, []edit{
		set("circuit.starter-cable", "gauge", `"1/0 AWG"`), set("circuit.engine-ground", "gauge", `"1/0 AWG"`),
		with("[circuit.starter-cable-b]\nlike = \"circuit.starter-cable\"\n[circuit.engine-ground-b]\nlike = \"circuit.engine-ground\"\n")}},
	{"the starter's cable by way of a switch", nil, []edit{
		with("[part.battery-switch]\nrole = \"switch\"\norigin = \"bought\"\nmass = \"0 to 1 lb\"\nat = { behind = \"0 in\", right = \"0 in\", above = \"30 in\" }\nfitted-on = 2026-04-03\n[circuit.to-the-switch]\nlike = \"circuit.starter-cable\"\nfrom = \"part.battery\"\nto = [\"circuit.starter-cable\"]\nlength = \"20 in\""),
		set("circuit.starter-cable", "from", `"circuit.to-the-switch"`)}},
	{"a starter's cable of five and a half feet", nil, []edit{set("circuit.starter-cable", "length", `"5.5 ft"`)}},
	{"a tachometer through a converter", nil, []edit{
		set("tachometer", "expects", `"4.00 pulses/rev"`), set("tachometer", "divided-by", "4.5")}},
	{"the charge cable's fuse three feet from the battery", nil, []edit{set("circuit.charge-cable", "fuse-from-source", `"36 in"`)}},
	{"a relay's coil of 0.95 A", nil, []edit{set("circuit.start-trigger", "load", `"0.95 A"`)}},
	{"a grid on 3 AWG, twenty seconds in eighty", nil, []edit{
		set("circuit.heat-grid-a", "gauge", `"3 AWG"`), set("circuit.heat-grid-a", "on-time", `"20 s"`), set("circuit.heat-grid-a", "off-time", `"60 s"`)}},
	{"both ends of a wire say what it does", nil, []edit{
		set("plug.bulkhead", "pins.9.function", `"trigger"`), set("plug.engine-loom", "pins.9.function", `"trigger"`), set("plug.dash", "pins.6.function", `"trigger"`), set("plug.instruments", "pins.6.function", `"trigger"`)}},
	{"20 AWG on a fuse of 5 A", nil, []edit{
		set("circuit.gauges", "gauge", `"20 AWG"`), set("plug.bulkhead", "pins.2.gauge", `"20 AWG"`), set("plug.bulkhead", "pins.3.gauge", `"20 AWG"`), set("circuit.back-up-lamps", "gauge", `"16 AWG"`)}},
	{"a strap one size larger, led the other way round", nil, []edit{
		set("circuit.frame-strap", "gauge", `"2/0 AWG"`), set("circuit.frame-strap", "from", `"part.frame"`), set("circuit.frame-strap", "to", `["part.engine"]`)}},
	{"the bulkhead's empty ways in one line", nil, []edit{
		unset("plug.bulkhead", "pins.17"), unset("plug.bulkhead", "pins.18"), set("plug.bulkhead", "unused", "[17, 18]")}},
	{"the bulkhead's empty ways as all others", nil, []edit{
		unset("plug.bulkhead", "pins.17"), unset("plug.bulkhead", "pins.18"), set("plug.bulkhead", "unused", `"all others"`)}},
	{"the starter's cable by a meter, too long by the sums, cold on the sheet and hot in its zone", nil, []edit{
		set("circuit.starter-cable", "length", `"7.5 ft"`), with(cranked("0.44 ± 0.01 V", "0.16 ± 0.01 V", "-640 ± 20 A", "2026-04-12"))}},
	{"a meter's reading from before the starter was renewed, and sums that do", nil, []edit{
		set("part.starter", "fitted-on", "2026-04-16"), with(cranked("0.30 V", "0.25 V", "640 A", "2026-04-12"))}},
	{"a starter that draws little for its engine", nil, []edit{
		set("supply", "starter-current", `"340 A"`), set("circuit.starter-cable", "load", `"320 A"`)}},
	{"a long thin wire to the back-up lamps: 10 % is second-hand, and a should", nil, []edit{set("circuit.back-up-lamps", "length", `"100 ft"`)}},
	{"a battery of what a maker asks for, less than the starter draws in the cold", nil, []edit{set("supply", "battery-cca", `"640 A"`)}},
	{"a charge test at 14.4 V", nil, []edit{
		with("[test.charge]\nkind = \"charge\"\ndate = 2026-04-12\nreadings = { voltage = \"14.4 ± 0.1 V\" }")}},
	{"a strap a size thinner than the feed, enough for its fuse", nil, []edit{set("circuit.frame-strap", "gauge", `"1 AWG"`)}},
	{"the beacon off its fuse, lamp and all", nil, []edit{
		without("circuit.beacon"), without("lamp.beacon"), without("part.beacon")}},
}
