package shoprules_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/golden"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/rules"
)

func TestMain(m *testing.M) { os.Exit(golden.Tests{M: m}.Run()) }

// lay writes files below a new folder, which is its own work tree.
func lay(t testing.TB, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		at := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(at), 0o755))
		require.NoError(t, os.WriteFile(at, []byte(text), 0o644))
	}
	return dir
}

// judge judges the one build of a folder by all packs.
func judge(t testing.TB, dir string) *lint.Report {
	t.Helper()
	return judgeAt(t, dir, rules.All())
}

func judgeAt(t testing.TB, dir string, packs []*lint.Pack) *lint.Report {
	t.Helper()
	place, err := revision.Open(dir)
	require.NoError(t, err)
	defer place.Close()
	builds, err := place.Builds()
	require.NoError(t, err)
	require.Len(t, builds, 1)
	return lint.CheckOne(ledger.NewLoader(), builds[0], packs, lint.Options{Today: "2026-11-20"})
}

// by judges a build by rules of a shop.
func by(t testing.TB, ruleText, build string) *lint.Report {
	t.Helper()
	t.Helper()
	return judgeBy(t, ruleText, build, rules.All())
}

func judgeBy(t testing.TB, ruleText, build string, packs []*lint.Pack) *lint.Report {
	t.Helper()
	return judgeAt(t, lay(t, map[string]string{"shop.toml": ruleText, "v/build.toml": build}), packs)
}

// of finds the checks of a rule.
func of(rep *lint.Report, rule string) (out []*lint.Result) {
	for _, r := range rep.Results {
		if r.Rule.Name == rule {
			out = append(out, r)
		}
	}
	return out
}
