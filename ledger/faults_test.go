package ledger_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/revision"
)

// write lays down the files of a build below a fresh folder and makes that the
// working directory, so that places read as a user would see them.
func write(t testing.TB, files map[string]string) {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		path := filepath.Join(dir, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	}
	t.Chdir(dir)
}

func load(t testing.TB, folder string) (*ledger.Build, []ledger.Fault) {
	t.Helper()
	place, err := revision.Open(folder)
	require.NoError(t, err)
	defer place.Close()
	builds, err := place.Builds()
	require.NoError(t, err)
	require.Len(t, builds, 1)
	return ledger.NewLoader().Load(builds[0])
}

func faultLines(faults []ledger.Fault) []string {
	var out []string
	for _, f := range faults {
		out = append(out, f.String())
	}
	return out
}

// broken is a ledger with one thing wrong: one build.toml, or the files named in
// "== file ==" lines, and what is told about it.
type broken struct{ name, file, want string }

// files are the files of a broken ledger.
func (c broken) files() map[string]string {
	const head = "[build]\ntitle = \"x\"\n"
	files := map[string]string{}
	switch {
	case strings.HasPrefix(c.file, "== "):
		files["build.toml"] = head
		for _, part := range strings.Split(c.file, "== ")[1:] {
			name, text, _ := strings.Cut(part, " ==\n")
			files[name] = text
		}
	case c.name == "too big":
		files["build.toml"], files["big.toml"] = head, c.file
	default:
		files["build.toml"] = c.file
	}
	return files
}

