package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger/job"
	"fishplate/lint/report"
)

// TestNextFitsAScreen: at every width of a terminal of usual size next is a
// screen at most, and no line is longer than the screen is wide.
func TestNextFitsAScreen(t *testing.T) {
	t.Chdir("../..")
	for _, line := range []string{
		"next --as-of 2026-11-20 examples/tamarack/builds/marten",
		"next --as-of 2026-11-20 --stage delivery examples/tamarack/builds/marten",
		"next --as-of 2026-11-20 examples/tamarack/changes/winch/after",
	} {
		for width := 60; width < 120; width += 7 {
			got := screen(t, width, line)
			assert.LessOrEqual(t, strings.Count(got, "\n"), 50, "%s at %d", line, width)
			for _, l := range strings.Split(got, "\n") {
				assert.LessOrEqual(t, len([]rune(l)), width, "%s at %d: %s", line, width, l)
			}
		}
	}
}

// jobLines are a command line of every output of next, list, find and cost.
func jobLines(where string) (lines []string) {
	for _, k := range report.NextKinds {
		lines = append(lines, "next --all --as-of 2026-11-20 --report "+k.Name+" "+where)
	}
	for _, list := range job.KindNames() {
		for _, k := range report.ListKinds {
			lines = append(lines, "list "+list+" --report "+k.Name+" "+where)
		}
	}
	for _, k := range report.FindKinds {
		lines = append(lines, "find part --report "+k.Name+" "+where)
	}
	for _, k := range report.CostKinds {
		lines = append(lines, "cost --report "+k.Name+" "+where)
	}
	return lines
}

// TestJobOutputsAreWhole: what each output of these commands says it is, it is:
// the JSON parses, and the csv has as many cells in a row as its head.
func TestJobOutputsAreWhole(t *testing.T) {
	t.Chdir("../..")
	for _, line := range jobLines("examples/tamarack/builds") {
		got := screen(t, 80, line)
		switch {
		case strings.Contains(line, "--report json"):
			var v map[string]any
			assert.NoError(t, json.Unmarshal([]byte(got), &v), line)
		case strings.Contains(line, "--report csv"):
			rows, err := csv.NewReader(strings.NewReader(got)).ReadAll() // of one width, or an error
			assert.NoError(t, err, line)
			assert.NotEmpty(t, rows, line)
			assert.Equal(t, strings.Count(got, "\n"), strings.Count(got, "\r\n"), "RFC 4180 ends a line with both")
		case strings.Contains(line, "--report text"):
			for _, l := range strings.Split(got, "\n") {
				assert.LessOrEqual(t, len([]rune(l)), 80, "%s: %s", line, l)
			}
		}
	}
}

// nasty is what a terminal, a page or a spreadsheet could be fooled by, as a
// TOML string.
const nasty = `=HYPERLINK(\"http://x\";\"a\")|<script>*_[x](y)[31m ::error::\n::error::\tb,\"q\" part é`

// layNasty writes a build with the nasty text under every word of the kinds that
// these commands read.
func layNasty(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	words := func(keys ...string) (out string) {
		for _, k := range keys {
			out += k + " = \"" + nasty + "\"\n"
		}
		return out
	}
	text := "[build]\ntitle = \"" + nasty + "\"\nquoted = \"900 USD\"\n" +
		"[part.a]\norigin = \"bought\"\nordered = 2026-02-01\nprice = \"~4 USD\"\nwears = true\n" + words("name", "order-as", "supplier", "why", "change", "role") +
		"made = { material = \"" + nasty + "\", process = \"" + nasty + "\", by = \"" + nasty + "\" }\n" +
		"[part.b]\norigin = \"donor\"\nfitted = false\nfate = \"sold\"\nsold-for = \"1 USD\"\n" + words("name", "why") +
		"[part.c]\norigin = \"bought\"\n" + words("name", "order-as", "supplier") +
		"[hose.h]\nwears = true\n" + words("class", "clamps", "order-as", "supplier", "carries", "from", "to") +
		"[circuit.c]\nfuse = \"15 A\"\n" + words("insulation", "color") +
		"[plug.p]\nopened = true\npins = { \"=1+1\" = { to = \"part.a\", color = \"" + nasty + "\" } }\n" +
		"[work.w]\nhours = \"~3 h\"\nparts-in-hand = [\"part.a\"]\nparts = [\"part.c\"]\n" + words("title", "by", "found") +
		"[document.d]\n" + words("kind", "by")
	require.NoError(t, os.Mkdir("van", 0o755))
	require.NoError(t, os.WriteFile("van/build.toml", []byte(text), 0o644))
	require.NoError(t, os.WriteFile("van/shop.toml", []byte("[shop]\nrate = \"10 USD/h\"\ncurrency = \"USD\"\n"), 0o644))
}

