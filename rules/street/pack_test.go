package street

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/lint"
	"fishplate/rules/packtest"
)

func TestPack(t *testing.T) { packtest.Run(t, Pack, "testdata") }

// No text of the pack, nor what it says of any of its cases, calls anything by
// the word that is a court's; and every rule sends its reader to the local code.
func TestDefersToLocalCode(t *testing.T) {
	tell := func(where, text string) {
		assert.NotContains(t, strings.ToLower(text), "legal", where)
		assert.NotContains(t, strings.ToLower(text), "lawful", where)
	}
	for _, r := range Pack.Rules {
		assert.Contains(t, r.Note, "Check your local code", r.Name)
		tell(r.Name, r.Title+r.Note+r.Caution)
		for _, c := range r.Sources {
			tell(r.Name, c.String())
		}
	}
	cases, err := filepath.Glob("testdata/*/*/build.toml")
	require.NoError(t, err)
	require.NotEmpty(t, cases)
	for _, name := range cases {
		for _, r := range lint.Check(packtest.Load(t, filepath.Dir(name)), []*lint.Pack{Pack}, lint.Options{}).Results {
			tell(name, packtest.Tell(r))
		}
	}
	texts, err := filepath.Glob("refdata/*.toml")
	require.NoError(t, err)
	for _, name := range texts {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		tell(name, string(text))
	}
}

// A misspelt piece of gear is told where the right one is asked for.
func TestMisspeltGearIsHinted(t *testing.T) {
	var told []string
	for _, r := range lint.Check(packtest.Load(t, "testdata/emission-gear/missing-misspelt"), []*lint.Pack{Pack}, lint.Options{}).Results {
		if r.Rule == emissionGear && r.Aspect == "catalyst" {
			told = append(told, packtest.Tell(r))
		}
	}
	assert.Len(t, told, 1)
	assert.Contains(t, told[0], `emission.catalysts says "catalyts": did you mean "catalyst"?`)
}

// A figure that was read demands, one from memory advises.
func TestMemoryMakesAShould(t *testing.T) {
	for folder, should := range map[string]bool{
		"engine-year/fail": false, "engine-year/fail-advice-heavy": true,
		"lamp-heights/fail": false, "lamp-heights/fail-advice-tail": true,
		"mirrors/fail": true, "engine-duty/fail": true, "tire-cover/fail": false,
	} {
		rule := "street/" + filepath.Dir(folder)
		found := false
		for _, r := range lint.Check(packtest.Load(t, filepath.Join("testdata", folder)), []*lint.Pack{Pack}, lint.Options{}).Results {
			if r.Rule.Name == rule && r.Verdict == lint.Fail {
				found = true
				assert.Equal(t, should, r.Should, folder)
			}
		}
		assert.True(t, found, folder)
	}
}
