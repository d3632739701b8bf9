// Package packtest holds a rule pack to what every pack owes: its rules are
// whole, run where nothing is known, and give the verdicts that the small
// ledgers in its testdata are there for.
package packtest

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/revision"
	"fishplate/lint"
)

// today is the calendar's date for what is tested.
const today = "2026-11-20"

// Run tests a pack. Below dir each rule has a folder of its name without the
// pack, and in it one build a case; or one file of that name with .txtar, whose
// parts are each the build.toml of a case. A case is named by the worst verdict
// that the rule gives on that build: pass, fail, missing, unproven,
// not-applicable; more words may follow ("fail-duals"). What a must only advises
// does not count, lest advice that fails hide a demand that is gone, save where
// the word behind the verdict is advice ("fail-advice-duals"). A rule has at least
// a case that passes and one that fails or is missing, and not on advice alone.
func Run(t *testing.T, pack *lint.Pack, dir string) {
	t.Helper()
	t.Run("whole", func(t *testing.T) { whole(t, pack) })
	t.Run("phantoms", func(t *testing.T) { phantoms(t, pack) })
	for _, rule := range pack.Rules {
		t.Run(short(pack, rule), func(t *testing.T) { cases(t, pack, rule, filepath.Join(dir, short(pack, rule))) })
	}
	folders, err := os.ReadDir(dir)
	require.NoError(t, err)
	for _, f := range folders {
		name, one := strings.CutSuffix(f.Name(), archive)
		known := slices.ContainsFunc(pack.Rules, func(r *lint.Rule) bool { return short(pack, r) == name })
		assert.True(t, known || !f.IsDir() && !one, "%s: no rule of that name", filepath.Join(dir, f.Name()))
	}
}

func short(pack *lint.Pack, r *lint.Rule) string { return strings.TrimPrefix(r.Name, pack.Name+"/") }

// whole tests what a rule says about itself.
func whole(t *testing.T, pack *lint.Pack) {
	assert.NotEmpty(t, pack.Title)
	seen := map[string]bool{}
	for _, r := range pack.Rules {
		assert.True(t, strings.HasPrefix(r.Name, pack.Name+"/"), "%s: the name starts with the pack's", r.Name)
		assert.False(t, seen[r.Name], "%s twice", r.Name)
		seen[r.Name] = true
		assert.NotEmpty(t, r.Title, r.Name)
		assert.NotContains(t, r.Title, "\n", r.Name)
		assert.False(t, strings.HasSuffix(r.Title, "."), "%s: a title has no full stop", r.Name)
		assert.False(t, strings.IndexFunc(r.Title, unicode.IsUpper) == 0, "%s: a title begins with a small letter", r.Name)
		assert.NotEmpty(t, r.Sources, r.Name)
		for _, s := range r.Sources {
			assert.NotEmpty(t, s.Text, r.Name)
		}
		assert.NotNil(t, r.Check, r.Name)
	}
}

// phantoms tests that each rule reaches its comparison where nothing is known,
// and that no dimension is wrong on the way, nor on those that it takes where
// every question is answered yes, or no.
func phantoms(t *testing.T, pack *lint.Pack) {
	rep := lint.Check(ledger.Phantoms(), []*lint.Pack{pack}, lint.Options{AsOf: today})
	require.Empty(t, rep.Faults)
	reached := map[string]bool{}
	for _, r := range rep.Results {
		reached[r.Rule.Name] = reached[r.Rule.Name] || r.Sense != ""
	}
	for _, yes := range []bool{true, false} {
		rep := lint.Check(ledger.PhantomsWhere(yes), []*lint.Pack{pack}, lint.Options{AsOf: today})
		assert.Empty(t, rep.Faults, "every question answered %v", yes)
	}
	for _, r := range pack.Rules {
		assert.True(t, reached[r.Name], "%s does not reach its comparison on the ledger of phantoms", r.Name)
	}
}

// archive ends the name of a file that holds all cases of a rule.
const archive = ".txtar"

