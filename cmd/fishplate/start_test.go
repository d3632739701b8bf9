package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/revision"
)

// TestStartNamesOnlyWhatThereIs: with every number sign taken away, a new
// build has no key or table that the ledger does not know, and every value
// that is still to be filled in is told at its line.
func TestStartNamesOnlyWhatThereIs(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "wren")
	require.NoError(t, (&program{out: io.Discard}).starting(dir))
	sign := regexp.MustCompile(`(?m)^# (\[|[a-z0-9-]+ = )`)
	for _, f := range newFiles {
		name := filepath.Join(dir, f.name)
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(name, sign.ReplaceAll(text, []byte("$1")), 0o644))
	}
	place, err := revision.Open(dir)
	require.NoError(t, err)
	defer place.Close()
	builds, err := place.Builds()
	require.NoError(t, err)
	_, faults := ledger.NewLoader().Load(builds[0])
	assert.Greater(t, len(faults), 150)
	told := map[string]bool{}
	for _, f := range faults {
		told[fmt.Sprintf("%s:%d", filepath.Base(f.Place.File), f.Place.Line)] = true
	}
	// What is left as it is laid down says nothing: it is a fault, or what is so
	// without it.
	silent := regexp.MustCompile(`= (true|false|\{\}|1|2|"inside"|"us") `)
	for _, f := range newFiles {
		text, err := os.ReadFile(filepath.Join(dir, f.name))
		require.NoError(t, err)
		for i, line := range strings.Split(string(text), "\n") {
			if blank := regexp.MustCompile(`^[a-z0-9-]+ = .* # `).MatchString(line); blank && !silent.MatchString(line) {
				assert.True(t, told[fmt.Sprintf("%s:%d", f.name, i+1)], "%s", line)
			}
		}
	}
	for _, f := range faults {
		assert.Regexp(t, `empty|a number and a unit|takes |there is no (tire|wheel|donor|document|part|circuit|relay|zone|hose|assembly|load|plug|work)\.x|leads back to itself`, f.Message, "%s", f)
		assert.NotContains(t, f.Message, "unknown")
		assert.NotZero(t, f.Place.Line, "%s", f)
	}
}

// TestStartHasEveryKind: there is a commented entry of every kind that stands
// in a build, with every key, once.
func TestStartHasEveryKind(t *testing.T) {
	laid := map[string]int{}
	for _, f := range newFiles {
		for _, e := range f.entries {
			kind := ledger.KindOf(e.path)
			laid[kind.Name]++
			text := string(f.text("x"))
			for _, k := range kind.Fields {
				assert.Contains(t, text, "\n# "+k.Key+" = ", e.path)
			}
		}
	}
	for _, kind := range ledger.Kinds() {
		want := 1
		if kind.Name == "build" || kind.ShopOnly { // the one is written out, the others stand in shop.toml
			want = 0
		}
		assert.Equal(t, want, laid[kind.Name], kind.Name)
	}
}
