package rules_test

// Hookups, street, paperwork.

var dangerousPapers = []variant{
	{"the vacuum pump left off, the booster still on it", []string{"hookups/fed", "hookups/orphaned"}, []edit{
		set("part.vacuum-pump", "fitted", "false")}},
}

var soundPapers = []variant{
	{"another owner", nil, []edit{set("owner", "name", `"Ida Tornquist"`)}},
}