// brokenLedgers break one thing at a time. The cases are invented; what is wrong
// with them follows from the format, and for the syntax from TOML 1.1
// (https://toml.io/en/v1.1.0).
func brokenLedgers() []broken {
	return []broken{
		{"unknown unit", "[part.a]\nmass = \"12 lbz\"\n", `build.toml:2:8: mass: unknown unit "lbz"; did you mean "lb"? It takes a mass, such as lb or kg`},
		{"wrong dimension", "[part.a]\nmass = \"12 in\"\n", `build.toml:2:8: mass: takes a mass, such as lb or kg; got a length ("in")`},
		{"no unit in a string", "[part.a]\nmass = \"12\"\n", `build.toml:2:8: mass: a number without a unit; takes a mass, such as lb or kg`},
		{"no unit", "[part.a]\nmass = 12\n", `build.toml:2:8: mass: a number without a unit; takes a mass, such as lb or kg, written as a string`},
		{"not a number", "[part.a]\nmass = \"heavy\"\n", `build.toml:2:8: mass: a number and a unit; got "heavy"`},
		{"empty quantity", "[part.a]\nmass = \" \"\n", `build.toml:2:8: mass: empty; takes a mass, such as lb or kg`},
		{"comma", "[part.a]\nmass = \"1,200 lb\"\n", `build.toml:2:8: mass: a number with a point for decimals and no commas, as in 1.5 or 1200; got "1,200 lb"`},
		{"fraction over zero", "[gap.a]\nmeasured = \"3 1/0 in\"\n", `build.toml:2:12: measured: a fraction over zero means nothing`},
		{"improper fraction", "[gap.a]\nmeasured = \"3 5/4 in\"\n", `build.toml:2:12: measured: the fraction 5/4 after a whole number is not less than one`},
		{"infinite", "[part.a]\nmass = \"inf lb\"\n", `build.toml:2:8: mass: a finite number`},
		{"too great", "[part.a]\nmass = \"1e400 lb\"\n", `build.toml:2:8: mass: a finite number`},
		{"infinite float", "[transmission]\ngears = [inf]\n", `build.toml:2:10: `},
		{"negative tolerance", "[part.a]\nmass = \"12 ± -1 lb\"\n", `build.toml:2:8: mass: a tolerance is not negative`},
		{"two tolerances", "[part.a]\nmass = \"12 ± 1 ± 2 lb\"\n", `build.toml:2:8: mass: two ±; one is enough`},
		{"tolerance of another kind", "[part.a]\nmass = \"12 lb ± 1 in\"\n", `build.toml:2:8: mass: the tolerance takes a mass, such as lb or kg; got "in"`},
		{"ends the wrong way", "[part.a]\nmass = \"3 to 2 lb\"\n", `build.toml:2:8: mass: the lower end comes first, as in "0 to 2 lb"`},
		{"estimate of a place", "[part.a]\nat = { behind = \"~3 in\", right = \"0 in\", above = \"0 in\" }\n", `build.toml:2:17: at.behind: an estimate of a zero, a temperature or a position must say its ±`},
		{"estimate of a temperature", "[zone.a]\ntemperature = \"~90 degC\"\n", `build.toml:2:15: temperature: an estimate of a zero, a temperature or a position must say its ±`},
		{"below absolute zero", "[zone.a]\ntemperature = \"-300 degC\"\n", `build.toml:2:15: temperature: a temperature below absolute zero`},
		{"tolerance on a rating", "[vehicle]\ngross-rating = \"7000 ± 10 lb\"\n", `build.toml:2:16: gross-rating: a rating, a limit or a count is exact: leave out the tolerance`},
		{"absolute for gauge", "[cooling]\ncap = \"30 psia\"\n", `build.toml:2:7: cap: takes a pressure, such as psi or kPa; got an absolute pressure ("psia")`},
		{"unknown key", "[part.a]\nmas = \"12 lb\"\n", `build.toml:2:1: unknown key "mas" in part; did you mean "mass"?`},
		{"unknown key of a place", "[part.a]\nat = { behnd = \"1 in\" }\n", `build.toml:2:8: unknown key "behnd" in a place; did you mean "behind"?`},
		{"unknown table", "[prat.a]\nmass = \"1 lb\"\n", `build.toml:1:2: unknown table "prat"; did you mean "part"?`},
		{"unknown key of a need", "[part.a]\nneeds = { vacuum = { lest = \"10 inHg\" } }\n", `build.toml:2:22: unknown key "lest" in a need; did you mean "least"?`},
		{"proof of no value", "[part.a]\nmass = \"1 lb\"\n[document.d]\nproves = [\"part.a\", \"part.a.mass\", \"part.a.mas\", \"part.a.price\"]\n", "build.toml:4:36: part.a does not say mas; did you mean \"mass\"?\nbuild.toml:4:50: part.a does not say price"},
		{"unknown hookup", "[part.a]\nneeds = { vacum = { least = \"10 inHg\" } }\n", `build.toml:2:11: unknown hookup "vacum"; did you mean "vacuum"?`},
		{"no id", "[part]\nmass = \"1 lb\"\n", `build.toml:2:1: [part] needs an id: write [part.ID]`},
		{"bad id", "[part.Fan_2]\nmass = \"1 lb\"\n", `build.toml:1:7: bad id "Fan_2": an id is lower-case words or digits joined by hyphens`},
		{"not a table", "part = 3\n", `build.toml:1:8: part is a table: write [part.ID]`},
		{"wrong type: number for a word", "[part.a]\nname = 3\n", `build.toml:2:8: name takes words; got the number 3`},
		{"wrong type: word for a truth", "[part.a]\nfitted = \"no\"\n", `build.toml:2:10: fitted takes true or false; got the string "no"`},
		{"wrong type: table for a quantity", "[part.a]\nmass = { lb = 3 }\n", `build.toml:2:8: mass: takes a mass, such as lb or kg; got a table`},
		{"wrong type: word for a list", "[fuel]\ncarries = \"diesel\"\n", `build.toml:2:11: carries takes a list, as in carries = [...]; got the string "diesel"`},
		{"another word than the one that may stand for a list", "[plug.a]\nunused = \"all other\"\n", `build.toml:2:10: unused takes a list, as in unused = [...], or "all others"; got the string "all other"`},
		{"wrong word", "[part.a]\norigin = \"bougt\"\n", `build.toml:2:10: origin takes one of original, donor, bought or made; got "bougt"; did you mean "bought"?`},
		{"empty word", "[part.a]\nname = \"\"\n", `build.toml:2:8: name is empty; leave the key out where there is nothing to say`},
		{"name without quotes", "[weighing.a]\nlevels.tank.main = \"50 %\"\n[tank.main]\n", `build.toml:2:8: levels takes the name of a tank in quotes, as in levels = { "tank.main" = ... }`},
		{"unknown key of few", "[shaft.a]\nslopes = { transmission = \"3 deg\" }\n", `build.toml:2:12: unknown key "transmission" in shaft.slopes; takes from, shaft, second and to`},
		{"bad stage", "[owner]\nname = \"x\"\n[build.a]\n", `build.toml:3:8: unknown key "a" in build`},
		{"no such day", "[work.a]\ndate = 2026-3-1\n", `build.toml:2:8: invalid date or time "2026-3-1"; a date is year, month and day, as in 2026-03-01`},
		{"bad date", "[work.a]\ndate = \"yesterday\"\n", `build.toml:2:8: date takes a date, such as 2026-03-01; got the string "yesterday"`},
		{"bad gauge", "[circuit.a]\ngauge = \"12\"\n", `build.toml:2:9: gauge: takes a conductor size, such as 12 AWG, 2/0 AWG or 3 mm2; got "12"`},
		{"bad reference", "[part.fan]\n[gap.a]\nbetween = [\"part.fna\", \"core\"]\n", `build.toml:3:12: there is no part.fna; did you mean "part.fan"?`},
		{"reference of the wrong kind", "[part.fan]\n[circuit.a]\nzone = \"part.fan\"\n", `build.toml:3:8: takes the name of an entry: zone.x; got "part.fan"`},
		{"reference without a kind", "[zone.bay]\n[circuit.a]\nzone = \"bay\"\n", `build.toml:3:8: takes the name of an entry: zone.x; got "bay"; did you mean "zone.bay"?`},
		{"the same entry in two files", "== a.toml ==\n[part.fan]\n== b.toml ==\n\n[part.fan]\n", `b.toml:2:7: part.fan is already at a.toml:1:7; an entry stands in one place`},
		{"the same entry twice", "[part.fan]\nname = \"x\"\n[part.fan]\n", `build.toml:3:7: `},
		{"the same key twice", "[part.fan]\nname = \"x\"\nname = \"y\"\n", `build.toml:3:1: `},
		{"keys that differ in case", "[part.fan]\nname = \"x\"\nName = \"y\"\n", `build.toml:3:1: `},
		{"cycle of at", "[part.a]\nat = \"part.b\"\n[part.b]\nat = \"part.a\"\n", `build.toml:2:6: part.a.at leads back to itself through part.b`},
		{"cycle of assemblies", "[assembly.a]\nat = { from = \"assembly.a\", behind = \"1 in\" }\n", `build.toml:2:15: assembly.a.at leads back to itself through assembly.a`},
		{"cycle of like", "[circuit.a]\nlike = \"circuit.b\"\n[circuit.b]\nlike = \"circuit.a\"\n", `build.toml:2:8: circuit.a.like leads back to itself through circuit.b`},
		{"cycle of was-at", "[part.a]\nwas-at = \"part.b\"\n[part.b]\nwas-at = \"part.a\"\n", `build.toml:2:10: part.a.was-at leads back to itself through part.b`},
		{"cycle of was-at and at", "[part.a]\nat = \"part.b\"\n[part.b]\nwas-at = \"part.a\"\n", `build.toml:4:10: part.b.was-at leads back to itself through part.a`},
		{"a part that feeds itself", "[part.a]\nneeds = { vacuum = { from = \"part.a\" } }\n", `build.toml:2:29: needs.vacuum: a part cannot feed itself`},
		{"limits in a build", "[limits]\n\"weight/gross\" = \"1 lb\"\n", `build.toml:1:2: [limits] stands in shop.toml, not in a build`},
		{"a shop in a build", "[shop]\nname = \"x\"\n", `build.toml:1:2: [shop] stands in shop.toml, not in a build`},
		{"a build in a shop", "== shop.toml ==\n[vehicle]\nmake = \"x\"\n", `shop.toml:1:2: [vehicle] stands in a build, not in shop.toml`},
		{"a waiver in a shop", "== shop.toml ==\n[waiver.a]\nrule = \"weight/gross\"\n", `shop.toml:1:2: [waiver.ID] stands in a build, not in shop.toml`},
		{"a hookup that says not how it is compared", "== shop.toml ==\n[hookup.a]\ndimension = \"pressure\"\n", `shop.toml:1:9: hookup.a does not say compare: how what is fed is held against what is needed, by level, sum, equal or present`},
		{"a need that is not read", "[part.a]\nneeds = { vacuum = { takes = \"3 psi\" }, fuel-supply = { least = \"3 gph\" } }\n", "build.toml:2:22: needs.vacuum takes least instead of takes, as vacuum is compared by \"level\"\n" +
			"build.toml:2:57: needs.fuel-supply takes no least: fuel-supply is there or not, and not measured"},
		{"a hookup of any dimension", "== shop.toml ==\n[hookup.a]\ncompare = \"level\"\ndimension = \"any\"\n", `shop.toml:3:13: a hookup is of one dimension, such as pressure, power or flow; got "any"`},
		{"a sum of temperatures", "== shop.toml ==\n[hookup.a]\ncompare = \"sum\"\ndimension = \"temperature\"\n", `shop.toml:3:13: temperature is compared by "level" or "present": it does not add up, and has no shares`},
		{"a control character", "[part.a]\nname = \"a\\u001bb\"\n", `build.toml:2:`},
		{"a raw control character", "[part.a]\nname = \"a\x1bb\"\n", `build.toml:2:10: `},
		{"not UTF-8", "[part.a]\nname = \"a\xffb\"\n", `build.toml:2:10: `},
		{"not TOML", "[part.a\nname = 3\n", `build.toml:1:`},
		{"a newline in a string", "[part.a]\nname = \"abc\n", `build.toml:2:`},
		// toml-test invalid/inline-table/overwrite-02: BurntSushi lets a table be added to an inline one.
		{"TOML 1.1 forbids it: an inline table extended", "[part.a]\nmade = { by = \"x\" }\n[part.a.made]\nprocess = \"y\"\n", `build.toml:3:`},
		{"too big", "#" + strings.Repeat("x", 1<<20), `big.toml:1:1: too big to read: 1.0 MiB, where a TOML file may have 1 MiB`},
		{"negative count", "[part.a]\ncount = -1\n", `build.toml:2:9: count: a count or a limit is not negative`},
		{"negative mass", "[part.a]\nmass = \"-575 lb\"\n", `build.toml:2:8: mass: a mass is not negative; got "-575 lb"`},
		{"negative length", "[circuit.a]\nlength = \"-72 in\"\n", `build.toml:2:10: length: a length is not negative; got "-72 in"`},
		{"negative gap", "[gap.a]\nmeasured = \"-1 in\"\n", `build.toml:2:12: measured: a length is not negative`},
		{"negative end", "[part.a]\nmass = \"-1 to 2 lb\"\n", `build.toml:2:8: mass: a mass is not negative; got "-1 to 2 lb"`},
		{"negative vacuum", "[part.a]\ngives = { vacuum = \"-18 inHg\" }\n", `build.toml:2:20: gives.vacuum: a pressure is not negative; got "-18 inHg"`},
		{"negative share", "[cooling]\nmix = -0.5\n", `build.toml:2:7: mix: takes a number from 0 to 1, or %; got -0.5`},
		{"a wheelbase of nothing", "[vehicle]\nwheelbase = \"0 in\"\n", `build.toml:2:13: wheelbase: takes a length above zero; got "0 in"`},
		{"a scale that reads nothing", "[weighing.a]\nfront = \"0 lb\"\n", `build.toml:2:9: front: takes a mass above zero; got "0 lb"`},
		{"a gear of nothing", "[transmission]\ngears = [3.0, 0]\n", `build.toml:2:15: gears.1: takes a number above zero; got 0`},
		{"fuller than full", "[tank.main]\n[weighing.a]\nlevels = { \"tank.main\" = \"50\" }\n", `build.toml:3:26: levels.tank.main: takes a number from 0 to 1, or %; got "50"`},
		{"fuller than full by a half", "[tank.main]\n[weighing.a]\nlevels = { \"tank.main\" = 1.5 }\n", `build.toml:3:26: levels.tank.main: takes a number from 0 to 1, or %; got 1.5`},
		{"a drop limit without its %", "[circuit.a]\ndrop-limit = 3\n", `build.toml:2:14: drop-limit: takes a number from 0 to 1, or %; got 3`},
		{"three tires", "[vehicle.front]\ntires = 3\n", `build.toml:2:9: tires: takes 2 or 4; got 3`},
		{"year of two digits", "[vehicle]\nyear = 92\n", `build.toml:2:8: year: takes a number from 1900 to 2100; got 92`},
		{"another word for a key", "[part.a]\nweight = \"575 lb\"\nlocation = \"part.b\"\nqty = 2\n", `build.toml:2:1: unknown key "weight" in part; did you mean "mass"?
build.toml:3:1: unknown key "location" in part; did you mean "at"?
build.toml:4:1: unknown key "qty" in part; did you mean "count"?`},
		{"a word near another key", "[lamp.a]\nweight = \"5 in\"\n", `build.toml:2:1: unknown key "weight" in lamp; did you mean "height"?`},
		{"F", "[zone.a]\ntemperature = \"250 F\"\n", `build.toml:2:15: temperature: unknown unit "F"; did you mean "degF"?`},
		{"C", "[zone.a]\ntemperature = \"90 C\"\n", `did you mean "degC"?`},
		{"number sign", "[part.a]\nmass = \"575 #\"\n", `build.toml:2:8: mass: unknown unit "#"; did you mean "lb"?`},
		{"CCA", "[supply]\nbattery-cca = \"800 CCA\"\n", `build.toml:2:15: battery-cca: unknown unit "CCA"; did you mean "A"?`},
		{"fraction of fraction", "[gap.a]\nmeasured = \"1//2 in\"\n", `build.toml:2:12: measured: `},
		{"not a level of a tank", "[weighing.a]\nlevels = { \"tank.man\" = 0.5 }\n[tank.main]\n", `build.toml:2:12: there is no tank.man; did you mean "tank.main"?`},
	}
}

