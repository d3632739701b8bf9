package harness

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/lint"
	"fishplate/rules/packtest"
)

// bulkhead is a twenty-way plug in the bulkhead that was opened and pinned
// anew, and the engine's that plugs into it.
const bulkhead = `[build]
stage = "first-start"

[plug.bulkhead]
ways = 20
opened = true
mates = "plug.engine"
mounted-on = "bulkhead, left"

[plug.bulkhead.pins]
1  = { now = "kept",   color-was = "red" }
2  = { now = "kept",   color-was = "red/black", circuit = "circuit.start" }
3  = { now = "kept",   color-was = "yellow" }
4  = { now = "moved",  color = "brown",      to = "plug.dash:3", circuit = "circuit.charge-lamp" }
5  = { now = "moved",  color = "gray",       to = "plug.dash:4", circuit = "circuit.oil-lamp" }
6  = { now = "new",    color = "white/black", gauge = "18 AWG", to = "plug.dash:1", circuit = "circuit.tach" }
7  = { now = "new",    color = "green",      gauge = "18 AWG", to = "plug.dash:2", circuit = "circuit.temperature" }
8  = { now = "capped", color-was = "pink",   other-end = "removed" }
9  = { now = "capped", color-was = "tan",    to = "plug.dash:9" }
10 = { now = "cut",    color-was = "orange", to = "splice.glow", other-end = "spliced" }
11 = { now = "empty",  color-was = "brown" }
12 = { now = "empty",  color-was = "gray" }
13 = { now = "empty",  color-was = "black/pink", other-end = "removed" }
14 = { now = "new",    color = "violet",     gauge = "10 AWG", to = "part.stop-solenoid", circuit = "circuit.stop" }
15 = { now = "kept",   color-was = "purple" }
16 = { now = "kept",   color-was = "black", mark = "16" }
17 = { now = "kept",   color-was = "black" }
18 = { now = "empty" }
19 = { now = "empty" }
20 = { now = "empty" }

[plug.engine]
ways = 20
mounted-on = "engine harness"

[plug.engine.pins]
1  = { now = "kept", color = "red",       to = "part.engine" }
2  = { now = "new", color = "red/black", to = "part.starter",    circuit = "circuit.start" }
3  = { now = "kept", color = "yellow",    to = "part.engine" }
4  = { now = "new", color = "brown",     to = "part.alternator", circuit = "circuit.charge-lamp" }
5  = { now = "new", color = "gray",      to = "part.engine",     circuit = "circuit.oil-lamp" }
6  = { now = "new", color = "white/black", to = "part.alternator", circuit = "circuit.tach" }
7  = { now = "new", to = "part.engine", circuit = "circuit.temperature" }
8  = { now = "empty" }
9  = { now = "empty" }
10 = { now = "empty" }
11 = { now = "empty" }
12 = { now = "empty" }
13 = { now = "empty" }
14 = { now = "new", color = "violet",    to = "part.stop-solenoid", circuit = "circuit.stop" }
15 = { now = "kept", color = "purple",    to = "part.engine" }
16 = { now = "kept", color = "black", gauge = "14 AWG", to = "part.engine" }
17 = { now = "kept", color = "black", gauge = "18 AWG", to = "part.engine" }
18 = { now = "empty" }
19 = { now = "empty" }
20 = { now = "empty" }

# Nobody opened this one.
[plug.dash.pins]
1 = { to = "plug.bulkhead:6" }
2 = { to = "plug.bulkhead:7" }
3 = { to = "plug.bulkhead:4" }
4 = { to = "plug.bulkhead:5" }
9 = { now = "empty" }
10 = { to = "splice.glow" }

[splice.glow]
joins = ["plug.bulkhead:10", "plug.dash:10"]

[zone.bay]
temperature = "85 degC"

[circuit.start]
duty = "signal"
[circuit.charge-lamp]
duty = "signal"
[circuit.oil-lamp]
duty = "signal"
[circuit.tach]
duty = "signal"
[circuit.temperature]
duty = "signal"
color = "green"

[circuit.stop]
from = "part.fuse-block"
duty = "momentary"
gauge = "10 AWG"
insulation = "GXL"
fuse = "40 A"
zone = "zone.bay"

[part.fuse-block]
[part.engine]
[part.starter]
[part.alternator]
[part.stop-solenoid]
`

