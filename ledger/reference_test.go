package ledger_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/golden"
	"fishplate/ledger/revision"
	"fishplate/ledger/schema"
)

// TestReference: REFERENCE.md lists what the schema takes. UPDATE=1 writes it
// anew.
func TestReference(t *testing.T) {
	var b strings.Builder
	fmt.Fprint(&b, "# What a ledger may hold\n\nWritten from the schema by `UPDATE=1 go test ./ledger`. Any entry may also have a `note`,\na `system` where the default (below) is another, and `public = true`. The public edition of a book takes the\nvalues marked public, those marked public if chosen where their entry says `public = true`, notes among them, and\nnothing else; those marked private never. No rule reads those marked recorded only, which are for people, lists and costs.\n\n"+
		"An entry stands in any TOML file of its build: which one, in what order and how spaced makes no difference to a check\nor a signature. `attach` writes each document to `documents/ID.toml` and `sign` each signature to `signatures/STAGE.toml`,\nso that what is done on two branches does not collide.\n")
	recorded := recordedOnly(t)
	for _, kind := range ledger.Kinds() {
		home := ""
		if h := kind.Home(); h != "a build" {
			home = "\nStands in " + h + ".\n"
		}
		fmt.Fprintf(&b, "\n## [%s]\n\n%s%s.\n"+home+"\n| key | takes | what it is |\n|---|---|---|\n", kind.Header(), strings.ToUpper(kind.About[:1]), kind.About[1:])
		for _, f := range kind.Fields {
			about := f.About
			switch {
			case f.Private:
				about += " (private)"
			case f.Public == schema.PublicAlways:
				about += " (public)"
			case f.Public == schema.PublicChosen:
				about += " (public if chosen)"
			}
			if slices.Contains(recorded, kind.Name+"."+f.Key) {
				about += " (recorded only)"
			}
			fmt.Fprintf(&b, "| `%s` | %s | %s |\n", f.Key, strings.ReplaceAll(f.Takes(), "|", "\\|"), about)
		}
	}
	referenceOfTables(&b)
	golden.Check(t, "REFERENCE.md", b.String())
}

// referenceOfTables is the part of the reference about what stands inside
// entries, and about words.
func referenceOfTables(b *strings.Builder) {
	b.WriteString(`
## A place

Read with a tape from three lines: ` + "`behind`" + ` the front axle line, ` + "`right`" + ` of the center line, ` + "`above`" + ` the ground; ahead, left and below
are written with a minus sign. With ` + "`from`" + ` it is read from the datum of an assembly instead, and goes where that goes:

    at = { from = "assembly.powertrain", behind = "3 in", right = "0 in", above = "8 in" }

Instead of a place the name of a part says that it is where that part is: ` + "`at = \"part.engine\"`" + `.

## Needs and gives

` + "`needs`" + ` of a part is a table of what it must be fed, ` + "`gives`" + ` one of what it feeds others with, by kind of hookup:

    [part.brake-booster]
    needs = { vacuum = { least = "18 inHg", from = "part.vacuum-pump" } }

    [part.vacuum-pump]
    gives = { vacuum = "25 inHg" }

| key of a need | takes | what it says |
|---|---|---|
| ` + "`from`" + ` | the name of an entry: part.x | what feeds it |
| ` + "`least`" + ` | the quantity of its kind | the level that it must have: what feeds it gives as much or more |
| ` + "`takes`" + ` | the quantity of its kind | what it uses up: all that one part feeds add up to no more than it gives |
| ` + "`exactly`" + ` | the quantity of its kind | what it must read: what feeds it gives the same |

` + "`needs = { kick-down = true }`" + ` says no more than that it needs it. The kinds, to which a shop adds its own with [hookup.ID]:

| kind of hookup | how much is needed | which is |
|---|---|---|
`)
	for _, h := range ledger.HookupDocs() {
		measure, quantity := "there or not", "not measured"
		if h.Measure != "" {
			measure, quantity = "`"+h.Measure+"`", h.Quantity
		}
		fmt.Fprintf(b, "| `%s` | %s | %s |\n", h.Kind, measure, quantity)
	}
	b.WriteString(`
## [limits]

Stands in shop.toml: the shop's own limits, by the name of a rule, in force where they are tighter than the rule's.

    [limits]
    "wiring/voltage-drop" = "2 %"

## Systems

The system of the vehicle that an entry belongs to groups lists and sums. Where an entry does not say its ` + "`system`" + `, it follows from its role, from
what runs in it or from its kind; else it is that of the first entry that it names. A shop adds a system with [word.ID], ` + "`of = \"system\"`" + `.

| system | roles | fluids | kinds of entry |
|---|---|---|---|
`)
	for _, s := range ledger.SystemDefaults() {
		fmt.Fprintf(b, "| %s | %s | %s | %s |\n", s.System, strings.Join(s.Roles, ", "), strings.Join(s.Fluids, ", "), strings.Join(s.Kinds, ", "))
	}
	b.WriteString(`
## Known words

The words that rules go by. Another word decides nothing, and is reported. A shop adds words of its own with [word.ID], each like a known one.
`)
	for _, l := range ledger.WordLists() {
		fmt.Fprintf(b, "\n**%s**, %s: %s.\n", l.Name, l.About, strings.Join(l.Words, ", "))
	}
}

// TestReferenceOfTables: what the reference shows of tables loads as it stands.
func TestReferenceOfTables(t *testing.T) {
	text := `[build]
title = "x"
[assembly.powertrain]
at = { behind = "3 in", right = "0 in", above = "8 in" }
[part.engine]
at = { from = "assembly.powertrain", behind = "3 in", right = "0 in", above = "8 in" }
needs = { kick-down = true }
[part.rider]
at = "part.engine"
[part.brake-booster]
needs = { vacuum = { least = "18 inHg", from = "part.vacuum-pump" } }
[part.vacuum-pump]
gives = { vacuum = "25 inHg" }
`
	shop := "[limits]\n\"wiring/voltage-drop\" = \"2 %\"\n"
	reference, err := os.ReadFile("REFERENCE.md")
	require.NoError(t, err)
	for _, line := range strings.Split(text+shop, "\n") {
		if strings.HasPrefix(line, "at = { from") || strings.HasPrefix(line, "needs") || strings.HasPrefix(line, "gives") || strings.Contains(line, "wiring/") {
			assert.Contains(t, string(reference), line)
		}
	}
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), []byte(text), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "shop.toml"), []byte(shop), 0o644))
	place, err := revision.Open(dir)
	require.NoError(t, err)
	builds, err := place.Builds()
	require.NoError(t, err)
	b, faults := ledger.NewLoader().Load(builds[0])
	require.Empty(t, faults)
	assert.Len(t, b.Limits, 1)
}
