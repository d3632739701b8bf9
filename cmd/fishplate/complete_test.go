package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// shellOf finds a shell; where it is not installed the test is left out, which
// the note says.
func shellOf(t *testing.T, name string) string {
	t.Helper()
	program, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("%s is not installed: its script was not tried here", name)
	}
	return program
}

// TestCompletionParses: each shell reads its script without a complaint.
func TestCompletionParses(t *testing.T) {
	for name, script := range completionScripts {
		t.Run(name, func(t *testing.T) {
			file := filepath.Join(t.TempDir(), "script")
			require.NoError(t, os.WriteFile(file, []byte(script), 0o644))
			out, err := exec.Command(shellOf(t, name), "-n", file).CombinedOutput()
			assert.NoError(t, err)
			assert.Empty(t, string(out))
			require.NoError(t, os.WriteFile(file, []byte("if (((\n"+script), 0o644))
			assert.Error(t, exec.Command(shellOf(t, name), "-n", file).Run(), "a script with a fault is told")
		})
	}
}

// asFishplate puts this test's own program on the path as fishplate.
func asFishplate(t *testing.T) {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	bin := t.TempDir()
	require.NoError(t, os.Symlink(self, filepath.Join(bin, "fishplate")))
	t.Setenv("PATH", bin+string(filepath.ListSeparator)+os.Getenv("PATH"))
}

// TestCompletionInShell: what a shell offers for the last word of a line, with
// a build beside whose name would be run by a careless script.
func TestCompletionInShell(t *testing.T) {
	for name, ask := range map[string]func(line string) string{
		"bash": func(line string) string {
			return completionScripts["bash"] + `COMP_WORDS=(` + line + `); COMP_CWORD=$((${#COMP_WORDS[@]} - 1)); _fishplate; printf '%s\n' "${COMPREPLY[@]}"`
		},
		"fish": func(line string) string {
			return completionScripts["fish"] + "complete -C '" + strings.ReplaceAll(line, "''", "") + "'"
		},
		"zsh": func(line string) string { // compadd works in its editor only: it is stood in for
			return "compdef() { }; compadd() { print -l -- ${(PM)2:#${words[CURRENT]}*} }; _files() { }\n" + completionScripts["zsh"] +
				"words=(" + line + "); CURRENT=$#words; _fishplate"
		},
	} {
		t.Run(name, func(t *testing.T) {
			shell := shellOf(t, name)
			asFishplate(t)
			t.Chdir(t.TempDir())
			t.Setenv("HOME", t.TempDir())
			for _, dir := range []string{"builds/wren", "builds/$(touch ran)", "builds/`touch ran`", "builds/a b", "builds/x;touch ran"} {
				require.NoError(t, os.MkdirAll(dir, 0o755))
				require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), []byte("[gap.fan-to-core]\nmeasured = \"1 in\"\n"), 0o644))
			}
			for line, want := range map[string]string{
				"fishplate c":                             "check compare cost completion",
				"fishplate check builds/":                 "builds/wren",
				"fishplate check --stage m":               "mock-up",
				"fishplate explain toy/l":                 "toy/label",
				"fishplate explain toy/gap builds/wren g": "gap.fan-to-core",
				"fishplate completion z":                  "zsh",
				"fishplate check --a":                     "--all",
				"fishplate list o":                        "order",
				"fishplate draw pl":                       "plan plugs",
				"fishplate draw side builds/":             "builds/wren",
				"fishplate list order builds/":            "builds/wren",
				"fishplate list order --report c":         "csv",
				"fishplate next --due d":                  "delivery",
				"fishplate sheet --system co":             "controls cooling",
				"fishplate sheet --report h":              "html",
				"fishplate sheet builds/":                 "builds/wren",
				"fishplate enter builds/":                 "builds/wren",
				"fishplate enter --t":                     "--try",
				"fishplate cost builds/":                  "builds/wren",
				"fishplate find pump builds/":             "builds/wren",
			} {
				out, err := exec.Command(shell, "-c", ask(line)).CombinedOutput()
				assert.NoError(t, err, line)
				got := strings.Fields(string(out))
				for _, w := range strings.Fields(want) {
					assert.Contains(t, got, w, line)
				}
				if name != "fish" { // which lists the files beside, and quotes them
					assert.NotContains(t, string(out), "touch", line)
				}
				assert.NoFileExists(t, "ran", line)
			}
		})
	}
}