func TestFaults(t *testing.T) {
	for _, c := range brokenLedgers() {
		t.Run(c.name, func(t *testing.T) {
			write(t, c.files())
			b, faults := load(t, ".")
			require.Nil(t, b)
			require.NotEmpty(t, faults)
			require.Contains(t, strings.Join(faultLines(faults), "\n"), c.want)
		})
	}
}

// What may be negative, or nothing, is taken.
func TestNoFaults(t *testing.T) {
	write(t, map[string]string{"build.toml": `[vehicle.rear]
ride-change = "-1/2 in"
fender-cover = "-1/4 in"
tires = 4
[part.a]
mass = "0 to 2 lb"
at = { behind = "-12 in", right = "-3-1/2 in", above = "20 in" }
[part.b]
mass = "~2 +- 3 lb"
[tank.main]
capacity = "0 gal"
[zone.a]
temperature = "-40 degF"
[shaft.a]
slopes = { from = "-3 deg" }
[weighing.a]
levels = { "tank.main" = "50 %" }
`})
	_, faults := load(t, ".")
	require.Empty(t, faults)
}

// Several faults in several files are all told in one run, in the order of
// files and lines.
func TestAllFaultsAtOnce(t *testing.T) {
	write(t, map[string]string{
		"shop.toml":    "[limits]\n\"weight/gross\" = \"1 lbz\"\n",
		"b/build.toml": "[build]\nstage = \"paint\"\ncolor = \"red\"\n",
		"b/parts.toml": "[part.fan]\nmass = \"3 in\"\ndonor = \"donor.nobody\"\n[part.fan2]\nmas = \"3 lb\"\n",
	})
	_, faults := load(t, "b")
	lines := faultLines(faults)
	for i, prefix := range []string{"b/build.toml:2:9:", "b/build.toml:3:1:", "b/parts.toml:2:8:", "b/parts.toml:3:9:", "b/parts.toml:5:1:", "shop.toml:2:18:"} {
		require.Greater(t, len(lines), i, lines)
		require.True(t, strings.HasPrefix(lines[i], prefix), "%s in\n%s", prefix, strings.Join(lines, "\n"))
	}
	require.Len(t, lines, 6, strings.Join(lines, "\n"))
}

