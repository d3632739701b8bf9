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
}

var soundElectrical = []variant{
	{"the main fuse a foot from the battery", nil, []edit{set("circuit.main-feed", "fuse-from-source", `"12.0 in"`)}},
	{"a strap one size larger, led the other way round", nil, []edit{
		set("circuit.frame-strap", "gauge", `"2/0 AWG"`), set("circuit.frame-strap", "from", `"part.frame"`), set("circuit.frame-strap", "to", `["part.engine"]`)}},
	{"the beacon off its fuse, lamp and all", nil, []edit{
		without("circuit.beacon"), without("lamp.beacon"), without("part.beacon")}},
}
