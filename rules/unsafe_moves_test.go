package rules_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"fishplate/ledger"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/lint/compare"
	"fishplate/rules"
	"fishplate/rules/packtest"
)

// What moved after it was read, in one revision and between two.

var dangerousMoves = []variant{
	{"the engine moved again after its gaps were taped, by the dates", []string{"clearance/remeasured"}, []edit{
		set("assembly.powertrain", "moved", "2026-04-01")}},
	{"a gap that says no date, of an engine that moved", []string{"clearance/remeasured"}, []edit{
		unset("gap.pan-to-axle", "read")}},
	{"the radiator moved by itself after the fan was taped", []string{"clearance/remeasured"}, []edit{
		set("part.radiator", "was-at", `{ behind = "-9 in", right = "0 in", above = "30 in" }`), set("part.radiator", "moved", "2026-04-02")}},
	{"the engine moved after the long grade was driven", []string{"cooling/air-to-boil"}, []edit{
		set("assembly.powertrain", "moved", "2026-04-19")}},
	{"the engine moved after the truck was weighed", []string{"weight/front-axle"}, []edit{
		set("assembly.powertrain", "moved", "2026-04-17")}},
	{"the pan taken off and put back after its gap was taped", []string{"clearance/remeasured"}, []edit{
		with("[work.pan]\nparts = [\"part.oil-pan\"]\ndid = \"fitted\"\nby = \"June Farrow\"\ndate = 2026-04-02")}},
}

var soundMoves = []variant{
	{"the engine moved on the day on which the gaps were taped", nil, []edit{
		set("assembly.powertrain", "moved", "2026-02-20")}},
	{"a pan that was looked at after its gap was taped", nil, []edit{
		with("[work.pan]\nparts = [\"part.oil-pan\"]\ndid = \"inspected\"\nby = \"June Farrow\"\ndate = 2026-04-02")}},
}

// move is the finished example with some edits, held against how it was.
type move struct {
	name  string
	first []edit   // of both
	edits []edit   // of the newer
	again []string // what is to be read again; nil for a sound one
	asked []string // what is asked for a date
}

const ahead = `{ behind = "12 3/4 in", right = "3/4 in", above = "26 3/4 in" }` // an inch and a half

// back is where the powertrain stands in the example.
const back = `{ behind = "14 1/4 in", right = "3/4 in", above = "26 3/4 in" }`

var onEngine = []string{"gap.belt-to-steering-box", "gap.engine-to-hood", "gap.fan-to-core", "gap.fan-to-shroud", "gap.pan-to-axle",
	"gap.rocker-cover-to-wiper-tray", "gap.steering-shaft-to-lift-pump", "gap.turbo-to-firewall", "gap.turbo-to-mount-rubber"}

// but are the gaps on the engine without some.
func but(those ...string) []string {
	return slices.DeleteFunc(slices.Clone(onEngine), func(s string) bool { return slices.Contains(those, s) })
}

var powertrain = []string{"assembly.powertrain"}

