package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger/golden"
	"fishplate/rules"
)

// exampleScreens are the builds of the example shop that screens are tried on.
var exampleScreens = map[string]string{
	"marten": "examples/tamarack/builds/marten",
	"heron":  "examples/tamarack/builds/heron",
	"winch":  "examples/tamarack/changes/winch/after",
}

func screen(t *testing.T, width int, line string) string {
	t.Helper()
	t.Setenv("COLUMNS", fmt.Sprint(width))
	var out, errs bytes.Buffer
	run(append([]string{"fishplate"}, strings.Fields(line)...), real(&out, &errs))
	require.Empty(t, errs.String())
	return out.String()
}

// TestScreens: what check prints, at three widths. UPDATE=1 writes them anew.
func TestScreens(t *testing.T) {
	folder, err := filepath.Abs("testdata/screen")
	require.NoError(t, err)
	t.Chdir("../..")
	for name, build := range exampleScreens {
		for _, width := range []int{40, 60, 100} {
			got := screen(t, width, "check --as-of 2026-11-20 "+build)
			file := filepath.Join(folder, fmt.Sprintf("%s-%d.txt", name, width))
			golden.Check(t, file, got)
		}
	}
}

// TestFirstScreen: a screenful is fifty lines, on a phone turned sideways too.
func TestFirstScreen(t *testing.T) {
	t.Chdir("../..")
	got := screen(t, 60, "check --as-of 2026-11-20 examples/tamarack/builds/marten")
	assert.LessOrEqual(t, strings.Count(got, "\n"), 50)
}

// Units as a person writes them, and not as the program knows them.
var (
	endsInNumber = regexp.MustCompile(`(^|[\s(~])[-+~]?\d[\d.,/]*$|±$`)
	startsAsUnit = regexp.MustCompile(`^\s*(±|%|°|(in|ft|lb|lb-ft|psi|inHg|inH2O|A|V|W|kW|hp|rpm|mph|deg|gal|ft/min|ft/s2|cfm|gpm|ohm|ohm/kft|kPa|mm|m|kg|lbf|pulses/mi|mi|J|in2|d/rev)[).,;:]*(\s|$))`)
)

// TestScreensFit: at every width from 40 to 120 no line is longer, and no number
// is parted from its unit.
func TestScreensFit(t *testing.T) {
	if testing.Short() {
		t.Skip("half a minute of one goroutine")
	}
	t.Chdir("../..")
	lines := []string{
		"explain wiring/charging examples/tamarack/builds/marten",
		"explain part.engine examples/tamarack/builds/marten",
		"sheet --all --as-of 2026-11-20 examples/tamarack/builds/marten",
		"explain weight/front-axle",
		"compare --as-of 2026-11-20 examples/tamarack/changes/winch/before examples/tamarack/changes/winch/after",
		"check --as-of 2026-11-20 examples/tamarack/builds",
		"check --as-of 2026-11-20 --advice examples/tamarack/builds/marten",
		"check --as-of 2026-11-20 --all --pack weight examples/tamarack/builds/marten",
		"check --as-of 2026-11-20 --stage delivery examples/tamarack/builds/marten",
	}
	for _, build := range exampleScreens {
		lines = append(lines, "check --as-of 2026-11-20 "+build)
	}
	for i, line := range lines {
		step := 1
		if i < len(lines)-len(exampleScreens) {
			step = 13 // the longer ones
		}
		for width := 40; width <= 120; width += step {
			before := ""
			for _, got := range strings.Split(screen(t, width, line), "\n") {
				if n := utf8.RuneCountInString(got); n > width {
					t.Fatalf("%s at %d: %d columns: %q", line, width, n, got)
				}
				if endsInNumber.MatchString(before) && startsAsUnit.MatchString(got) && strings.HasPrefix(got, "  ") {
					t.Fatalf("%s at %d: parted: %q and %q", line, width, before, got)
				}
				before = got
			}
		}
	}
}

// TestSelectionsJudgeNothing: what is listed bears neither on the exit status
// nor on what is said of the whole, nor on what a program reads.
func TestSelectionsJudgeNothing(t *testing.T) {
	t.Chdir("../..")
	for _, build := range exampleScreens {
		status := func(flags, kind string) (int, string) {
			var out, errs bytes.Buffer
			line := "fishplate check --as-of 2026-11-20 --report " + kind + " " + flags + " " + build
			return run(strings.Fields(line), real(&out, &errs)), out.String()
		}
		want, whole := status("", "json")
		_, text := status("", "text")
		head, _, _ := strings.Cut(text, "\n\n")
		for _, flags := range []string{"--due delivery", "--advice", "--pack weight", "--about part.engine", "--due assembly --pack wiring"} {
			got, json := status(flags, "json")
			assert.Equal(t, want, got, flags)
			assert.Equal(t, whole, json, flags)
			_, text := status(flags, "text")
			assert.True(t, strings.HasPrefix(text, head), flags)
		}
	}
}

