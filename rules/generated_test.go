package rules_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/rules"
)

// written is a quantity as the small ledgers write it: its number, its unit, and
// its tolerance, if any.
var written = regexp.MustCompile(`"~?([0-9]+(?:\.[0-9]+| [0-9]+/[0-9]+)?)(?: ± [0-9./]+)? ([a-zA-Z]\S*)(?: ± [^"]*)?"`)

// generated is the build in a folder with other numbers: each one up to a tenth
// more or less, and with a tolerance up to a tenth. A value that takes no
// tolerance gets none; one that may not be another stays as it is.
func generated(t *testing.T, rnd *rand.Rand, folder string) *ledger.Build {
	t.Helper()
	place, err := revision.Open(folder)
	require.NoError(t, err)
	defer place.Close()
	builds, err := place.Builds()
	require.NoError(t, err)
	require.Len(t, builds, 1)
	files, err := builds[0].TOML()
	require.NoError(t, err)
	var ledgers [3]map[string][]string // with tolerances, without, as they are
	for i := range ledgers {
		ledgers[i] = map[string][]string{}
	}
	for _, f := range files {
		data, err := builds[0].Read(f.Path)
		require.NoError(t, err)
		for _, line := range strings.Split(string(data), "\n") {
			loose, other := varied(rnd, line)
			for i, s := range []string{loose, other, line} {
				ledgers[i][f.Path] = append(ledgers[i][f.Path], s)
			}
		}
	}
	now := ledgers[0]
	for _, next := range ledgers[1:] {
		b, faults := ledger.NewLoader().Load(builds[0].With(contents(now)))
		if len(faults) == 0 {
			return b
		}
		for _, f := range faults {
			for name := range now {
				if i := f.Place.Line - 1; strings.HasSuffix(f.Place.File, "/"+name) && i >= 0 {
					now[name][i] = next[name][i]
				}
			}
		}
	}
	b, faults := ledger.NewLoader().Load(builds[0].With(contents(now)))
	require.Empty(t, faults, "%s", folder)
	return b
}

func contents(lines map[string][]string) map[string][]byte {
	out := map[string][]byte{}
	for name, l := range lines {
		out[name] = []byte(strings.Join(l, "\n"))
	}
	return out
}

// varied is a line with other numbers, with tolerances and without.
func varied(rnd *rand.Rand, line string) (loose, other string) {
	var b, c strings.Builder
	end := 0
	for _, m := range written.FindAllStringSubmatchIndex(line, -1) {
		number, unit := line[m[2]:m[3]], line[m[4]:m[5]]
		r, err := q.Parse(number+" in", q.Length, q.Options{}) // inches are written in every way
		if err != nil || r.Value == 0 {
			continue
		}
		v := r.Value / r.Unit.Factor
		v *= 0.9 + 0.2*rnd.Float64()
		half := v * 0.1 * rnd.Float64()
		if rnd.IntN(4) == 0 {
			half /= 20 // a reading that is good beside others that are not
		}
		fmt.Fprintf(&b, "%s\"%.5g ± %.3g %s\"", line[end:m[0]], v, half, unit)
		fmt.Fprintf(&c, "%s\"%.5g %s\"", line[end:m[0]], v, unit)
		end = m[1]
	}
	return b.String() + line[end:], c.String() + line[end:]
}

// exact are the rules of which every value is exact: counts, years, sizes and
// certified ratings.
var exact = []string{
	"fuel/filter", "harness/gauge", "harness/pin-accounted", "street/engine-duty", "street/engine-year",
	"weight/tire-speed", "weight/tires-cover-rating", "wiring/fuse-standard",
}

// mostOfRule is how many checks of a rule are looked at in one generated ledger.
const mostOfRule = 2

// TestWidthOfGenerated: as TestWidth, on ledgers that nobody wrote: the small
// ones that the packs' rules pass on, with other numbers and tolerances. Every
// numeric rule whose values have a doubt comes up.
func TestWidthOfGenerated(t *testing.T) {
	if testing.Short() {
		t.Skip("a minute of optimisation")
	}
	const rounds = 6
	numeric, seen, worst := map[string]bool{}, map[string]int{}, 1.0
	for _, pack := range rules.Packs() {
		for _, rule := range pack.Rules {
			short := strings.TrimPrefix(rule.Name, pack.Name+"/")
			folders, err := filepath.Glob(filepath.Join(pack.Name, "testdata", short, "pass*"))
			require.NoError(t, err)
			for _, folder := range folders {
				for round := range rounds {
					name := fmt.Sprintf("%s, round %d", folder, round)
					rnd := rand.New(rand.NewPCG(9, hashOf(name)))
					n := 0
					for _, r := range lint.Check(generated(t, rnd, folder), []*lint.Pack{pack}, lint.Options{AsOf: "2026-11-20"}).Results {
						if r.Rule != rule || !r.Numeric() || !r.Margin.Known() {
							continue
						}
						numeric[rule.Name] = true
						if n++; n > mostOfRule {
							break
						}
						for _, f := range []q.Quantity{r.Value, r.Limit, r.Margin} {
							if !doubtful(f) {
								continue
							}
							seen[rule.Name]++
							worst = max(worst, width(t, rnd, fmt.Sprintf("%s: %s", name, r.Subject()), f))
						}
					}
				}
			}
		}
	}
	total := 0
	for _, n := range seen {
		total += n
	}
	t.Logf("%d figures of %d rules, the widest %.4f times its true range", total, len(seen), worst)
	for name := range numeric {
		assert.Equal(t, slices.Contains(exact, name), seen[name] == 0, "%s: %d figures", name, seen[name])
	}
	assert.Greater(t, total, 1000)
	assert.Greater(t, len(seen), 60)
}

// doubtful tells that a figure has a width.
func doubtful(v q.Quantity) bool {
	low, high := q.Analyze(v).Bounds()
	return high-low > 1e-9*math.Abs(v.Value())
}
