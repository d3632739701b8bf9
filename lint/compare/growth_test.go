package compare

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/revision"
)

// laidDown is a build of some files.
func laidDown(t testing.TB, files map[string]string) *ledger.Build {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	place, err := revision.Open(dir)
	require.NoError(t, err)
	builds, err := place.Builds()
	require.NoError(t, err)
	b, faults := ledger.NewLoader().Load(builds[0])
	require.Empty(t, faults)
	return b
}

// doubles asserts that the steps at n, 2n and 4n grow no faster than 2.2 times
// a doubling.
func doubles(t *testing.T, n int, steps func(n int) float64) {
	t.Helper()
	last := steps(n)
	for range 2 {
		n *= 2
		now := steps(n)
		assert.LessOrEqual(t, now, 2.2*last, "at %d: %.0f after %.0f", n, now, last)
		last = now
	}
}

// TestPairingGrowth: entries that are like one another and all got new names,
// whether something names them or not.
func TestPairingGrowth(t *testing.T) {
	for name, entry := range map[string]string{
		"unnamed": "[part.%[1]s%[2]d]\nmass = \"1 lb\"\n",
		"named":   "[part.%[1]s%[2]d]\nmass = \"1 lb\"\n[circuit.%[1]s%[2]d]\nfrom = \"part.%[1]s%[2]d\"\n",
	} {
		t.Run(name, func(t *testing.T) {
			doubles(t, 200, func(n int) float64 {
				build := func(side string) *ledger.Build {
					var b strings.Builder
					for i := range n {
						fmt.Fprintf(&b, entry, side, i)
					}
					return laidDown(t, map[string]string{"build.toml": b.String()})
				}
				before, after := build("a"), build("b")
				names := pair(before, after)
				assert.GreaterOrEqual(t, len(names), n, "all are paired")
				return testing.AllocsPerRun(1, func() { pair(before, after) })
			})
		})
	}
}

// TestTrialsAreBounded: however many entries were edited in however many
// files, the ledger is judged a bounded number of times.
func TestTrialsAreBounded(t *testing.T) {
	for _, n := range []int{100, 2 * mostEdits, 4 * mostEdits} {
		build := func(mass string) *ledger.Build {
			files := map[string]string{"build.toml": ""}
			for i := range n {
				files[fmt.Sprintf("p%d.toml", i)] = fmt.Sprintf("[part.p%d]\nmass = %q\n", i, mass)
			}
			return laidDown(t, files)
		}
		trials := trialsOf(build("1 lb"), build("2 lb"))
		assert.LessOrEqual(t, len(trials), mostEdits)
		units := 0
		for _, x := range trials {
			units += len(x.edits)
		}
		assert.Equal(t, n, units, "no edit is left out")
	}
}
