package drawing_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/rules"
)

// names are names as people and attackers write them.
var names = []string{
	"Engine", "Battery, two in parallel", "Turbocharger, fixed vane, from the other truck, with its oil line and a very long name indeed",
	"</title><script>alert(1)</script>", `" onload="alert(1)`, "</svg><img src=x onerror=alert(1)>", "]]><!--", "{{.}} &amp; &#60;",
	"\u202egnp.exe\u202c", "a\u200b\u2066b", "מחבר", "車の変速機", "", " ", "::error::x", "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW", "Ж, щётка",
}

// generated is a ledger with so many parts, and a share of loads, tanks, gaps,
// circuits, plugs, shafts and hoses, at random.
func generated(rnd *rand.Rand, parts int) string {
	var b strings.Builder
	say := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	place := func() string {
		return fmt.Sprintf(`{ behind = "%.1f in", right = "%.1f in", above = "%.1f in" }`, -40+240*rnd.Float64()*rnd.Float64(), -36+72*rnd.Float64(), 10+70*rnd.Float64())
	}
	name := func() string { return tomlString(names[rnd.IntN(len(names))]) }
	some := func(most int) int { return rnd.IntN(most + 1) }
	say("[build]\ntitle = %s\nstage = \"plan\"", tomlString("Generated "+names[rnd.IntN(len(names))]))
	if rnd.IntN(6) > 0 {
		say("[vehicle]\nwheelbase = \"%d in\"\nheight = \"%d in\"\ncg-height = \"28 ± 1 in\"\ngross-rating = \"9200 lb\"", 90+some(90), 55+some(60))
		for _, axle := range []string{"front", "rear"} {
			say("[vehicle.%s]\nrating = \"%d lb\"\ntrack = \"%d in\"\ntire = \"tire.a\"", axle, 3000+some(3000), 55+some(15))
		}
		say("[tire.a]\nsize = \"LT235/85R16\"\nsection-width = \"%d mm\"", 200+some(80))
		say("[weighing.as-received]\nwhen = \"as-received\"\nfront = \"3000 ± 10 lb\"\nrear = \"2500 ± 10 lb\"\naboard = []\nlevels = { \"tank.t0\" = 0.5 }\ndate = 2026-01-01")
	}
	say("[tank.t0]\nfluid = \"diesel\"\ncapacity = \"30 gal\"\nat = %s", place())
	say("[assembly.a]\nat = %s\nwas-at = %s\nmoved = 2026-02-01", place(), place())
	for i := range parts {
		say("[part.p%d]\nname = %s\norigin = \"%s\"", i, name(), []string{"original", "bought", "made", "donor"}[rnd.IntN(4)])
		if rnd.IntN(8) > 0 {
			say("mass = \"%.1f lb\"", 0.2+700*rnd.Float64()*rnd.Float64()*rnd.Float64())
		}
		switch rnd.IntN(8) {
		case 0:
		case 1:
			say("at = { from = \"assembly.a\", behind = \"%d in\", right = \"0 in\", above = \"3 in\" }", some(20)-10)
		case 2:
			say("at = %s\nwas-at = %s", place(), place())
		default:
			say("at = %s", place())
		}
	}
	for i := range some(5) {
		say("[load.l%d]\nmass = \"%d lb\"\nat = %s", i, 100+some(800), place())
	}
	part := func() string { return fmt.Sprintf("part.p%d", rnd.IntN(max(parts, 1))) }
	if parts == 0 {
		return b.String()
	}
	for i := range some(parts / 3) {
		say("[gap.g%d]\nbetween = [\"%s\", %s]\nkind = \"engine-to-body\"\nmeasured = \"%.2f ± 0.1 in\"\nmotion = \"0.2 ± 0.1 in\"\nread = 2026-02-03", i, part(), tomlString("x "+names[rnd.IntN(len(names))]), 5*rnd.Float64())
	}
	say("[supply]\nvoltage = \"12.6 V\"")
	colors := []string{"red", "white/black", "dark blue", "no such", `x"><script>`}
	circuits := 1 + some(parts/2)
	for i := range circuits {
		from := part()
		if i > 0 && rnd.IntN(3) > 0 {
			from = fmt.Sprintf("circuit.c%d", rnd.IntN(i))
		}
		say("[circuit.c%d]\nfrom = \"%s\"\nto = [\"%s\"]\nload = \"%.1f A\"\nduty = \"continuous\"\ngauge = \"14 AWG\"\ninsulation = \"GXL\"\nlength = \"%d in\"\nreturn = \"wire\"\ncolor = %s", i, from, part(), 20*rnd.Float64(), 10+some(150), tomlString(colors[rnd.IntN(len(colors))]))
		if rnd.IntN(2) > 0 {
			say("fuse = \"20 A\"\nfuse-from-source = \"3 in\"")
		}
	}
	for i := range some(3) {
		ways := 1 + some(40)
		say("[plug.k%d]\nways = %d\nmounted-on = %s\n[plug.k%d.pins]", i, ways, tomlString("x "+names[rnd.IntN(len(names))]), i)
		for pin := 1; pin <= ways; pin++ {
			if rnd.IntN(3) > 0 {
				say("%d = { now = \"new\", circuit = \"circuit.c%d\", color = %s, to = \"%s\" }", pin, rnd.IntN(circuits), tomlString(colors[rnd.IntN(len(colors))]), part())
			}
		}
	}
	for i := range some(3) {
		say("[shaft.s%d]\nfrom = \"%s\"\nto = \"%s\"\nlength = \"%d in\"\njoints = \"%s\"\nlength-second = \"30 in\"", i, part(), part(), 20+some(60), []string{"2", "3", "cv"}[rnd.IntN(3)])
		for _, v := range []string{"slopes", "plan"} {
			say("%s = { from = \"%.1f ± 0.1 deg\", shaft = \"%.1f ± 0.1 deg\", second = \"1.0 ± 0.1 deg\", to = \"%.1f deg\" }", v, 8*rnd.Float64()-4, 20*rnd.Float64()-10, 8*rnd.Float64()-4)
		}
	}
	for i := range some(8) {
		say("[hose.h%d]\ncarries = \"%s\"\nfrom = \"%s\"\nto = \"%s\"\nbore = \"1/2 in\"\nlength = \"%d in\"", i, []string{"coolant", "fuel"}[rnd.IntN(2)], part(), part(), 5+some(60))
	}
	return b.String()
}

// tomlString writes a string as TOML has it.
func tomlString(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < 0x20:
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// checked is the report on a ledger's text.
func checked(t *testing.T, text string) *lint.Report {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "b")
	require.NoError(t, os.Mkdir(dir, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), []byte(text), 0o644))
	return reportBy(t, dir, slices.DeleteFunc(rules.Packs(), func(p *lint.Pack) bool {
		return !slices.Contains([]string{"weight", "clearance", "wiring"}, p.Name) // what drawings show of the rest is on the examples
	}))
}

func reportOn(t *testing.T, folder string) *lint.Report {
	t.Helper()
	return reportBy(t, folder, rules.Packs())
}

func reportBy(t *testing.T, folder string, packs []*lint.Pack) *lint.Report {
	t.Helper()
	place, err := revision.Open(folder)
	require.NoError(t, err)
	defer place.Close()
	builds, err := place.Builds()
	require.NoError(t, err)
	require.Len(t, builds, 1)
	var rep *lint.Report
	lint.Run(builds, packs, lint.Options{AsOf: "2026-11-20"}, func(r *lint.Report) { rep = r })
	require.NotNil(t, rep.Build)
	return rep
}
