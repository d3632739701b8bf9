package rules_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/rules"
)

// A broken line costs its own entry. Whatever line of the finished example is
// broken, what is wrong with it is told, and the checks of other entries that do
// not read it come to what they came to, at their places: none of them is taken
// for better than it was.
func TestBrokenLineCostsItsEntry(t *testing.T) {
	step := 9 // LONG tries every line, which takes a minute
	if os.Getenv("LONG") != "" {
		step = 1
	}
	files := map[string][]byte{}
	root := filepath.FromSlash("../examples/tamarack")
	require.NoError(t, filepath.WalkDir(root, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.Contains(path, "marten") || strings.Contains(path, "changes") {
			return err
		}
		name, err := filepath.Rel(root, path)
		require.NoError(t, err)
		files[name], err = os.ReadFile(path)
		return err
	}))
	dir := t.TempDir()
	lay := func(name string, data []byte) {
		path := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, data, 0o644))
	}
	for name, data := range files {
		lay(name, data)
	}
	t.Chdir(dir)
	judge := func() *lint.Report {
		place, err := revision.Open("builds/heron")
		require.NoError(t, err)
		defer place.Close()
		builds, err := place.Builds()
		require.NoError(t, err)
		return lint.Check(ledger.NewLoader().Read(builds[0]), rules.Packs(), lint.Options{AsOf: "2026-11-20"})
	}
	whole := judge()
	require.Empty(t, whole.Faults)
	was := map[string]*lint.Result{}
	for _, r := range whole.Results {
		was[r.Key()] = r
	}
	tried, kept := 0, 0
	for name, data := range files {
		if filepath.Ext(name) != ".toml" || !strings.Contains(name, "heron") {
			continue
		}
		lines := bytes.Split(data, []byte("\n"))
		for i := 0; i < len(lines); i += step {
			if len(bytes.TrimSpace(lines[i])) == 0 || lines[i][0] == '#' {
				continue
			}
			broken := append([][]byte(nil), lines...)
			broken[i] = append([]byte("? "), lines[i]...)
			lay(name, bytes.Join(broken, []byte("\n")))
			rep := judge()
			require.NotEmpty(t, rep.Faults, "%s:%d", name, i+1)
			same := 0
			for _, r := range rep.Results {
				if old := was[r.Key()]; old != nil && old.Verdict == r.Verdict && old.Place.File == r.Place.File {
					same++
				} else if old != nil && old.Verdict > lint.Pass {
					assert.NotEqual(t, lint.Pass, r.Verdict, "%s:%d %q makes %s %s pass", name, i+1, lines[i], r.Rule.Name, r.Subject())
				}
			}
			assert.Greater(t, same, len(whole.Results)/3, "%s:%d %q leaves too little", name, i+1, lines[i])
			tried++
			kept += same
		}
		lay(name, data)
	}
	require.Positive(t, tried)
	t.Logf("%d lines broken; of %d checks %d came to the same on average", tried, len(whole.Results), kept/tried)
}