var moves = []move{
	{"the engine moved ahead, nothing read", nil, []edit{set("assembly.powertrain", "at", ahead)}, onEngine, powertrain},
	{"moved, and dated", nil, []edit{set("assembly.powertrain", "at", ahead), set("assembly.powertrain", "moved", "2026-04-16")}, onEngine, nil},
	{"moved, and the date of one reading edited to a later day", nil, []edit{set("assembly.powertrain", "at", ahead),
		set("gap.fan-to-core", "read", "2026-04-17")}, onEngine, powertrain},
	{"moved, and a reading spelled otherwise", nil, []edit{set("assembly.powertrain", "at", ahead),
		set("gap.fan-to-core", "measured", `"1.875 ± 0.1 in"`)}, onEngine, powertrain},
	{"moved, and a reading's date taken away", nil, []edit{set("assembly.powertrain", "at", ahead),
		unset("gap.fan-to-core", "read")}, onEngine, powertrain},
	{"moved, and a reading altered under its old date", nil, []edit{set("assembly.powertrain", "at", ahead),
		set("gap.fan-to-core", "measured", `"2 ± 1/16 in"`)}, onEngine, powertrain},
	{"moved, and a gap under another name and with another note", nil, []edit{set("assembly.powertrain", "at", ahead),
		without("gap.belt-to-steering-box"), with("[gap.belt]\nbetween = [\"part.steering-box\", \"part.drive-belt\"]\nkind = \"belt-to-fixed\"\nmeasured = \"1 1/2 ± 1/16 in\"\nalong = \"right\"\nmotion = \"1/4 ± 1/8 in\"\nread = 2026-03-28")},
		append(but("gap.belt-to-steering-box"), "gap.belt"), powertrain},
	{"moved, and an end of a gap in words", nil, []edit{set("assembly.powertrain", "at", ahead),
		set("gap.fan-to-core", "between", `["the fan", "part.radiator"]`)}, onEngine, powertrain},
	{"another fan stands for the one that was taped", nil, []edit{set("gap.fan-to-core", "between", `["part.fan-shroud", "part.radiator"]`)}, []string{"gap.fan-to-core"}, nil},
	{"the fan moved by itself", nil, []edit{set("part.fan", "at", `{ from = "assembly.powertrain", behind = "-35.5 in", right = "0 in", above = "6 in" }`)},
		[]string{"gap.fan-to-core", "gap.fan-to-shroud"}, nil},
	{"the radiator moved by itself", nil, []edit{set("part.radiator", "at", `{ behind = "-24.5 in", right = "0 in", above = "34 in" }`)}, []string{"gap.fan-to-core"}, nil},
	{"a move undone", []edit{set("assembly.powertrain", "at", ahead)}, []edit{set("assembly.powertrain", "at", back)}, onEngine, powertrain},
	{"moved, and a gap taken out of the ledger", nil, []edit{set("assembly.powertrain", "at", ahead), without("gap.engine-to-hood")}, onEngine, powertrain},
	{"a fan that was off while the engine moved, and is on again", []edit{set("assembly.powertrain", "at", ahead), set("part.fan", "fitted", "false")},
		[]edit{set("part.fan", "fitted", "true")}, []string{"gap.fan-to-core", "gap.fan-to-shroud"}, []string{"part.fan"}},
	{"before-move taken away", []edit{set("assembly.powertrain", "was-at", ahead), set("gap.fan-to-core", "before-move", "true")},
		[]edit{unset("gap.fan-to-core", "before-move")}, []string{"gap.fan-to-core"}, nil},
	{"a winch that the scale never saw", nil, []edit{with("[part.winch]\norigin = \"bought\"\nmass = \"86 lb\"\nat = { behind = \"-36 in\" }")}, nil, []string{"part.winch"}},
	{"a part that is not fitted any more, and no date", nil, []edit{set("part.radiator", "fitted", "false")}, nil, []string{"part.radiator"}},

	{"moved, and every reading taken again", nil, append(readAgain(), set("assembly.powertrain", "at", ahead), set("assembly.powertrain", "moved", "2026-04-16")), nil, nil},
	{"the place respelled", nil, []edit{set("assembly.powertrain", "at", `{ behind = "14.25 in", right = "0.75 in", above = "26.75 in" }`)}, nil, nil},
	{"the place put right, never moved", nil, []edit{set("assembly.powertrain", "at", ahead), set("assembly.powertrain", "corrected", "2026-04-16")}, nil, nil},
	{"moved, and it says where the readings were taken", nil, []edit{set("assembly.powertrain", "at", ahead), set("assembly.powertrain", "moved", "2026-04-16"), set("assembly.powertrain", "measured-at", back)}, nil, nil},
	{"a note edited, a gap read again and the same", nil, []edit{set("gap.fan-to-core", "note", `"again"`), set("gap.fan-to-core", "read", "2026-04-15")}, nil, nil},
	{"moved to the side, and the gap ahead read again and the same", nil, append(readAgain(),
		set("assembly.powertrain", "at", `{ behind = "14 1/4 in", right = "2 in", above = "26 3/4 in" }`), set("assembly.powertrain", "moved", "2026-04-16"),
		set("gap.fan-to-core", "measured", `"1 7/8 ± 1/16 in"`)), nil, nil},
	{"fan and radiator moved together", nil, []edit{
		set("part.fan", "at", `{ from = "assembly.powertrain", behind = "-37.5 in", right = "0 in", above = "6 in" }`),
		set("part.radiator", "at", `{ behind = "-26.5 in", right = "0 in", above = "34 in" }`), set("part.fan-shroud", "at", `{ behind = "-23.5 in", right = "0 in", above = "43 in" }`)}, nil, nil},
	{"a strap of a pound added", nil, []edit{with("[part.strap]\norigin = \"bought\"\nmass = \"1 lb\"\nat = { behind = \"80 in\" }")}, nil, nil},
	{"a winch with its date", nil, []edit{with("[part.winch]\norigin = \"bought\"\nmass = \"86 lb\"\nat = { behind = \"-36 in\" }\nfitted-on = 2026-04-16")}, nil, nil},
}

