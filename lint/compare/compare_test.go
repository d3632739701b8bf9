package compare_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fishplate/lint"
	"fishplate/lint/compare"
)

const trialShop = `[limits]
"trial/drop" = "5 %"
[tire.old]
load-rating = "3000 lb"
[tire.new]
load-rating = "2000 lb"
[tire.shared]
load-rating = "2600 lb"
`

const trialBefore = `[build]
title = "Trial"
stage = "plan"
packs = ["trial", "gaps"]
[vehicle]
wheelbase = "100 in"
note = "as it came from the yard"
[vehicle.front]
rating = "1000 lb"
tire = "tire.old"
[supply]
voltage = "12 V"
[zone.bay]
temperature = "90 degC"
[part.engine]
mass = "800 lb"
at = { behind = "0 in", right = "0 in", above = "0 in" }
[part.battery]
name = "Battery"
mass = "50 lb"
at = { behind = "50 in", right = "0 in", above = "0 in" }
[part.pump]
name = "Pump"
mass = "10 lb"
at = { behind = "50 in", right = "0 in", above = "0 in" }
[part.tray]
fitted = false
[circuit.feed]
from = "part.battery"
to = ["part.pump"]
load = "10 A"
length = "10 ft"
zone = "zone.bay"
[circuit.lamp]
from = "part.battery"
load = "5 A"
length = "6 ft"
zone = "zone.bay"
[gap.fan]
between = ["part.engine", "core"]
measured = "2 in"
`

// edited is the ledger with texts replaced, each of which must be there.
func edited(t testing.TB, text string, pairs ...string) string {
	t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		require.Contains(t, text, pairs[i])
		text = strings.ReplaceAll(text, pairs[i], pairs[i+1])
	}
	return text
}

