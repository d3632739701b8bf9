package rules_test

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/lint/report"
	"fishplate/rules"
)

// shape is a ledger that can be made as long as one likes: a head, something n
// times over with its number in it, and a foot.
type shape struct {
	head, each, foot string
}

func (s shape) text(n int) string {
	var b strings.Builder
	b.WriteString(s.head)
	for i := range n {
		b.WriteString(strings.NewReplacer("%d", fmt.Sprint(i), "%p", fmt.Sprint(max(i-1, 0))).Replace(s.each))
	}
	b.WriteString(s.foot)
	return b.String()
}

const battery = "[supply]\nvoltage = \"12.6 V\"\n[part.bat]\nrole = \"battery\"\n[circuit.root]\nfrom = \"part.bat\"\nto = [\"relay.x\"]\ngauge = \"4 AWG\"\nlength = \"2 ft\"\ninsulation = \"GXL\"\nload = \"1 A\"\n[relay.x]\ncontact-rating = \"40 A\"\n"

// shapes are the lists that a ledger can hold and that something in the
// program goes through.
var shapes = map[string]shape{
	"circuits into a relay":       {"[relay.x]\n", "[circuit.a%d]\nto = [\"relay.x\"]\n[circuit.b%d]\nfrom = \"relay.x\"\n", ""},
	"circuits past a relay":       {battery, "[circuit.c%d]\nfrom = \"relay.x\"\ngauge = \"12 AWG\"\nlength = \"2 ft\"\nload = \"1 A\"\ninsulation = \"GXL\"\nfuse = \"10 A\"\n", ""},
	"circuits of broken feeds":    {battery, "[circuit.a%d]\nfrom = 5\n[circuit.b%d]\nfrom = \"part.bat\"\ngauge = \"12 AWG\"\nload = \"1 A\"\nfuse = \"10 A\"\n", ""},
	"circuits without lengths":    {"[part.bat]\n[circuit.c0]\nfrom = \"part.bat\"\n", "[circuit.d%d]\nfrom = \"circuit.c0\"\n", ""},
	"circuits to a circuit":       {"[circuit.end]\nload = \"1 A\"\n", "[circuit.a%d]\nto = [\"circuit.end\"]\n", ""},
	"circuits of unknown sizes":   {"", "[circuit.a%d]\ngauge = \"%d AWG\"\nload = \"1 A\"\n", ""},
	"circuits of other zones":     {"", "[zone.z%d]\n[circuit.a%d]\nzone = \"zone.z%d\"\n", ""},
	"plugs into one":              {"[plug.z]\npins = { 1 = {} }\n", "[plug.a%d]\nmates = \"plug.z\"\n", ""},
	"plugs in pairs":              {"", "[plug.a%d]\nmates = \"plug.b%d\"\npins = { 1 = { now = \"kept\" } }\n[plug.b%d]\npins = { 1 = { now = \"kept\" } }\n", ""},
	"pins of a plug":              {"[plug.z]\nways = 400\n", "[plug.z.pins.%d]\nnow = \"new\"\ncolor = \"red\"\nmark = \"m%d\"\n", ""},
	"pins of one color":           {"[plug.z]\n", "[plug.z.pins.%d]\nnow = \"new\"\ncolor = \"red\"\ngauge = \"%d AWG\"\n", ""},
	"pins moved":                  {"[plug.z]\n", "[plug.z.pins.%d]\nnow = \"moved\"\ncolor = \"red\"\ncolor-was = \"blue\"\n", ""},
	"plugs of many ways":          {"", "[plug.a%d]\nways = 500\nopened = true\n", ""},
	"pins of no plug":             {"[plug.z]\n[plug.z.pins.0]\nto = \"plug.z:1\"\n", "[splice.s%d]\njoins = [\"plug.z:%d\"]\n", ""},
	"splices on one":              {"[splice.hub]\njoins = [\"splice.s0\"]\n", "[splice.s%d]\njoins = [\"splice.hub\"]\n", ""},
	"what a splice joins":         {"[plug.z]\n[splice.hub]\njoins = [", "\"plug.z:%d\",", "]\n"},
	"splices in a row":            {"", "[splice.s%d]\njoins = [\"splice.s%p\"]\n", ""},
	"wetted parts":                {"[fuel]\ncarries = [\"diesel\", \"B20\", \"E10\"]\n", "[wetted.w%d]\nmaterial = \"nbr\"\n", ""},
	"fuels of a hose":             {"[fuel]\ncarries = [\"diesel\"]\n[hose.h]\ncarries = \"fuel\"\nrated-for = [", "\"f%d\",", "]\n"},
	"hoses in a row":              {"", "[hose.h%d]\ncarries = \"coolant\"\nfrom = \"hose.h%p\"\nmaterial = \"epdm\"\n", ""},
	"hoses of fuel":               {"[fuel]\ncarries = [\"diesel\"]\n", "[hose.h%d]\ncarries = \"fuel\"\nmaterial = \"nbr\"\nrole = \"return\"\n", ""},
	"waivers that match nothing":  {"", "[waiver.w%d]\nrule = \"wiring/ampacity\"\nentry = \"circuit.c\"\nbecause = \"x\"\nby = \"A B\"\nuntil = \"2027-01-01\"\n", ""},
	"waivers that match":          {"[engine]\ncylinders = 4\n", "[circuit.c%d]\n[waiver.w%d]\nrule = \"wiring/ampacity\"\nentry = \"circuit.c%d\"\nbecause = \"x\"\nby = \"A B\"\nuntil = \"2027-01-01\"\n", ""},
	"documents":                   {"", "[document.d%d]\nkind = \"photo\"\nfile = \"a.jpg\"\nproves = [\"part.p%d\"]\n[part.p%d]\n", ""},
	"what a document proves":      {"[document.d]\nkind = \"photo\"\nproves = [", "\"part.p%d.mass\",", "]\n"},
	"parts fed by one":            {"[part.tank]\ngives = { vacuum = { level = \"20 inHg\" } }\n", "[part.p%d]\nneeds = { vacuum = { least = \"10 inHg\", from = \"part.tank\" } }\n", ""},
	"parts fed in a row":          {"[part.p]\n", "[part.p%d]\nneeds = { vacuum = { least = \"10 inHg\", from = \"part.p%p\" } }\ngives = { vacuum = { level = \"20 inHg\" } }\n", ""},
	"parts fed by none":           {"", "[part.p%d]\nneeds = { vacuum = { least = \"10 inHg\" } }\n", ""},
	"kinds of feed":               {"", "[hookup.k%d]\ncompare = \"present\"\n[part.p%d]\nneeds = { k%d = { } }\n", ""},
	"givers that came off":        {"", "[part.g%d]\nfitted = false\ngives = { vacuum = { level = \"20 inHg\" } }\n[part.p%d]\nneeds = { vacuum = { least = \"10 inHg\", from = \"part.g%d\" } }\n", ""},
	"parts":                       {"[vehicle]\nwheelbase = \"125 in\"\n[vehicle.front]\nrating = \"4300 lb\"\n[vehicle.rear]\nrating = \"6084 lb\"\n[weighing.w]\nwhen = \"as-received\"\nfront = \"3000 lb\"\nrear = \"3000 lb\"\n", "[part.p%d]\norigin = \"donor\"\nmass = \"1.0 lb\"\nat = { behind = \"5 in\", right = \"0 in\", above = \"34 in\" }\n", ""},
	"parts counted in one":        {"[part.whole]\nmass = \"900 lb\"\n", "[part.p%d]\ncounted-in = \"part.whole\"\nmass = \"1 lb\"\n", ""},
	"parts counted in a row":      {"", "[part.p%d]\ncounted-in = \"part.p%p\"\nmass = \"1 lb\"\n", ""},
	"parts at the one before":     {"", "[part.p%d]\nat = \"part.p%p\"\nmass = \"1 lb\"\n", ""},
	"parts with a role":           {"", "[part.p%d]\nrole = \"alternator\"\n", ""},
	"loads":                       {"", "[load.l%d]\nmass = \"1 lb\"\n", ""},
	"tests of many starters":      {"[part.bat]\nrole = \"battery\"\n[supply]\nvoltage = \"12 V\"\nstarter-current = \"600 A\"\n", "[part.s%d]\nrole = \"starter\"\n[circuit.c%d]\nfrom = \"part.bat\"\nto = [\"part.s%d\"]\nduty = \"cranking\"\ngauge = \"2/0 AWG\"\ninsulation = \"SGX\"\nlength = \"40 in\"\n[test.t%d]\nkind = \"cranking\"\ndate = 2026-01-02\nreadings = { cranking-feed = \"0.2 V\", cranking-ground = \"0.2 V\", current = \"500 A\", voltage = \"10 V\" }\n", ""},
	"tests":                       {"", "[test.t%d]\nkind = \"stop\"\ndate = 2026-01-02\n", ""},
	"answers":                     {"", "[answer.a%d]\nquestion = \"idle-up\"\nsays = \"x\"\ndate = 2026-01-01\n", ""},
	"radiators":                   {"", "[part.p%d]\n[radiator.r%d]\npart = \"part.p%d\"\ncools = \"coolant\"\n", ""},
	"loops":                       {"", "[hose.h%d]\n[loop.l%d]\ncarries = \"coolant\"\nthrough = [\"hose.h%d\"]\nclosed = true\n", ""},
	"loops and radiators":         {"", "[part.p%d]\n[radiator.r%d]\npart = \"part.p%d\"\ncools = \"coolant\"\n[loop.l%d]\ncarries = \"coolant\"\nthrough = [\"part.p%d\"]\nclosed = true\n", ""},
	"what a loop goes through":    {"[part.p]\n[loop.l]\ncarries = \"coolant\"\nclosed = true\nthrough = [", "\"part.p\",", "]\n"},
	"shafts":                      {"", "[shaft.s%d]\nlength = \"40 in\"\n", ""},
	"gaps":                        {"[part.a]\n[part.b]\n", "[gap.g%d]\nbetween = [\"part.a\", \"part.b\"]\nkind = \"fan-to-core\"\nmeasured = \"1 in\"\n", ""},
	"parts by the exhaust":        {"[part.engine]\nrole = \"engine\"\norigin = \"donor\"\n[engine]\npart = \"part.engine\"\nfuel = \"diesel\"\n[gap.g]\nbetween = [\"turbo\", \"hose\"]\nkind = \"exhaust-to-fuel\"\nmeasured = \"40 in\"\n", "[part.p%d]\nrole = \"fuel-filter\"\norigin = \"bought\"\nat = { behind = \"5 in\", right = \"0 in\", above = \"34 in\" }\n[part.t%d]\nrole = \"turbocharger\"\norigin = \"bought\"\nat = { behind = \"6 in\", right = \"0 in\", above = \"34 in\" }\n", ""},
	"tanks and their parts":       {"[fuel]\ncarries = [\"diesel\"]\n[vehicle]\nwheelbase = \"120 in\"\n", "[tank.t%d]\nfluid = \"diesel\"\ncapacity = \"30 gal\"\nat = { behind = \"98 in\", right = \"0 in\", above = \"23 in\" }\n[part.t%d]\nrole = \"fuel-tank\"\nat = { behind = \"98 in\", right = \"0 in\", above = \"23 in\" }\n", ""},
	"parts by the steering":       {"", "[part.s%d]\nrole = \"steering-shaft\"\nat = { behind = \"5 in\", right = \"0 in\", above = \"34 in\" }\n[part.p%d]\nrole = \"bracket\"\nat = { behind = \"6 in\", right = \"0 in\", above = \"34 in\" }\n", ""},
	"shafts between places":       {"[part.box]\nrole = \"transmission\"\norigin = \"original\"\nat = { behind = \"30 in\", right = \"0 in\", above = \"23 in\" }\n[part.axle]\nrole = \"rear-axle\"\norigin = \"original\"\nat = { behind = \"120 in\", right = \"0 in\", above = \"15 in\" }\n", "[shaft.s%d]\nfrom = \"part.box\"\nto = \"part.axle\"\nlength = \"40 in\"\nlength-was = \"41 in\"\ntube = \"3 in\"\n", ""},
	"weighings":                   {"", "[weighing.w%d]\nwhen = \"as-received\"\nfront = \"3000 lb\"\nrear = \"3000 lb\"\ndate = 2026-01-01\n", ""},
	"entries like the one before": {"[circuit.c]\nload = \"1 A\"\n", "[circuit.c%d]\nlike = \"circuit.c\"\n", ""},
	"steps in a row":              {"", "[work.w%d]\ntitle = \"W %d\"\nafter = [\"work.w%p\"]\nhours = \"2 h\"\n", ""},
	"steps after one":             {"[work.w]\ntitle = \"W\"\n", "[work.w%d]\ntitle = \"W %d\"\nafter = [\"work.w\"]\n", ""},
	"parts with a price":          {"", "[part.p%d]\norigin = \"bought\"\nprice = \"%d.10 USD\"\nordered = 2026-01-02\nsupplier = \"S %d\"\n", ""},
	"relays in layers":            {battery, "[relay.r%d]\ncontact-rating = \"40 A\"\n[circuit.a%d]\nfrom = \"relay.r%p\"\nto = [\"relay.r%d\"]\ngauge = \"12 AWG\"\nlength = \"2 ft\"\nload = \"1 A\"\n", ""},
	"assemblies":                  {"", "[assembly.a%d]\nat = { behind = \"1 in\", right = \"0 in\", above = \"20 in\" }\n[part.p%d]\nmass = \"1 lb\"\nat = { from = \"assembly.a%d\", behind = \"1 in\" }\n", ""},
	"shafts of one part":          {"[part.box]\nrole = \"transmission\"\n[part.axle]\nrole = \"rear-axle\"\n", "[shaft.s%d]\nfrom = \"part.box\"\nto = \"part.axle\"\nlength = \"40 in\"\ntube = \"3 in\"\n", ""},
	"lamps":                       {"", "[lamp.l%d]\nkind = \"tail\"\nheight = \"40 in\"\n", ""},
	"instructions and decisions":  {"", "[instruction.i%d]\nsays = \"x\"\n[decision.d%d]\nsays = \"x\"\n", ""},
	"circuits of lost names":      {battery, "[circuit.C%d]\nload = \"1 A\"\n[circuit.c%d]\nfrom = \"part.bat\"\nload = \"1 A\"\n", ""},
	"faults":                      {"", "[part.p%d]\nmas = \"1 lb\"\nmass = \"1 bushel\"\n", ""},
	"references to nothing":       {"", "[circuit.c%d]\nfrom = \"part.none%d\"\n", ""},
	"unknown kinds":               {"", "[bogus%d.x]\na = 1\n", ""},
	"twice the same":              {"", "[part.p]\nmass = \"%d lb\"\n", ""},
}