// A slip of typing is told alone: what its file names may be in it, so that
// no reference to it is called wrong.
func TestSlipHidesNothingElse(t *testing.T) {
	for _, broken := range []map[string]string{
		{"b/parts.toml": "[part.fan]\nmass = 12 lb\n[part.core]\n"},
		{"shop.toml": "[zone.bay]\ntemperature = \"90 degC\n"},
		{"shop.toml": "[zone.bay\n"},
	} {
		files := map[string]string{"b/build.toml": "[build]\n[gap.a]\nbetween = [\"part.fan\", \"part.core\"]\n[circuit.a]\nzone = \"zone.bay\"\nlike = \"circuit.a\"\n"}
		for name, text := range broken {
			files[name] = text
		}
		write(t, files)
		_, faults := load(t, "b")
		require.Len(t, faults, 1, "%v", faultLines(faults))
		require.Contains(t, broken, faults[0].Place.File)
	}
}

// A link out of the build folder is refused, and a file of 50 MB is not read.
func TestLinkAndSize(t *testing.T) {
	write(t, map[string]string{"secret.toml": "[part.a]\n", "b/build.toml": "[build]\n"})
	require.NoError(t, os.Symlink("../secret.toml", "b/parts.toml"))
	require.NoError(t, os.WriteFile("b/huge.toml", bytes.Repeat([]byte("#\n"), 25<<20), 0o644))
	_, faults := load(t, "b")
	text := strings.Join(faultLines(faults), "\n")
	require.Contains(t, text, "b/parts.toml:1:1: ")
	require.Contains(t, text, "b/huge.toml:1:1: too big to read")
	require.Len(t, faults, 2)
}
