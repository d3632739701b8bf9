package compare_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"fishplate/ledger"
	"fishplate/lint"
	"fishplate/lint/compare"
)

// randomLedger draws a ledger of the trial rules' world: any of a few parts,
// tires, zones and circuits, which name one another, and the rest of it.
func randomLedger(t *rapid.T) string {
	var b strings.Builder
	say := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	some := func(words ...string) []string {
		return rapid.SliceOfNDistinct(rapid.SampledFrom(words), 1, len(words), rapid.ID[string]).Draw(t, "some")
	}
	number := func(most int) int { return rapid.IntRange(1, most).Draw(t, "number") }
	maybe := func() bool { return rapid.Bool().Draw(t, "maybe") }
	say("[build]\nstage = %q\npacks = [\"trial\", \"gaps\"]", rapid.SampledFrom(ledger.StageNames).Draw(t, "stage"))
	say("[vehicle]")
	if number(9) > 1 {
		say("wheelbase = \"%d in\"", 90+number(30))
	}
	parts, tires, zones := some("a", "b", "c", "d", "e"), some("x", "y", "z"), some("bay", "cab", "rail")
	for _, p := range parts {
		say("[part.%s]", p)
		if number(9) > 1 {
			say("mass = \"%d lb\"", number(600))
		}
		say("at = { behind = \"%d in\", right = \"0 in\", above = \"0 in\" }", number(100)-50)
		if maybe() {
			say("count = %d", number(3))
		}
		if number(4) == 1 {
			say("fitted = false")
		}
	}
	for _, x := range tires {
		say("[tire.%s]\nload-rating = \"%d lb\"", x, 200+number(600))
	}
	for _, z := range zones {
		say("[zone.%s]\ntemperature = \"%d degC\"", z, 60+number(80))
	}
	say("[vehicle.front]\nrating = \"%d lb\"\ntire = \"tire.%s\"", 300+number(1000), rapid.SampledFrom(tires).Draw(t, "tire"))
	if maybe() {
		say("[supply]\nvoltage = \"%d V\"", 11+number(3))
	}
	for _, c := range some("p", "q", "r") {
		say("[circuit.%s]\nfrom = \"part.%s\"\nzone = \"zone.%s\"\nload = \"%d A\"\nlength = \"%d ft\"", c, rapid.SampledFrom(parts).Draw(t, "from"),
			rapid.SampledFrom(zones).Draw(t, "zone"), number(40), number(20))
	}
	for _, g := range some("f", "g") {
		say("[gap.%s]\nbetween = [\"part.%s\", \"core\"]\nmeasured = \"%d mm\"", g, rapid.SampledFrom(parts).Draw(t, "between"), number(60))
	}
	return b.String()
}

// Shares and what edits do together make the difference, on random pairs of
// ledgers. A ledger is never worse than itself, and nothing fails to run on a
// mix.
func TestRandomPairs(t *testing.T) {
	dir := t.TempDir()
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		at := filepath.Join(dir, fmt.Sprint(n))
		bs := shopOf(t, at, map[string]string{"a/build.toml": randomLedger(t), "b/build.toml": randomLedger(t)}, "a", "b")
		defer os.RemoveAll(at)
		c := compare.Builds(bs[0], bs[1], trialPacks(), lint.Options{AsOf: "2026-03-01"})
		require.False(t, c.Unread())
		for _, x := range c.Changes {
			requireAddUp(t, x)
			if len(c.Edits) == 1 && x.Kind != compare.Gone && x.Kind != compare.New && x.Before != nil && x.After != nil {
				require.Zero(t, x.Together, "one edit is all there is to blame")
			}
		}
		units := ledger.Differences(bs[0], bs[1])
		all := bs[0].Mix(bs[1], units)
		same := compare.Builds(all, bs[1], trialPacks(), lint.Options{AsOf: "2026-03-01"})
		require.Empty(t, same.Changes, "an overlay of everything is the new ledger")
		none := compare.Builds(bs[0], bs[0].Mix(bs[1], nil), trialPacks(), lint.Options{AsOf: "2026-03-01"})
		require.Empty(t, none.Changes, "an overlay of nothing is the old one")
	})
}