// TestJobOutputsAreSafe: whatever a ledger says, no control character reaches a
// screen or a file, no log line is a command to a CI host, no markup is live on
// a page, and no cell is a formula.
func TestJobOutputsAreSafe(t *testing.T) {
	layNasty(t)
	rows := 0
	for _, line := range jobLines("van") {
		got := screen(t, 80, line)
		for _, l := range strings.Split(strings.ReplaceAll(got, "\r\n", "\n"), "\n") {
			if bad := strings.IndexFunc(l, func(r rune) bool { return !unicode.IsGraphic(r) }); bad >= 0 {
				t.Errorf("%s: %q", line, l)
			}
			assert.False(t, strings.HasPrefix(strings.TrimSpace(l), "::"), "%s: %s", line, l)
		}
		switch {
		case strings.Contains(line, "--report markdown"):
			for _, live := range []string{"<script", "](", "*_"} {
				assert.NotContains(t, got, live, line)
			}
		case strings.Contains(line, "--report csv"):
			all, err := csv.NewReader(strings.NewReader(got)).ReadAll()
			require.NoError(t, err)
			for _, row := range all {
				for _, cell := range row {
					rows++
					assert.False(t, cell != "" && strings.ContainsAny(strings.TrimLeft(cell, " ")[:1], "=+-@"), "%s: %q", line, cell)
				}
			}
		}
	}
	assert.Greater(t, rows, 200)

	// A word to look for comes from the command line, and a folder's name from
	// the disk: these may hold what no ledger may.
	require.NoError(t, os.Rename("van", "a\x1b[31m\u202evan"))
	for _, k := range report.FindKinds {
		var out, errs bytes.Buffer
		for _, word := range []string{"part\x1b[2J\u202e\xff", "part"} {
			require.Equal(t, statusClean, run([]string{"fishplate", "find", "--report", k.Name, word}, real(&out, &errs)), errs.String())
		}
		for _, l := range strings.Split(strings.ReplaceAll(out.String(), "\r\n", "\n"), "\n") {
			assert.True(t, strings.IndexFunc(l, func(r rune) bool { return !unicode.IsGraphic(r) }) < 0, "%q", l)
		}
	}
}

