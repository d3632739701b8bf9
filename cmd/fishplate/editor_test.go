package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestRealEditor: a person in Neovim opens the example, types a fault and reads what
// is wrong, completes a key and renames an entry; the build is as good as before.
func TestRealEditor(t *testing.T) {
	nvim, err := exec.LookPath("nvim")
	if err != nil && os.Getenv("CI") != "true" {
		t.Skip("needs Neovim, as in Debian's package neovim")
	}
	require.NoError(t, err)
	program, err := exec.LookPath("fishplate-example")
	require.NoError(t, err)
	dir, err := filepath.EvalSymlinks(t.TempDir())
	require.NoError(t, err)
	shop := filepath.Join(dir, "shop")
	require.NoError(t, os.CopyFS(shop, os.DirFS("../../examples/tamarack")))
	script, err := filepath.Abs("testdata/editor/session.lua")
	require.NoError(t, err)
	settings := filepath.Join(dir, "init.lua")
	require.NoError(t, os.WriteFile(settings, []byte(readmeSettings(t, program)), 0o644))
	t.Chdir(shop)
	before := checkedAll(t)

	out := filepath.Join(dir, "out")
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	defer cancel()
	c := exec.CommandContext(ctx, nvim, "--headless", "-u", settings, "-n", "-i", "NONE", "-c", "luafile "+script)
	c.Env = append(os.Environ(), "OUT="+out, "ROOT="+shop, "HOME="+dir, "XDG_STATE_HOME="+dir, "XDG_CACHE_HOME="+dir, "XDG_DATA_HOME="+dir)
	said, err := c.CombinedOutput()
	require.NoError(t, err, "%s", said)
	told, err := os.ReadFile(out)
	require.NoError(t, err)
	assert.Equal(t, strings.Join([]string{
		"found: driveline/torque",
		`fault: unknown key "bump-trvel" in vehicle.front; did you mean "bump-travel"?`,
		"at: 0:0",
		`completed: bump-travel = "3 ½ in" # 🔧`,
		"faults left: none",
		"hover: 122.00 ± 0.05 in = 3098.8 ± 1.3 mm",
		"defined in: drivetrain.toml",
		"renamed: true",
		"stopped: 1 true",
		"",
	}, "\n"), string(told), "%s", said)

	for name, text := range tomlBelow(t, "builds/marten") {
		assert.NotContains(t, text, `"part.fan"`, name)
		assert.NotContains(t, text, "[part.fan]", name)
	}
	build, err := os.ReadFile("builds/marten/build.toml")
	require.NoError(t, err)
	require.Contains(t, string(build), "bump-travel = \"3 ½ in\" # 🔧\n")
	require.NoError(t, os.WriteFile("builds/marten/build.toml", []byte(strings.Replace(string(build), "bump-travel = \"3 ½ in\" # 🔧\n", "", 1)), 0o644))
	after := strings.Split(strings.ReplaceAll(strings.Join(checkedAll(t), "\n"), "part.blower", "part.fan"), "\n")
	slices.Sort(after) // in the order of the old names
	assert.Equal(t, before, after, "the checks say the same of the renamed entry")
}

// readmeSettings are those that the README has for Neovim, with the program of this
// test for the installed one.
func readmeSettings(t *testing.T, program string) string {
	t.Helper()
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	_, rest, ok := strings.Cut(string(readme), "```lua\n")
	require.True(t, ok)
	settings, _, _ := strings.Cut(rest, "```")
	require.Contains(t, settings, `cmd = { "fishplate", "editor" }`)
	return strings.Replace(settings, `"fishplate", "editor"`, fmt.Sprintf("%q, \"editor\"", program), 1)
}

// checkedAll is what check says of the example van, line by line, sorted.
func checkedAll(t *testing.T) []string {
	t.Helper()
	var out, errs strings.Builder
	run([]string{"fishplate", "check", "--all", "builds/marten"}, real(&out, &errs))
	require.Empty(t, errs.String())
	lines := strings.Split(out.String(), "\n")
	slices.Sort(lines)
	return lines
}

// tomlBelow are the TOML files below a folder.
func tomlBelow(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(name string, d os.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(name, ".toml") {
			var data []byte
			data, err = os.ReadFile(name)
			files[name] = string(data)
		}
		return err
	}))
	return files
}

// TestLaterDay: a session that goes on past midnight is of the next day.
func TestLaterDay(t *testing.T) {
	began := time.Date(2026, 2, 28, 23, 50, 0, 0, time.Local)
	assert.Equal(t, "2026-02-28", laterDay("2026-02-28", began, began.Add(9*time.Minute)))
	assert.Equal(t, "2026-03-01", laterDay("2026-02-28", began, began.Add(11*time.Minute)))
	assert.Equal(t, "2026-11-23", laterDay("2026-11-20", began, began.AddDate(0, 0, 3)))
}
