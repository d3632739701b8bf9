package main

import (
	"bytes"
	"io"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger/golden"
	"fishplate/rules"
)

// real is the program with the real rules, on a fixed day.
func real(out, errs io.Writer) *program {
	return &program{in: strings.NewReader(""), out: out, err: errs, packs: rules.All(), today: "2026-11-20"}
}

// shell runs a command line at the top of the repository, with the real rules.
func shell(t *testing.T, line string) (status int, out string) {
	t.Helper()
	t.Chdir("../..")
	var stdout, stderr bytes.Buffer
	status = run(append([]string{"fishplate"}, strings.Fields(line)...), real(&stdout, &stderr))
	assert.Empty(t, stderr.String())
	return status, stdout.String()
}

// TestExamples: what the README says of the example shop.
func TestExamples(t *testing.T) {
	for line, want := range map[string]int{
		"check --as-of 2026-11-20 examples/tamarack/builds/marten":                                   statusClean,
		"check --as-of 2026-11-20 --stage delivery examples/tamarack/builds/marten":                  statusFails,
		"check --as-of 2026-11-20 --stage delivery examples/tamarack/builds/heron":                   statusClean,
		"check --as-of 2026-11-20 examples/tamarack/changes/winch/before":                            statusClean,
		"check --as-of 2026-11-20 examples/tamarack/changes/winch/after":                             statusFails,
		"compare examples/tamarack/changes/winch/before examples/tamarack/changes/winch/after":       statusFails,
		"explain weight/front-axle examples/tamarack/builds/marten":                                  statusClean,
		"check --as-of 2026-11-20 --all --report json examples/tamarack/builds":                      statusClean,
		"compare --as-of 2026-11-20 examples/tamarack/builds/marten examples/tamarack/builds/marten": statusClean,
	} {
		t.Run(line, func(t *testing.T) {
			status, out := shell(t, line)
			assert.Equal(t, want, status, out[:min(len(out), 2000)])
		})
	}
}

// screenMark stands before a screen in the README: the command that prints it,
// the word that its first line begins with, and how many lines are shown.
var screenMark = regexp.MustCompile("(?s)(<!-- screen: ([^|\n]+?)(?: \\| from ([^|\n]+?))? \\| ([0-9]+) lines -->\n```text\n)(.*?)(```\n)")

// TestReadmeScreens: each screen in the README is what its command prints on a
// terminal of 80 columns. UPDATE=1 writes them anew.
func TestReadmeScreens(t *testing.T) {
	t.Setenv("COLUMNS", "80")
	t.Chdir("../..")
	readme, err := os.ReadFile("README.md")
	require.NoError(t, err)
	marks := screenMark.FindAllStringSubmatch(string(readme), -1)
	require.Len(t, marks, strings.Count(string(readme), "<!-- screen: "), "a mark that is not understood")
	require.GreaterOrEqual(t, len(marks), 3)
	text := string(readme)
	for _, m := range marks {
		var stdout, stderr bytes.Buffer
		status := run(append([]string{"fishplate"}, strings.Fields(m[2])...), real(&stdout, &stderr))
		assert.NotEqual(t, statusUnread, status, stderr.String())
		lines, err := strconv.Atoi(m[4])
		require.NoError(t, err)
		want, ok := shown(stdout.String(), m[3], lines)
		require.True(t, ok, "%s prints no line that begins with %q", m[2], m[3])
		text = strings.Replace(text, m[0], m[1]+want+m[6], 1)
	}
	golden.Check(t, "README.md", text)
}

// shown is a number of lines of an output from one on, with dots where more
// follow.
func shown(out, from string, most int) (string, bool) {
	lines := strings.Split(strings.TrimRight(out, "\n"), "\n")
	first := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, from) })
	if first < 0 {
		return "", false
	}
	lines = lines[first:]
	end := "\n"
	if len(lines) > most {
		lines, end = lines[:most], "\n...\n"
	}
	return strings.Join(lines, "\n") + end, true
}

// TestReadmeIsPlain: the first paragraph can be read in half a minute, at 200
// words a minute, and the README's own commands are ones that there are.
func TestReadmeIsPlain(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	first := strings.Split(string(text), "\n\n")[1]
	assert.LessOrEqual(t, len(strings.Fields(first)), 100)
	app := real(nil, nil).app()
	for _, m := range regexp.MustCompile(`(?m)^(?:go run \./cmd/)?fishplate ([a-z]+)(.*)$`).FindAllStringSubmatch(string(text), -1) {
		cmd := app.Command(m[1])
		if m[1] == "is" || m[1] == "does" { // prose
			continue
		}
		require.NotNil(t, cmd, m[0])
		_, _, err := split(cmd, strings.Fields(m[2]))
		assert.NoError(t, err, m[0])
	}
}