// TestTwelveEdits makes twelve edits at once: a rename, a tire swap, an entry
// moved to another file, a pack dropped, a limit loosened, a waiver added, a
// part added, one taken off, one made heavier, an edited note, a key of a
// single entry, and a circuit that names a part and a zone which the old ledger
// lacks.
func TestTwelveEdits(t *testing.T) {
	after := edited(t, trialBefore,
		"part.battery", "part.battery-main", // a rename
		"tire.old", "tire.new", // a tire swap: the entry that is named changes
		`packs = ["trial", "gaps"]`, `packs = ["trial"]`, // a pack dropped
		"as it came from the yard", "as it came from the other yard", // a note
		`voltage = "12 V"`, `voltage = "12.6 V"`, // a key of a single entry
		`mass = "800 lb"`, `mass = "900 lb"`, // heavier
		`[part.pump]
name = "Pump"
mass = "10 lb"
at = { behind = "50 in", right = "0 in", above = "0 in" }
`, "", // taken off, and what it fed with it
		`to = ["part.pump"]
load = "10 A"
length = "10 ft"`, `load = "10 A"
length = "10 ft"`,
		`load = "5 A"
length = "6 ft"
zone = "zone.bay"`, `load = "5 A"
length = "6 ft"
zone = "zone.roof"`, // names what the old ledger lacks
	) + `[zone.roof]
temperature = "120 degC"
[part.winch]
mass = "86 lb"
at = { behind = "-36 in", right = "0 in", above = "0 in" }
[waiver.lamp]
rule = "trial/hot"
entry = "circuit.lamp"
because = "it comes out next week"
by = "Ann"
until = 2026-04-01
`
	gap := "[gap.fan]\nbetween = [\"part.engine\", \"core\"]\nmeasured = \"2 in\"\n"
	after = edited(t, after, gap, "")
	bs := shopOf(t, t.TempDir(), map[string]string{
		"one/shop.toml": trialShop, "one/a/build.toml": trialBefore,
		"two/shop.toml": edited(t, trialShop, `"5 %"`, `"6 %"`), "two/b/build.toml": after, "two/b/gaps.toml": gap,
	}, "one/a", "two/b")
	c := compare.Builds(bs[0], bs[1], trialPacks(), lint.Options{AsOf: "2026-03-01"})
	require.False(t, c.Unread())
	require.True(t, c.Failed())
	for _, x := range c.Changes {
		requireAddUp(t, x)
		if x.After != nil && x.Rule.Name != "ledger/packs" { // a pack is left out by one of the edits
			require.Empty(t, x.After.Needs, "nothing is falsely missing: %s", x.Entry)
		}
	}

	entries := map[string]compare.EditKind{}
	for _, e := range c.Edits {
		entries[e.Entry] = e.Kind
	}
	require.Equal(t, map[string]compare.EditKind{
		"part.battery-main": compare.Renamed, "tire.old": compare.Removed, "tire.new": compare.Added, "vehicle.front": compare.Altered, "build": compare.Altered,
		"vehicle": compare.Altered, "supply": compare.Altered, "part.engine": compare.Altered, "part.pump": compare.Removed, "circuit.feed": compare.Altered,
		"circuit.lamp": compare.Altered, "zone.roof": compare.Added, "part.winch": compare.Added, "waiver.lamp": compare.Added, "gap.fan": compare.Replaced,
	}, entries)
	require.Equal(t, "part.battery", edit(c, "part.battery-main").Was)
	require.Equal(t, "build.toml", edit(c, "gap.fan").From)

	var told []string
	for _, n := range c.Notices {
		told = append(told, fmt.Sprintf("%s %s %v", n.Kind, n.Subject, n.Loosens))
	}
	require.Equal(t, []string{"pack dropped gaps true", "limit loosened trial/drop true", "waiver added waiver.lamp true"}, told)

	front := change(c, "trial/front", "vehicle.front")
	require.Equal(t, compare.Worse, front.Kind)
	require.True(t, front.Counts)
	var by []string
	for _, x := range front.Causes {
		by = append(by, fmt.Sprintf("%s %.2f lb %v %v", x.Entry, x.Share/0.45359237, x.Alone, x.Undone))
	}
	require.Equal(t, []string{"part.winch -116.96 lb false true", "part.engine -100.00 lb false true", "part.pump 5.00 lb false false"}, by)
	require.Zero(t, front.Together)

	tire := change(c, "trial/tire", "vehicle.front")
	require.Equal(t, compare.Drifted, tire.Kind)
	require.InDelta(t, -2000*0.45359237, cause(tire, "vehicle.front.tire").Share, 1e-6, "the reference is what changed")
	require.Nil(t, cause(tire, "tire.new"), "an entry that is named only now does nothing alone")

	hot := change(c, "trial/hot", "circuit.lamp")
	require.Equal(t, compare.Worse, hot.Kind, "a pass that is waived now")
	require.Equal(t, lint.Waived, hot.After.Verdict)
	lamp := cause(hot, "circuit.lamp")
	require.True(t, lamp.Alone && lamp.Undone)
	require.InDelta(t, -30, lamp.Share, 1e-9)

	require.Equal(t, compare.Drifted, change(c, "trial/drop", "circuit.feed").Kind)
	require.NotNil(t, cause(change(c, "trial/drop", "circuit.feed"), "limits.trial/drop"))
	require.Nil(t, change(c, "trial/fed", "circuit.feed"), "the battery has another name, and nothing else")
	gone := change(c, "gaps/least", "gap.fan")
	require.Equal(t, compare.Worse, gone.Kind)
	require.Contains(t, gone.Why, "the pack gaps is no longer chosen")
	require.Empty(t, gone.Causes)
}

