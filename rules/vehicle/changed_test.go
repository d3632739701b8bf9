package vehicle_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/rules/packtest"
	"fishplate/rules/vehicle"
)

// What a cooling test rests on is also where its parts stand: an engine that moved
// after it spoils it, and no other test.
func TestUntouchedByMoves(t *testing.T) {
	const test = "[test.hot]\nkind = \"top-tank\"\ndate = 2026-04-10\n[part.engine]\nrole = \"engine\"\norigin = \"original\"\nat = { from = \"assembly.a\" }\n[assembly.a]\nat = { behind = \"18 in\" }\n"
	for name, c := range map[string]struct {
		more, told string
		matter     vehicle.Matter
		known      bool
	}{
		"after":    {"moved = 2026-04-11\n", "assembly.a moved on 2026-04-11, after the test on 2026-04-10", vehicle.Heat, true},
		"that day": {"moved = 2026-04-10\n", "", vehicle.Heat, true},
		"no move":  {"", "", vehicle.Heat, true},
		"no date":  {"was-at = { behind = \"20 in\" }\n", "", vehicle.Heat, false},
		"cranking": {"moved = 2026-04-11\n", "", vehicle.Cranking, true},
	} {
		b := packtest.Build(t, "[build]\ntitle = \"x\"\n"+base+test+c.more)
		fresh, told := vehicle.Untouched(b, b.Tests()[0].Date, c.matter)
		assert.Equal(t, c.told, told, name)
		assert.Equal(t, c.known, fresh.Known(), name)
	}
}

// A test on 10 April counts or not by what was done after it.
func TestUntouched(t *testing.T) {
	const test = "[test.stop]\nkind = \"stop\"\ndate = 2026-04-10\n"
	const built = "[weighing.out]\nwhen = \"as-built\"\ndate = 2026-04-09\nfront = \"3000 ± 5 lb\"\nrear = \"2000 ± 5 lb\"\n"
	all := []vehicle.Matter{vehicle.Brakes, vehicle.Tires, vehicle.Ride, vehicle.Mass}
	for name, c := range map[string]struct {
		ledger, want, told string
		needs              []string
	}{
		"nothing changed":           {base + test, "yes", "", nil},
		"no date, nothing changed":  {base + "[test.stop]\nkind = \"stop\"\n", "yes", "", nil},
		"no date, brakes changed":   {base + "[test.stop]\nkind = \"stop\"\n[part.caliper]\nrole = \"brake-caliper\"\norigin = \"bought\"\nfitted-on = 2026-03-01\n", "unknown", "", []string{"test.stop.date"}},
		"brakes before":             {base + test + "[part.caliper]\nrole = \"brake-caliper\"\norigin = \"bought\"\nfitted-on = 2026-03-01\n", "yes", "", nil},
		"brakes the same day":       {base + test + "[part.caliper]\nrole = \"brake-caliper\"\norigin = \"bought\"\nfitted-on = 2026-04-10\n", "yes", "", nil},
		"brakes after":              {base + test + "[part.caliper]\nrole = \"brake-caliper\"\norigin = \"bought\"\nfitted-on = 2026-04-11\n", "no", "part.caliper was fitted on 2026-04-11, after the test on 2026-04-10", nil},
		"brakes repaired after":     {base + test + "[part.caliper]\nrole = \"brake-caliper\"\norigin = \"original\"\n[work.seals]\nparts = [\"part.caliper\"]\ndid = \"renewed\"\ndate = 2026-05-01\n", "no", "work.seals was done on 2026-05-01, after the test on 2026-04-10", nil},
		"brakes looked at after":    {base + test + "[part.caliper]\nrole = \"brake-caliper\"\norigin = \"original\"\n[work.seals]\nparts = [\"part.caliper\"]\ndid = \"inspected\"\ndate = 2026-05-01\n", "yes", "", nil},
		"brakes not dated":          {base + test + "[part.caliper]\nrole = \"brake-caliper\"\norigin = \"bought\"\n", "unknown", "", []string{"part.caliper.fitted-on"}},
		"not dated, weighed before": {base + test + built + "[part.caliper]\nrole = \"brake-caliper\"\norigin = \"bought\"\n", "yes", "", nil},
		"another part after":        {base + test + "[part.mirror]\nrole = \"mirror\"\norigin = \"bought\"\nmass = \"3 lb\"\nat = { behind = \"0 in\" }\nfitted-on = 2026-05-01\n", "yes", "", nil},
		// 2 % of 5000 lb are 100.
		"99 lb after":            {base + test + built + "[part.a]\norigin = \"bought\"\nmass = \"99.0 lb\"\nat = { behind = \"0 in\" }\nfitted-on = 2026-05-01\n", "yes", "", nil},
		"twice 60 lb after":      {base + test + built + "[part.a]\norigin = \"bought\"\nmass = \"60.0 lb\"\nat = { behind = \"0 in\" }\nfitted-on = 2026-05-01\n[part.b]\norigin = \"bought\"\nmass = \"60.0 lb\"\nat = { behind = \"0 in\" }\nfitted-on = 2026-05-02\n", "no", "part.a was fitted on 2026-05-01, after the test on 2026-04-10", nil},
		"engine out after":       {base + test + "[part.v8]\norigin = \"original\"\nfitted = false\nmass = \"600 lb\"\nat = { behind = \"0 in\" }\nremoved-on = 2026-05-01\n", "no", "part.v8 was taken off on 2026-05-01, after the test on 2026-04-10", nil},
		"tires after":            {base + test + "[vehicle.front]\ntire = \"tire.b\"\ntire-was = \"tire.a\"\ntire-fitted-on = 2026-05-01\n[tire.a]\nsize = \"LT235/85R16\"\n[tire.b]\nsize = \"LT265/75R16\"\n", "no", "tire.b was fitted on 2026-05-01, after the test on 2026-04-10", nil},
		"springs, no one says":   {base + test + "[vehicle.front]\nspring-rate-was = \"400 lb/in\"\n", "unknown", "", []string{"vehicle.front.springs-fitted-on"}},
		"springs before it":      {base + test + "[vehicle.front]\nspring-rate-was = \"400 lb/in\"\nsprings-fitted-on = 2026-01-01\n", "yes", "", nil},
		"the same tires as were": {base + test + "[vehicle.front]\ntire = \"tire.a\"\ntire-was = \"tire.a\"\n[tire.a]\nsize = \"LT235/85R16\"\n", "yes", "", nil},
	} {
		t.Run(name, func(t *testing.T) {
			b := packtest.Build(t, "[build]\ntitle = \"x\"\n"+c.ledger)
			fresh, told := vehicle.Untouched(b, b.Tests()[0].Date, all...)
			got := "unknown"
			if fresh.Known() {
				got = map[bool]string{true: "yes", false: "no"}[fresh.Holds()]
			}
			assert.Equal(t, c.want, got)
			assert.Equal(t, c.told, told)
			var needs []string
			if !fresh.Known() {
				for _, n := range fresh.Needs() {
					needs = append(needs, n.Key)
				}
			}
			assert.Equal(t, c.needs, needs)
		})
	}
}
