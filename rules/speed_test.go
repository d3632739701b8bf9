package rules_test

import (
	"io"
	"math"
	"os/exec"
	"path/filepath"
	"runtime/debug"
	"syscall"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/pelletier/go-toml/v2/unstable"
	"github.com/stretchr/testify/require"

	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/lint/report"
	"fishplate/rules"
)

// cpu is the processor time in seconds that f takes on all cores, its children
// included; the best of several runs, for what else the machine does only adds.
func cpu(b *testing.B, runs int, f func()) float64 {
	b.Helper()
	spent := func() float64 {
		all := 0.0
		for _, who := range []int{syscall.RUSAGE_SELF, syscall.RUSAGE_CHILDREN} {
			var u syscall.Rusage
			require.NoError(b, syscall.Getrusage(who, &u))
			all += float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
		}
		return all
	}
	best := math.Inf(1)
	for range runs {
		before := spent()
		f()
		best = min(best, spent()-before)
	}
	return best
}

// collectAt is how the program sets the collector of garbage (cmd/fishplate), here
// for the floor and for what is held against it alike.
const collectAt = 800

// BenchmarkRatio prints what checking a fleet costs, as a multiple of reading
// the same files with a plain decoder and walking them for places: check alone,
// and check with its report as JSON. The aims are 1.5 and 2. It also prints the
// processor time a build in milliseconds (aim: 10).
func BenchmarkRatio(b *testing.B) {
	const n, runs = 20, 3
	builds := fleet(b, n)
	defer debug.SetGCPercent(debug.SetGCPercent(collectAt))
	for b.Loop() {
		floor := cpu(b, runs, func() { bareDecode(b, builds) })
		check := cpu(b, runs, func() { checkAll(b, builds) })
		whole := cpu(b, runs, func() { jsonAll(b, builds) })
		b.ReportMetric(check/floor, "check/floor")
		b.ReportMetric(whole/floor, "json/floor")
		b.ReportMetric(1000*floor/n, "floor-ms/build")
		b.ReportMetric(1000*check/n, "check-ms/build")
		b.ReportMetric(1000*whole/n, "json-ms/build")
		b.ReportMetric(0, "ns/op")
	}
}

func jsonAll(b *testing.B, builds []*revision.Build) {
	out := report.JSON(io.Discard, report.Options{Builds: len(builds)})
	lint.Run(builds, rules.Packs(), lint.Options{Today: "2026-11-20"}, func(r *lint.Report) {
		require.NoError(b, out.Build(r))
	})
	require.NoError(b, out.Close(&report.Totals{}))
}

// BenchmarkProcess prints the processor time in milliseconds of the whole program,
// started anew: one that does nothing, and one that checks a build (aim: 10
// more).
func BenchmarkProcess(b *testing.B) {
	binary := filepath.Join(b.TempDir(), "fishplate")
	out, err := exec.Command("go", "build", "-o", binary, "../cmd/fishplate").CombinedOutput()
	require.NoError(b, err, string(out))
	run := func(args ...string) func() {
		return func() {
			err := exec.Command(binary, args...).Run()
			if e, ok := err.(*exec.ExitError); !ok || e.ExitCode() != 1 {
				require.NoError(b, err)
			}
		}
	}
	for b.Loop() {
		b.ReportMetric(1000*cpu(b, 20, run("--version")), "version-ms")
		b.ReportMetric(1000*cpu(b, 20, run("check", "--as-of", "2026-11-20", "../examples/tamarack/builds/marten")), "check-ms")
		b.ReportMetric(1000*cpu(b, 20, run("check", "--report", "json", "--as-of", "2026-11-20", "../examples/tamarack/builds/marten")), "json-ms")
		b.ReportMetric(0, "ns/op")
	}
}

// bareDecode is the floor: the same files read, decoded by a plain decoder, and
// walked once for the places of all keys and values, on one core.
func bareDecode(b *testing.B, builds []*revision.Build) (places int) {
	for _, build := range builds {
		files, err := build.TOML()
		require.NoError(b, err)
		for _, f := range files {
			data, err := build.Read(f.Path)
			require.NoError(b, err)
			var v any
			_, err = toml.Decode(string(data), &v)
			require.NoError(b, err)
			w := walker{data: data, line: 1}
			p := unstable.Parser{KeepComments: true}
			for p.Reset(data); p.NextExpression(); {
				w.node(p.Expression())
			}
			require.NoError(b, p.Error())
			places += w.seen
		}
	}
	return places
}

// walker counts lines and columns up to each node in turn.
type walker struct {
	data               []byte
	offset, line, last int
	seen               int
}

func (w *walker) node(n *unstable.Node) {
	for ; n != nil; n = n.Next() {
		if at := int(n.Raw.Offset); at > w.offset {
			for i, c := range w.data[w.offset:at] {
				if c == '\n' {
					w.line, w.last = w.line+1, w.offset+i+1
				}
			}
			w.offset = at
		}
		w.seen += min(1, w.line*(w.offset-w.last+1))
		if n.Child() != nil {
			w.node(n.Child())
		}
	}
}
