package rules_test

// Wiring, harness, fuel, cooling.

var dangerousElectrical = []variant{
	{"a fuse of 60 A on the pump's 16 AWG", []string{"wiring/fuse-protects-wire"}, []edit{
		set("circuit.pump-hold", "fuse", `"60 A"`)}},
}

var soundElectrical = []variant{
	{"the beacon off its fuse, lamp and all", nil, []edit{
		without("circuit.beacon"), without("lamp.beacon"), without("part.beacon")}},
}