// readAgain takes every gap on the engine anew, each at another figure.
func readAgain() []edit {
	var out []edit
	for _, gap := range onEngine {
		out = append(out, set(gap, "measured", `"2 3/32 ± 1/16 in"`), set(gap, "read", "2026-04-17"))
	}
	return out
}

// TestMovesBetweenRevisions: what an edit moved has to be read again, by name,
// and exits with a failure until it is; what moved nothing passes.
func TestMovesBetweenRevisions(t *testing.T) {
	if testing.Short() {
		t.Skip("ten seconds of one goroutine")
	}
	for _, m := range moves {
		t.Run(m.name, func(t *testing.T) {
			t.Parallel()
			load := func(edits []edit) *ledger.Build {
				b, faults := ledger.NewLoader().Load(edited(t, edits))
				require.Empty(t, faults)
				return b
			}
			c := compare.Builds(load(m.first), load(append(slices.Clone(m.first), m.edits...)), rules.Packs(), lint.Options{AsOf: delivered})
			require.False(t, c.Unread())
			var again, asked []string
			for _, a := range c.Again {
				again = append(again, a.Entry)
			}
			for _, a := range c.Asks {
				asked = append(asked, a.Entry)
			}
			slices.Sort(m.again)
			assert.Equal(t, m.again, again)
			assert.Equal(t, m.asked, asked)
			if len(m.again)+len(m.asked) > 0 {
				assert.True(t, c.Failed())
			}
		})
	}
}

// The figures of the case that this is for: the fan 1 7/8 in from the core less
// 3/8 of motion, the engine slid 1 1/2 in toward it, and nothing is left. By hand.
func TestEngineMovedAhead(t *testing.T) {
	l := ledger.NewLoader()
	a, _ := l.Load(edited(t, nil))
	b, _ := l.Load(edited(t, []edit{set("assembly.powertrain", "at", ahead)}))
	c := compare.Builds(a, b, rules.Packs(), lint.Options{AsOf: delivered})
	i := slices.IndexFunc(c.Changes, func(x *compare.Change) bool {
		return x.Rule.Name == "clearance/gap" && x.Entry == "gap.fan-to-core" && x.Aspect == "clear"
	})
	require.GreaterOrEqual(t, i, 0)
	x := c.Changes[i]
	assert.Equal(t, compare.Worse, x.Kind)
	assert.True(t, x.Counts)
	assert.Equal(t, "read before this edit", x.Why)
	assert.InDelta(t, 0, x.After.Value.Value(), 1e-9)
	assert.InDelta(t, -1.5*0.0254, x.Delta, 1e-9)
	require.Len(t, x.Causes, 1)
	assert.Equal(t, "assembly.powertrain", x.Causes[0].Entry)
	assert.InDelta(t, -1.5*0.0254, x.Causes[0].Share, 1e-9)
}

// What neither branch of a merge had is told of the merge: one moved the engine and
// read its gaps again, the other read one of them while the engine stood where it
// was. What a branch left unread is its own matter.
func TestMergedReadings(t *testing.T) {
	moved := append(readAgain(), set("assembly.powertrain", "at", ahead), set("assembly.powertrain", "moved", "2026-04-16"))
	fan := []edit{set("gap.fan-to-core", "measured", `"1 13/16 ± 1/16 in"`), set("gap.fan-to-core", "read", "2026-04-18")}
	both := slices.Concat(moved[2*slices.Index(onEngine, "gap.fan-to-core")+2:], moved[:2*slices.Index(onEngine, "gap.fan-to-core")], fan)
	unread := []edit{set("assembly.powertrain", "at", ahead)}
	for name, c := range map[string]struct {
		one, other, merged []edit
		again              []string
	}{
		"read at the old place on the other branch": {moved, fan, both, []string{"gap.fan-to-core"}},
		"left unread on its own branch":             {unread, []edit{set("gap.fan-to-core", "note", `"again"`)}, append(slices.Clone(unread), set("gap.fan-to-core", "note", `"again"`)), nil},
	} {
		u := compare.Union([]*revision.Build{edited(t, c.one), edited(t, c.other)}, edited(t, c.merged), rules.Packs(), lint.Options{AsOf: delivered})
		require.False(t, u.Unread(), name)
		var again []string
		for _, a := range u.Again {
			again = append(again, a.Entry)
		}
		assert.Equal(t, c.again, again, name)
		assert.Equal(t, c.again != nil, u.Failed(), name)
	}
}

