package main

import (
	"bytes"
	"io"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/rules"
)

// real is the program with the real rules, on a fixed day.
func real(out, errs io.Writer) *program {
	return &program{out: out, err: errs, packs: rules.Packs(), today: "2026-11-20"}
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

// TestReadmeScreen: the screen in the README is what the first command prints.
// UPDATE=1 writes it anew.
func TestReadmeScreen(t *testing.T) {
	t.Setenv("COLUMNS", "80")
	_, out := shell(t, "check --as-of 2026-11-20 examples/tamarack/builds/marten")
	readme, err := os.ReadFile("README.md")
	require.NoError(t, err)
	before, rest, ok := strings.Cut(string(readme), "```text\n")
	require.True(t, ok)
	screen, after, ok := strings.Cut(rest, "```\n")
	require.True(t, ok)
	if os.Getenv("UPDATE") != "" {
		require.NoError(t, os.WriteFile("README.md", []byte(before+"```text\n"+out+"```\n"+after), 0o644))
		return
	}
	assert.Equal(t, out, screen)
}