// Verdicts in their order, and what becomes of a check whose subject is there
// and of one whose subject is not.
func TestChangeKinds(t *testing.T) {
	for _, c := range []struct {
		name          string
		before, after []string // replacements in trialBefore
		rule, entry   string
		kind          compare.ChangeKind
		counts        bool
	}{
		{"pass to fail", nil, []string{`rating = "1000 lb"`, `rating = "100 lb"`}, "trial/front", "vehicle.front", compare.Worse, true},
		{"fail to pass", []string{`rating = "1000 lb"`, `rating = "100 lb"`}, nil, "trial/front", "vehicle.front", compare.Better, false},
		{"pass to missing", nil, []string{`rating = "1000 lb"` + "\n", ""}, "trial/front", "vehicle.front", compare.Worse, true},
		{"missing to fail", []string{`rating = "1000 lb"` + "\n", ""}, []string{`rating = "1000 lb"`, `rating = "100 lb"`}, "trial/front", "vehicle.front", compare.Worse, true},
		{"fail to unproven", []string{`mass = "800 lb"`, `mass = "1000 lb"`}, []string{`mass = "800 lb"`, `mass = "~960 lb"`}, "trial/front", "vehicle.front", compare.Better, false},
		{"drift is not worse", nil, []string{`mass = "800 lb"`, `mass = "801 lb"`}, "trial/front", "vehicle.front", compare.Drifted, false},
		{"only the doubt grew", nil, []string{`mass = "800 lb"`, `mass = "800 ± 20 lb"`}, "trial/front", "vehicle.front", compare.Drifted, false},
		{"subject gone", nil, []string{"[gap.fan]\nbetween = [\"part.engine\", \"core\"]\nmeasured = \"2 in\"\n", ""}, "gaps/least", "gap.fan", compare.Gone, false},
		{"no longer applies", nil, []string{`load = "5 A"`, "duty = \"signal\"\nload = \"5 A\""}, "trial/drop", "circuit.lamp", compare.Worse, true},
		{"applies now", []string{`load = "5 A"`, "duty = \"signal\"\nload = \"5 A\""}, nil, "trial/drop", "circuit.lamp", compare.New, false},
		{"new, and fails", nil, []string{"[gap.fan]", "[gap.belt]\nmeasured = \"1/2 in\"\n[gap.fan]"}, "gaps/least", "gap.belt", compare.Worse, true},
		{"new, and lacks something", nil, []string{"[gap.fan]", "[gap.belt]\n[gap.fan]"}, "gaps/least", "gap.belt", compare.New, false},
		{"a pack that is new", []string{`, "gaps"]`, `]`}, []string{`"2 in"`, `"1/2 in"`}, "gaps/least", "gap.fan", compare.New, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			tires := strings.SplitN(trialShop, "\n", 3)[2]
			x := change(compared(t, edited(t, trialBefore, c.before...)+tires, edited(t, trialBefore, c.after...)+tires), c.rule, c.entry)
			require.NotNil(t, x)
			require.Equal(t, c.kind, x.Kind)
			require.Equal(t, c.counts, x.Counts)
		})
	}
}

// The same ledger written otherwise differs in nothing.
func TestNothingChanged(t *testing.T) {
	tires := strings.SplitN(trialShop, "\n", 3)[2]
	c := compared(t, trialBefore+tires, "# a comment\n"+tires+edited(t, trialBefore, `"800 lb"`, `"800  lbs"`, `load = "5 A"`, `load = "5 amps"`))
	require.Empty(t, c.Changes)
	require.Empty(t, c.Edits)
	require.Empty(t, c.Notices)
	require.False(t, c.Failed())
}

// With two edits of which either breaks the check, undoing neither mends it;
// with two that break it only together, each undone mends it.
func TestAloneAndUndone(t *testing.T) {
	tires := strings.SplitN(trialShop, "\n", 3)[2]
	both := func(kg string) *compare.Change {
		after := edited(t, trialBefore, `[part.engine]`, `[part.winch]
mass = "`+kg+`"
at = { behind = "0 in", right = "0 in", above = "0 in" }
[part.plow]
mass = "`+kg+`"
at = { behind = "0 in", right = "0 in", above = "0 in" }
[part.engine]`)
		return change(compared(t, trialBefore+tires, after+tires), "trial/front", "vehicle.front")
	}
	for _, c := range both("500 lb").Causes {
		require.True(t, c.Alone)
		require.False(t, c.Undone)
	}
	for _, c := range both("120 lb").Causes {
		require.False(t, c.Alone)
		require.True(t, c.Undone)
	}
}