// What would let a later move pass unseen is told: a place put right, and a part
// that was taken off its assembly and stands where it stood.
func TestPlacesAreTold(t *testing.T) {
	l := ledger.NewLoader()
	a, _ := l.Load(edited(t, nil))
	for name, c := range map[string]struct {
		edit edit
		told *compare.Notice
	}{
		"put right": {set("assembly.powertrain", "corrected", "2026-04-16"), &compare.Notice{Kind: "place put right, and not moved", Subject: "assembly.powertrain", After: "on 2026-04-16"}},
		"by itself": {set("part.fan", "at", `{ behind = "-22 3/4 in", right = "3/4 in", above = "32 3/4 in" }`), &compare.Notice{Kind: "no longer goes along", Subject: "part.fan", Before: "assembly.powertrain"}},
	} {
		b, faults := l.Load(edited(t, []edit{c.edit}))
		require.Empty(t, faults)
		u := compare.Builds(a, b, rules.Packs(), lint.Options{AsOf: delivered})
		require.Empty(t, u.Again, name)
		require.Len(t, u.Notices, 1, name)
		n := u.Notices[0]
		assert.True(t, n.Loosens)
		assert.Equal(t, *c.told, compare.Notice{Kind: n.Kind, Subject: n.Subject, Before: n.Before, After: n.After}, name)
	}
}

// Whatever moves, and whichever way a gap runs, it is judged as a tape would find
// it: plain geometry, g = g0 + (b - a) along the gap. Moved back again, it is as it was.
func TestCarriedByGeometry(t *testing.T) {
	ways := map[string][3]float64{"back": {1}, "-back": {-1}, "right": {0, 1}, "-right": {0, -1}, "up": {0, 0, 1}, "-up": {0, 0, -1}}
	clearance := slices.DeleteFunc(slices.Clone(rules.Packs()), func(p *lint.Pack) bool { return p.Name != "clearance" })
	rapid.Check(t, func(r *rapid.T) {
		quarter := func(name string) float64 { return float64(rapid.IntRange(-20, 20).Draw(r, name)) / 4 }
		along := rapid.SampledFrom([]string{"back", "-back", "right", "-right", "up", "-up"}).Draw(r, "along")
		place := func(at [3]float64) string {
			return fmt.Sprintf("behind = \"%.2f in\", right = \"%.2f in\", above = \"%.2f in\" }", at[0], at[1], at[2])
		}
		text := func(engine, other [3]float64) string {
			return "[build]\nstage = \"assembly\"\n[assembly.e]\nat = { " + place(engine) + "\n[part.fan]\nat = { from = \"assembly.e\", " + place([3]float64{-9, 1, 2}) +
				"\n[part.core]\nat = { " + place(other) + "\n[gap.g]\nbetween = [\"part.fan\", \"part.core\"]\nkind = \"fan-to-core\"\nmeasured = \"20.00 in\"\nmotion = \"0 in\"\nalong = \"" + along + "\"\nread = 2026-03-01\n"
		}
		was, is := [2][3]float64{}, [2][3]float64{}
		want, moved := 20.0, false
		for i := range 3 {
			for j, end := range []string{"engine", "core"} {
				was[j][i] = 30 + quarter(end)
				by := quarter("by")
				is[j][i] = was[j][i] + by
				want += ways[along][i] * by * []float64{-1, 1}[j]
			}
			moved = moved || is[0][i]-was[0][i] != is[1][i]-was[1][i]
		}
		a, b := packtest.Build(t, text(was[0], was[1])), packtest.Build(t, text(is[0], is[1]))
		c := compare.Builds(a, b, clearance, lint.Options{AsOf: "2026-04-01"})
		require.Equal(r, moved, len(c.Again) == 1)
		require.Equal(r, moved, c.Failed())
		for _, x := range c.After.Results {
			if x.Rule.Name == "clearance/gap" && x.Aspect == "clear" {
				require.InDelta(r, want, x.Value.Value()/0.0254, 1e-9)
			}
		}
		require.Empty(r, compare.Builds(a, a, clearance, lint.Options{AsOf: "2026-04-01"}).Again)
	})
}
