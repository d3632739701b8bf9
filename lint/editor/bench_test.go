package editor

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/rules"
)

// example opens a file of the example van, in a copy, with the real rules, and takes
// the first reading in it away.
func example(b *testing.B, name string) *editorClient {
	b.Helper()
	dir := b.TempDir()
	require.NoError(b, os.CopyFS(dir, os.DirFS("../../examples/tamarack")))
	c := start(b, dir, rules.Packs(), lint.Options{Today: "2026-11-20"})
	c.begin(capabilities)
	c.open(name)
	text := c.texts[name]
	from := strings.Index(text, measured) + len(measured)
	c.splice(name, 2, from, from+strings.IndexByte(text[from:], '"'), "")
	c.settle()
	return c
}

// measured is where the benchmarks type: a reading that a gap's checks rest on.
const measured = "measured = \""

// TestKeystroke is no benchmark, so that it is seen to run: a few of them.
func TestKeystroke(t *testing.T) {
	if testing.Short() {
		t.Skip("reads the example with all rules")
	}
	r := testing.Benchmark(func(b *testing.B) { keystrokes(b, 40) })
	t.Logf("%v", r.Extra)
}

// BenchmarkKeystrokes replays 500 edits of the example van on its real rules: how long
// until faults are told, and until the findings are where the pause ends at once; both
// beside a check of the build by itself, read anew. The aim is 50 ms at the 95th in a
// hundred, on two cores.
func BenchmarkKeystrokes(b *testing.B) { keystrokes(b, 500) }

func keystrokes(b *testing.B, edits int) {
	c := example(b, "builds/marten/gaps.toml")
	var faults, findings, check []time.Duration
	for b.Loop() {
		began := time.Now()
		c.typing("builds/marten/gaps.toml", measured, "in", edits, func(int) {
			c.settle()
			faults = append(faults, time.Since(began))
			c.rest()
			c.settle()
			findings = append(findings, time.Since(began))
			began = time.Now()
		})
	}
	b.StopTimer()
	place, err := revision.Open(filepath.Join(c.dir, "builds/marten"))
	require.NoError(b, err)
	defer place.Close()
	builds, err := place.Builds()
	require.NoError(b, err)
	for range 20 {
		began := time.Now()
		lint.Check(ledger.NewLoader().Read(builds[0]), rules.Packs(), lint.Options{Today: "2026-11-20"})
		check = append(check, time.Since(began))
	}
	at := func(list []time.Duration, share int) float64 {
		slices.Sort(list)
		return float64(list[(len(list)-1)*share/100].Microseconds()) / 1000
	}
	b.ReportMetric(at(faults, 50), "ms/faults-p50")
	b.ReportMetric(at(faults, 95), "ms/faults-p95")
	b.ReportMetric(at(findings, 50), "ms/findings-p50")
	b.ReportMetric(at(findings, 95), "ms/findings-p95")
	b.ReportMetric(at(check, 50), "ms/check-p50")
}

// BenchmarkMemory is the bytes in use after 1,000 and after 10,000 edits of the
// example van, judged at every hundredth.
func BenchmarkMemory(b *testing.B) {
	for b.Loop() {
		c := example(b, "builds/marten/gaps.toml")
		c.typing("builds/marten/gaps.toml", measured, "in", 10_001, func(i int) {
			if i%100 == 6 { // where a whole value stands
				c.rest()
			}
			c.settle()
			switch i {
			case 1000:
				b.ReportMetric(float64(inUse())/1e6, "MB/after-1000")
			case 10_000:
				b.ReportMetric(float64(inUse())/1e6, "MB/after-10000")
			}
		})
	}
}