// perBuild are the allocations, and the bytes in them, of reading, checking and
// reporting a ledger as text.
func perBuild(t *testing.T, text string) (count, size float64) {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), []byte("[build]\ntitle = \"x\"\nstage = \"assembly\"\n"+text), 0o600))
	require.Less(t, len(text), ledger.MaxLedger)
	place, err := revision.Open(dir)
	require.NoError(t, err)
	defer place.Close()
	builds, err := place.Builds()
	require.NoError(t, err)
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	rep := lint.Check(ledger.NewLoader().Read(builds[0]), rules.Packs(), lint.Options{Today: "2026-11-20"})
	out := report.Text(io.Discard, report.Options{Builds: 1, Propose: func(rep *lint.Report, r *lint.Result) []lint.Proposal {
		return lint.Propose(rep.Build, rules.Packs(), rep, r, 1)
	}})
	if write := out.Build; len(rep.Faults) == 0 {
		require.NoError(t, write(rep))
	} else if out.Partial != nil {
		require.NoError(t, out.Partial(rep))
	}
	require.NoError(t, out.Close(&report.Totals{}))
	if len(rep.Faults) == 0 {
		rep.Digest()
	}
	runtime.ReadMemStats(&after)
	return float64(after.Mallocs - before.Mallocs), float64(after.TotalAlloc - before.TotalAlloc)
}

// TestGrowth: twice the ledger takes no more than 2.2 times the allocations and
// the memory, whatever list it is that grows.
func TestGrowth(t *testing.T) {
	if testing.Short() {
		t.Skip("the race detector empties pools at random, which would be counted")
	}
	for name, s := range shapes {
		t.Run(name, func(t *testing.T) {
			n := 100
			if name == "parts counted in a row" || name == "givers that came off" {
				n = 400 // below some hundred their rows stand apart, which takes less
			}
			perBuild(t, s.text(n)) // what is worked out once a process
			count, size := perBuild(t, s.text(n))
			for range 2 {
				n *= 2
				c, b := perBuild(t, s.text(n))
				assert.LessOrEqual(t, c, 2.2*count, "allocations at %d: %.0f after %.0f", n, c, count)
				assert.LessOrEqual(t, b, 2.2*size, "bytes at %d: %.0f after %.0f", n, b, size)
				count, size = c, b
			}
		})
	}
}
