package rules_test

// Weight, clearance, driveline, gearing, brakes.

var dangerousMechanical = []variant{
	{"a crane of a ton and a quarter on the bed", []string{"weight/gross", "weight/rear-axle"}, []edit{
		with(`[part.crane]
name = "Crane"
origin = "bought"
mass = "2500 lb"
at = { behind = "140 in", right = "0 in", above = "50 in" }
fitted-on = 2026-04-15`)}},
}

var soundMechanical = []variant{
	{"the rear shaft's angle read again, a tenth of a degree off", nil, []edit{
		set("shaft.rear", "slopes.shaft", `"5.5 ± 0.1 deg"`)}},
}