// The faults of the trade, one at a time in that plug: each is found, alone, at
// its line.
func TestTwentyWays(t *testing.T) {
	for _, c := range []struct{ name, old, new, want string }{
		{"as it should be", "", "", ""},
		{"one pin left out", "\n15 = { now = \"kept\",   color-was = \"purple\" }", "",
			"missing harness/pin-accounted plug.bulkhead (pin 15) at 4: plug.bulkhead.pins.15"},
		{"one pin used twice", `"plug.dash:4", circuit = "circuit.oil-lamp"`, `"plug.dash:3", circuit = "circuit.oil-lamp"`,
			"fail harness/both-ends plug.bulkhead (pin 5) at 15: plug.dash:3 says that its wire ends at plug.bulkhead:4\n" +
				"fail harness/one-wire plug.dash (pin 3) at 62: the wires of plug.bulkhead:4 and plug.bulkhead:5 end in it: join them in a splice and bring one wire to the pin\n" +
				"fail harness/both-ends plug.dash (pin 4) at 63: plug.bulkhead:5 says that its wire ends at plug.dash:3"},
		{"one wire cut and not capped", `8  = { now = "capped"`, `8  = { now = "cut"`,
			"fail harness/cut-ends plug.bulkhead (pin 8) at 18: the wire was cut off at plug.bulkhead:8, and its end is neither capped nor spliced"},
		{"mated plugs that disagree", `part.alternator", circuit = "circuit.tach"`, `part.alternator", circuit = "circuit.temperature"`,
			"fail harness/both-ends plug.bulkhead (pin 6 to plug.engine) at 16: plug.bulkhead:6 is new, on circuit.tach, and plug.engine:6 is new, on circuit.temperature"},
		{"a wire to the neighboring pin", "9  = { now = \"empty\" }\n10 = { now = \"empty\" }\n11", "9  = { now = \"new\", color = \"blue\", circuit = \"circuit.oil-lamp\", to = \"part.engine\" }\n10 = { now = \"empty\" }\n11",
			"fail harness/both-ends plug.bulkhead (pin 9 to plug.engine) at 19: plug.bulkhead:9 is capped, and plug.engine:9 is new, on circuit.oil-lamp"},
		{"a wire pulled out and forgotten", `"black/pink", other-end = "removed"`, `"black/pink"`,
			"missing harness/cut-ends plug.bulkhead (pin 13, other end) at 23: plug.bulkhead.pins.13.other-end"},
		{"a pigtail too thin for its fuse", `"violet",     gauge = "10 AWG"`, `"violet",     gauge = "14 AWG"`,
			"fail harness/gauge plug.bulkhead (pin 14) at 24: "},
		{"two black wires", `, mark = "16"`, "",
			"fail harness/colors plug.bulkhead (black) at 27: plug.bulkhead:16 and plug.bulkhead:17 are both black, and nothing tells them apart: put a mark on one"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.True(t, c.old == "" || strings.Count(bulkhead, c.old) == 1, "%q", c.old)
			dir := t.TempDir()
			require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), []byte(strings.Replace(bulkhead, c.old, c.new, 1)), 0o644))
			rep := lint.Check(packtest.Load(t, dir), []*lint.Pack{Pack}, lint.Options{AsOf: "2026-11-20"})
			require.Empty(t, rep.Faults)
			var told []string
			slices.SortStableFunc(rep.Results, func(a, b *lint.Result) int { return a.Place.Line - b.Place.Line })
			for _, r := range rep.Results {
				if r.Verdict > lint.Pass {
					why := r.Reason
					for _, n := range r.Needs {
						why = n.Key
					}
					told = append(told, fmt.Sprintf("%s %s %s at %d: %s", r.Verdict, r.Rule.Name, r.Subject(), r.Place.Line, why))
				}
			}
			assert.Equal(t, c.want, strings.Join(told, "\n"))
		})
	}
}

// Which of two mates names the other changes nothing, and neither does the
// order in which rows are looked at.
func TestMatesEitherWay(t *testing.T) {
	bad := strings.Replace(bulkhead, `part.alternator", circuit = "circuit.tach"`, `part.alternator", circuit = "circuit.oil-lamp"`, 1)
	other := strings.Replace(strings.Replace(bad, "mates = \"plug.engine\"\n", "\n", 1), "[plug.engine]\n", "[plug.engine]\nmates = \"plug.bulkhead\"\n", 1)
	require.Contains(t, other, `mates = "plug.bulkhead"`)
	var want []string
	for i := range 20 {
		dir := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), []byte([]string{bad, other}[i%2]), 0o644))
		rep := lint.Check(packtest.Load(t, dir), []*lint.Pack{Pack}, lint.Options{AsOf: "2026-11-20"})
		require.Empty(t, rep.Faults)
		var told []string
		for _, r := range rep.Results {
			told = append(told, packtest.Tell(r))
		}
		if want == nil {
			want = told
		}
		require.Equal(t, strings.Join(want, "\n"), strings.Join(told, "\n"))
	}
	require.Contains(t, want[0], "fail; plug.bulkhead:6 is new")
}