// What alone leaves a check open does not break it, and a check that fails by
// more stands above the others that moved.
func TestAloneLeavesOpen(t *testing.T) {
	tires := strings.SplitN(trialShop, "\n", 3)[2]
	after := edited(t, trialBefore, `mass = "800 lb"`, `mass = "800 ± 300 lb"`, `rating = "1000 lb"`, `rating = "500 lb"`)
	x := change(compared(t, trialBefore+tires, edited(t, after, `"500 lb"`, `"400 lb"`)+tires), "trial/front", "vehicle.front")
	require.Equal(t, lint.Fail, x.After.Verdict)
	engine, rating := cause(x, "part.engine"), cause(x, "vehicle.front.rating")
	require.NotNil(t, engine)
	require.True(t, engine.Opens)
	require.False(t, engine.Alone)
	require.NotNil(t, rating)
	require.True(t, rating.Alone)
	require.False(t, rating.Opens)

	short := edited(t, trialBefore, `measured = "2 in"`, `measured = "0.9 in"`)
	c := compared(t, short+tires, edited(t, short, `"0.9 in"`, `"0.8 in"`, `mass = "800 lb"`, `mass = "600 lb"`, `load = "5 A"`, `load = "9 A"`)+tires)
	require.Equal(t, compare.Drifted, c.Changes[0].Kind)
	require.Equal(t, "gap.fan", c.Changes[0].Entry)
}

// A waiver that is taken away is the cause of what it covered.
func TestWaiverIsTheCause(t *testing.T) {
	tires := strings.SplitN(trialShop, "\n", 3)[2]
	heavy := edited(t, trialBefore, `rating = "1000 lb"`, `rating = "100 lb"`) + tires
	waiver := "[waiver.front]\nrule = \"trial/front\"\nentry = \"vehicle.front\"\nbecause = \"x\"\nby = \"Ann\"\nuntil = 2026-04-01\n"
	x := change(compared(t, heavy+waiver, heavy), "trial/front", "vehicle.front")
	require.Equal(t, compare.Worse, x.Kind)
	require.Len(t, x.Causes, 1)
	require.Equal(t, "waiver.front", x.Causes[0].Entry)
	require.True(t, x.Causes[0].Undone)
}

// An assembly that moved lists what was read at the old place: with one end on
// it, and not read anew.
func TestAssemblyMoves(t *testing.T) {
	const ledger = `[build]
packs = []
[assembly.powertrain]
at = { behind = "10 in", right = "0 in", above = "20 in" }
[part.engine]
at = { from = "assembly.powertrain", behind = "1 in", right = "0 in", above = "0 in" }
[part.fan]
at = "part.engine"
[part.core]
at = { behind = "-20 in", right = "0 in", above = "20 in" }
[gap.stale]
between = ["part.fan", "part.core"]
measured = "2 in"
[gap.follows]
between = ["part.fan", "shroud"]
measured = "1 in"
before-move = true
[gap.anew]
between = ["part.engine", "part.core"]
measured = "3 in"
[gap.within]
between = ["part.fan", "part.engine"]
measured = "3 in"
[shaft.front]
from = "part.engine"
to = "part.core"
length = "30 in"
[shaft.loose]
from = "part.engine"
to = "part.core"
`
	after := edited(t, ledger, `behind = "10 in"`, `behind = "10.5 in"`, `measured = "3 in"
[gap.within]`, `measured = "3 1/2 in"
[gap.within]`)
	c := compared(t, ledger, after)
	require.Len(t, c.Moves, 1)
	require.InDelta(t, 0.0127, c.Moves[0].By.X.Value(), 1e-12)
	var got []string
	for _, r := range c.Moves[0].Readings {
		got = append(got, fmt.Sprintf("%s %v", r.Entry, r.Follows))
	}
	require.Equal(t, []string{"gap.follows true", "gap.stale false", "shaft.front false"}, got)
}

// Free text is compared word by word.
func TestWordByWord(t *testing.T) {
	c := compared(t, "[build]\nnote = \"612 ± 5 lb, as weighed\"\n", "[build]\nnote = \"640 ± 5 lb, as weighed twice\"\n")
	var got string
	for _, s := range edit(c, "build").Values[0].Words {
		got += fmt.Sprintf("%c%q", s.Op, s.Text)
	}
	require.Equal(t, `-"612 "+"640 "="± 5 lb, as "-"weighed"+"weighed twice"`, got)
}
