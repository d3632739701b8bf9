package main

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func helped(t *testing.T, words ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	require.Equal(t, statusClean, run(append([]string{"fishplate"}, words...), real(&out, &errs)), errs.String())
	return out.String()
}

// TestHelpPages: each page has its parts, in order, within the width of a
// terminal, and says what a status of 1 means where there is one.
func TestHelpPages(t *testing.T) {
	pages := map[string]string{"": helped(t)}
	for _, c := range real(nil, nil).app().Commands {
		pages[c.Name] = helped(t, c.Name, "--help")
	}
	for name, page := range pages {
		parts := []string{"What it does", "How to call it", "A worked example", "Flags"}
		if name == "" {
			parts[2] = "Commands"
		}
		rest := page
		for _, part := range parts {
			_, after, ok := strings.Cut(rest, part+"\n")
			require.True(t, ok, "%s lacks %s", name, part)
			rest = after
		}
		for _, line := range strings.Split(page, "\n") {
			assert.LessOrEqual(t, len([]rune(line)), 140, "%s: %s", name, line)
			assert.Equal(t, strings.TrimRight(line, " "), line, name)
		}
		if strings.Contains("check  ", name+" ") || name == "" {
			assert.Contains(t, strings.Join(strings.Fields(page), " "), "a due check that is missing or left open gives 1 too", name)
		}
	}
}

// TestWorkedExamples: every command has one, and it does what it says, in a
// copy of the repository's examples.
func TestWorkedExamples(t *testing.T) {
	examples, err := filepath.Abs("../../examples")
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	require.NoError(t, os.CopyFS("examples", os.DirFS(examples)))
	commands := real(nil, nil).app().Commands
	assert.Len(t, workedExamples, len(commands))
	for _, c := range commands {
		w, ok := workedExamples[c.Name]
		require.True(t, ok, c.Name)
		if c.Name == "attach" {
			require.NoError(t, os.WriteFile("builds/my-van/ticket.txt", []byte("3055 lb\n"), 0o644))
		}
		if c.Name == "history" {
			needsGit(t)
			t.Setenv("XDG_CACHE_HOME", t.TempDir())
			gitAt(t, ".", "2026-02-03", "init", "-q", "-b", "main")
			gitAt(t, ".", "2026-02-03", "add", "examples")
			gitAt(t, ".", "2026-02-03", "commit", "-q", "-m", "first")
		}
		if c.Name == "enter" {
			require.NoError(t, os.WriteFile("sheet.csv", []byte("entry,key,value\nvehicle,wheelbase,125 in\n"), 0o644))
		}
		if c.Name == "merge" {
			for name, text := range map[string]string{"base": "", "ours": "[part.a]\n", "theirs": "[part.b]\n"} {
				require.NoError(t, os.WriteFile(name+".toml", []byte(text), 0o644))
			}
		}
		words := strings.Fields(strings.ReplaceAll(w.line, `"June Farrow"`, "June_Farrow"))
		var out, errs bytes.Buffer
		assert.Equal(t, w.status, run(words, real(&out, &errs)), "%s\n%s", w.line, errs.String())
		assert.Equal(t, c.Name == "merge" || c.Name == "editor", out.Len() == 0, w.line) // git's own messages are enough there, and what an editor says
		if w.status == statusFails {
			assert.True(t, slices.Contains([]string{"check", "compare", "sign", "editor"}, c.Name), "only these end with 1")
		}
	}
}