// unpacked lays the cases of an archive out as folders.
func unpacked(t *testing.T, file string) string {
	a, err := txtar.ParseFile(file)
	require.NoError(t, err)
	dir := t.TempDir()
	for _, f := range a.Files {
		require.NoError(t, os.Mkdir(filepath.Join(dir, f.Name), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(dir, f.Name, ledger.MainFile), f.Data, 0o644))
	}
	return dir
}

func cases(t *testing.T, pack *lint.Pack, rule *lint.Rule, dir string) {
	if _, err := os.Stat(dir + archive); err == nil {
		dir = unpacked(t, dir+archive)
	}
	folders, err := os.ReadDir(dir)
	require.NoError(t, err, "a rule needs cases")
	had := map[lint.Verdict]bool{}
	for _, f := range folders {
		want, ok := named(f.Name())
		if !assert.True(t, ok, "%s: a case is named by a verdict", filepath.Join(dir, f.Name())) {
			continue
		}
		advice := slices.Contains(strings.Split(f.Name(), "-"), "advice")
		had[want] = had[want] || !advice
		t.Run(f.Name(), func(t *testing.T) {
			worst, told := verdict(t, pack, rule, filepath.Join(dir, f.Name()), advice)
			assert.Equal(t, want.String(), worst.String(), "%s", told)
		})
	}
	assert.True(t, had[lint.Pass], "no case that passes")
	assert.True(t, had[lint.Fail] || had[lint.Missing], "no case that fails or is missing")
}

// named is the verdict that a case is named by.
func named(folder string) (lint.Verdict, bool) {
	for v := lint.NotApplicable; v <= lint.Fail; v++ {
		word := strings.ReplaceAll(v.String(), " ", "-")
		if folder == word || strings.HasPrefix(folder, word+"-") {
			return v, true
		}
	}
	return 0, false
}

// verdict is the worst that the rule gives, of a must that does not stand for its
// advice the worst that it demands, and all it gives, for a message.
func verdict(t *testing.T, pack *lint.Pack, rule *lint.Rule, folder string, advice bool) (worst lint.Verdict, told string) {
	rep := lint.Check(Load(t, folder), []*lint.Pack{pack}, lint.Options{AsOf: today})
	require.Empty(t, rep.Faults)
	var all strings.Builder
	found := false
	for _, r := range rep.Results {
		if r.Rule == rule {
			found = true
			if !r.Should || rule.Should || advice {
				worst = max(worst, r.Verdict)
			}
			all.WriteString(Tell(r) + "\n")
		}
	}
	require.True(t, found, "%s gives no result at all", rule.Name)
	return worst, all.String()
}

// Load reads the one build at or below a folder.
func Load(t testing.TB, folder string) *ledger.Build {
	t.Helper()
	place, err := revision.Open(folder)
	require.NoError(t, err)
	defer place.Close()
	builds, err := place.Builds()
	require.NoError(t, err)
	require.Len(t, builds, 1)
	b, faults := ledger.NewLoader().Load(builds[0])
	for _, f := range faults {
		t.Error(f)
	}
	require.Empty(t, faults)
	return b
}

// Build reads a ledger given as the text of its build.toml.
func Build(t testing.TB, text string) *ledger.Build {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, ledger.MainFile), []byte(text), 0o644))
	return Load(t, dir)
}

// Tell is a result in one line, for a test's message.
func Tell(r *lint.Result) string {
	out := fmt.Sprintf("%s %s: %s", r.Rule.Name, r.Subject(), r.Verdict)
	if r.Numeric() {
		low, high := r.Margin.Bounds()
		out += fmt.Sprintf(", value %g, limit %g, margin %g (%g to %g) SI", r.Value.Value(), r.Limit.Value(), r.Margin.Value(), low, high)
	}
	for _, n := range r.Needs {
		out += "; needs " + n.Key
	}
	if r.Reason != "" {
		out += "; " + r.Reason
	}
	return out
}