// A sum's shares are exact: nothing is left to be done together, whatever the
// edits.
func TestSharesOfSumAreExact(t *testing.T) {
	dir := t.TempDir()
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		at := filepath.Join(dir, fmt.Sprint(n))
		ledgerOf := func() string {
			text := "[build]\npacks = [\"trial\"]\n[vehicle]\nwheelbase = \"100 in\"\n[vehicle.front]\nrating = \"900 lb\"\n"
			for _, p := range rapid.SliceOfDistinct(rapid.SampledFrom([]string{"a", "b", "c", "d", "e", "f"}), rapid.ID[string]).Draw(t, "parts") {
				text += fmt.Sprintf("[part.%s]\nmass = \"%d lb\"\nat = { behind = \"%d in\", right = \"0 in\", above = \"0 in\" }\n", p, rapid.IntRange(1, 500).Draw(t, "mass"), rapid.IntRange(-50, 90).Draw(t, "behind"))
			}
			return text
		}
		bs := shopOf(t, at, map[string]string{"a/build.toml": ledgerOf(), "b/build.toml": ledgerOf()}, "a", "b")
		defer os.RemoveAll(at)
		x := change(compare.Builds(bs[0], bs[1], trialPacks(), lint.Options{AsOf: "2026-03-01"}), "trial/front", "vehicle.front")
		if x != nil {
			require.Zero(t, x.Together)
			requireAddUp(t, x)
		}
	})
}

// Entries under other names are found again, however they name one another.
func TestRandomRenames(t *testing.T) {
	dir := t.TempDir()
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		at := filepath.Join(dir, fmt.Sprint(n))
		text := randomLedger(t)
		bs := shopOf(t, at, map[string]string{"a/build.toml": text}, "a")
		defer os.RemoveAll(at)
		names := map[string]string{}
		var pairs []string
		for _, e := range bs[0].Entries() {
			if e.ID != "" && rapid.Bool().Draw(t, "rename") {
				names[e.Path()] = e.Kind + ".other-" + e.ID
				pairs = append(pairs, "["+e.Path()+"]", "["+names[e.Path()]+"]", `"`+e.Path()+`"`, `"`+names[e.Path()]+`"`)
			}
		}
		other := shopOf(t, at, map[string]string{"b/build.toml": strings.NewReplacer(pairs...).Replace(text)}, "b")[0]
		c := compare.Builds(bs[0], other, trialPacks(), lint.Options{AsOf: "2026-03-01"})
		require.Empty(t, c.Changes)
		require.Len(t, c.Edits, len(names))
		require.False(t, slices.ContainsFunc(c.Edits, func(e *compare.Edit) bool { return e.Kind != compare.Renamed }))
		require.Empty(t, ledger.Differences(bs[0].Renamed(names), other))
	})
}

// Past five hundred edits the causes go by files, and still add up.
func TestManyEditsGoByFiles(t *testing.T) {
	files := map[string]string{}
	for _, side := range []string{"a", "b"} {
		files[side+"/build.toml"] = "[build]\npacks = [\"trial\"]\n[vehicle]\nwheelbase = \"100 in\"\n[vehicle.front]\nrating = \"9000 lb\"\n"
		for f := range 3 {
			var text strings.Builder
			for p := range 200 {
				mass := 1 + p%7
				if side == "b" {
					mass += 1 + f
				}
				fmt.Fprintf(&text, "[part.p-%d-%d]\nmass = \"%d lb\"\nat = { behind = \"%d in\", right = \"0 in\", above = \"0 in\" }\n", f, p, mass, p%90)
			}
			files[fmt.Sprintf("%s/parts-%d.toml", side, f)] = text.String()
		}
	}
	dir := t.TempDir()
	bs := shopOf(t, dir, files, "a", "b")
	x := change(compare.Builds(bs[0], bs[1], trialPacks(), lint.Options{AsOf: "2026-03-01"}), "trial/front", "vehicle.front")
	requireAddUp(t, x)
	require.Len(t, x.Causes, 3)
	require.True(t, strings.HasSuffix(x.Causes[0].Entry, "/b/parts-2.toml"), x.Causes[0].Entry)
	require.Zero(t, x.Together)
}