// TestLists: what the first screen only counts, the flag that it names lists:
// each of the checks, one by one.
func TestLists(t *testing.T) {
	t.Chdir("../..")
	build := "examples/tamarack/builds/marten"
	first := screen(t, 200, "check --as-of 2026-11-20 "+build)
	advice := regexp.MustCompile(`Advice: (\d+) not met, (\d+) missing, (\d+) to do, (\d+) unproven`).FindStringSubmatch(first)
	require.NotNil(t, advice, first)
	list := screen(t, 200, "check --as-of 2026-11-20 --advice "+build)
	for i, word := range []string{"not met", "missing", "to do", "unproven"} {
		rows := regexp.MustCompile(`(?m)^`+word+` +(\S+/\S+ on .*)$`).FindAllStringSubmatch(list, -1)
		assert.Equal(t, advice[i+1], fmt.Sprint(len(rows)), word)
	}
	later := screen(t, 200, "check --as-of 2026-11-20 --due road-test "+build)
	assert.Contains(t, later, "brakes/parking on vehicle")
	assert.NotContains(t, later, "due at delivery")
}

// TestOnlyAdvice: every rule that is advice says why, and no other does; the
// reasons are not all the same.
func TestOnlyAdvice(t *testing.T) {
	why := regexp.MustCompile(`(?m)^Only advice: (.*)$`)
	reasons := map[string]bool{}
	for _, pack := range rules.Packs() {
		for _, r := range pack.Rules {
			m := why.FindStringSubmatch(screen(t, 400, "explain "+r.Name))
			if assert.Equal(t, r.Should, m != nil, r.Name); m != nil {
				reasons[m[1]] = true
			}
		}
	}
	assert.Greater(t, len(reasons), 2)
	t.Chdir("../..")
	list := screen(t, 400, "check --as-of 2026-11-20 --advice examples/tamarack/builds/marten")
	assert.Equal(t, 1, strings.Count(list, "Only advice: "), "once")
}

// TestWordsOfMovesAndReckonedGaps: a gap that passes by a reading from before
// the move says so, and a row of what moved says of what and against which limit.
func TestWordsOfMovesAndReckonedGaps(t *testing.T) {
	t.Chdir("../..")
	assert.Contains(t, screen(t, 200, "explain clearance/gap examples/tamarack/builds/marten gap.pan-to-axle"), "reckoned from a reading before the move, and wants measuring again")
	moved := screen(t, 200, "compare examples/tamarack/changes/winch/before examples/tamarack/changes/winch/after")
	assert.Contains(t, moved, "total load 7756 ± 94 lb -> 7938 ± 98 lb (max 9200 lb), margin -182 lb")
	assert.Contains(t, moved, "rating of SGX 257 °F, its limit min 140 ± 9 °F -> min 203.0 ± 0.5 °F")
}

// TestOneCauseOfMany: where one value that is not written stands behind most of what is
// due, the screen says so once, and --due tells the checks one by one.
func TestOneCauseOfMany(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.Mkdir("van", 0o755))
	require.NoError(t, os.WriteFile("van/build.toml", []byte(`
[build]
stage = "plan"
[vehicle]
seats = 2
wheelbase = "120 in"
gross-rating = "9000 lb"
[vehicle.front]
rating = "4000 lb"
[vehicle.rear]
rating = "6000 lb"
[weighing.a]
when = "as-received"
front = "2500 ± 10 lb"
rear = "2400 ± 10 lb"
[tank.main]
fluid = "gasoline"
capacity = "30 gal"
at = { behind = "100 in", right = "0 in", above = "20 in" }
[load.driver]
mass = "180 lb"
at = { behind = "40 in", right = "0 in", above = "40 in" }
`), 0o644))
	said := screen(t, 100, "check --as-of 2026-11-20 van")
	assert.Contains(t, said, "write weighing.a.levels.tank.main (8 checks)")
	assert.NotContains(t, said, "missing   weight/front-axle on vehicle.front")
	assert.Contains(t, screen(t, 100, "check --as-of 2026-11-20 --due plan van"), "missing   weight/front-axle on vehicle.front")
}