// TestJobStatuses: what is not there or not understood ends with 2, and says
// what there is; what there is ends with 0.
func TestJobStatuses(t *testing.T) {
	layNasty(t)
	for line, want := range map[string]string{
		"list":                             "list takes a kind of list: order, custom",
		"list ordr van":                    `there is no list "ordr" (did you mean "order"?)`,
		"list order nowhere":               "nowhere",
		"find":                             "find takes a word or a part number",
		"find x nowhere":                   "nowhere",
		"cost nowhere":                     "nowhere",
		"next nowhere":                     "nowhere",
		"cost --report xml van":            `unknown kind of report "xml"`,
		"list order --report sarif van":    `unknown kind of report "sarif"`,
		"next --due later van":             "--due: unknown stage",
		"next --pack weights van":          `there is no pack "weights" (did you mean "weight"?)`,
		"cost --as-of never van":           "--as-of takes a date",
		"cost --report csv=build.toml van": "a report would take the place of a ledger's file",
	} {
		out := ran("fishplate " + line)
		assert.Contains(t, out, want, line)
		assert.Contains(t, out, "status 2", line)
	}
	for _, line := range jobLines("van") {
		assert.True(t, strings.HasSuffix(ran("fishplate "+line), "status 0"), line)
	}
	out := ran("fishplate cost --report csv=cost.csv --report json=cost.json van")
	assert.True(t, strings.HasSuffix(out, "status 0"), out)
	assert.FileExists(t, "cost.csv")
	assert.FileExists(t, "cost.json")

	// A fault is told at its place; of what can be read a person still sees
	// something, and a program nothing.
	require.NoError(t, os.WriteFile(filepath.Join("van", "more.toml"), []byte("[part.d]\nprice = \"5 bucks\"\n"), 0o644))
	for _, line := range []string{"cost van", "list custom van", "find part van", "next van", "list custom --report csv van"} {
		out := ran("fishplate " + line)
		assert.Contains(t, out, "van/more.toml:2:9:", line)
		assert.Contains(t, out, "status 2", line)
		assert.Equal(t, !strings.HasPrefix(line, "cost") && !strings.Contains(line, "csv"), strings.Contains(out, "part.a"), "%s: %s", line, out)
	}
	require.NoError(t, os.WriteFile(filepath.Join("van", "more.toml"), []byte("[part.d]\nprice = \"5 EUR\"\n"), 0o644))
	out = ran("fishplate cost van")
	assert.Contains(t, out, "van/more.toml:2:1: part.d.price is in EUR")
	assert.Contains(t, out, "status 2")
}

// TestNextSaysWhatToDo: each part has what belongs to it, in the order of the
// work, and a filter keeps to what it names.
func TestNextSaysWhatToDo(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("build.toml", []byte(`[build]
title = "Plover"
stage = "mock-up"
[part.core]
origin = "bought"
role = "radiator"
ordered = 2026-02-20
supplier = "Threlbane"
[part.fan]
origin = "bought"
role = "fan"
order-as = "16 in puller"
[part.hose]
origin = "bought"
ordered = 2026-02-21
[work.hang]
title = "Hang the core"
stage = "assembly"
parts-in-hand = ["part.core"]
[work.fan]
title = "Wire the fan"
stage = "assembly"
after = ["work.hang", "work.shaft"]
parts-in-hand = ["part.fan"]
[work.clean]
title = "Clean the frame"
stage = "mock-up"
[work.shaft]
title = "Shorten the shaft"
by = "the driveline shop"
[work.old]
title = "Old work"
date = 2026-01-02
`), 0o644))
	out := strings.Join(strings.Fields(ran("fishplate next --as-of 2026-03-01 --due assembly .")), " ")
	assert.Contains(t, out, "Wait, or ask (2) Hang the core (work.hang), for assembly: waits for part.core, ordered 2026-02-20 (9 days) from Threlbane build.toml:16 "+
		"Wire the fan (work.fan), for assembly: waits for part.fan, not ordered; work.hang; work.shaft by the driveline shop build.toml:20")
	assert.Contains(t, out, "Order (1) part.fan: 16 in puller, needed for assembly")
	assert.NotContains(t, out, "Clean the frame")
	out = strings.Join(strings.Fields(ran("fishplate next --all --as-of 2026-03-01 .")), " ")
	assert.Contains(t, out, "Start or carry on: what comes before is done, and the parts are there (2) Clean the frame (work.clean), for mock-up build.toml:25 Shorten the shaft (work.shaft), by the driveline shop")
	assert.Contains(t, out, "part.hose: ordered 2026-02-21 (8 days), not in yet")
	assert.Contains(t, out, "In the order of the work")
	assert.NotContains(t, out, "Old work")
	out = ran("fishplate next --pack weight --as-of 2026-03-01 .")
	assert.NotContains(t, out, "Clean the frame", "a pack has no steps")
	out = ran("fishplate next --about work.clean --as-of 2026-03-01 .")
	assert.Contains(t, out, "Clean the frame")
	assert.NotContains(t, out, "Shorten")
}
