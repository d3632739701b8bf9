package rules_test

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"runtime/metrics"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"fishplate/ledger/revision"
	"fishplate/ledger/syntax"
	"fishplate/lint"
	"fishplate/rules"
)

// fleet copies the example builds until there are n, all of one shop.
func fleet(b *testing.B, n int) []*revision.Build {
	dir := b.TempDir()
	shop, err := os.ReadFile("../examples/tamarack/shop.toml")
	require.NoError(b, err)
	require.NoError(b, os.WriteFile(filepath.Join(dir, "shop.toml"), shop, 0o644))
	models := []string{"../examples/tamarack/builds/marten", "../examples/tamarack/builds/heron"}
	for i := range n {
		require.NoError(b, os.CopyFS(filepath.Join(dir, fmt.Sprintf("van-%04d", i)), os.DirFS(models[i%len(models)])))
	}
	place, err := revision.Open(dir)
	require.NoError(b, err)
	b.Cleanup(func() { place.Close() })
	builds, err := place.Builds()
	require.NoError(b, err)
	require.Len(b, builds, n)
	return builds
}

// decodeOnly is the floor: the same bytes read and decoded with places, on the
// same number of cores.
func decodeOnly(b *testing.B, builds []*revision.Build) (size int64) {
	work := make(chan *revision.Build)
	var wg sync.WaitGroup
	var mu sync.Mutex
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for build := range work {
				files, err := build.TOML()
				if err != nil {
					b.Error(err)
				}
				for _, f := range files {
					data, err := build.Read(f.Path)
					if err != nil {
						b.Error(err)
					}
					if doc := syntax.Read(data); len(doc.Faults) > 0 {
						b.Error(doc.Faults)
					}
					mu.Lock()
					size += int64(len(data))
					mu.Unlock()
				}
			}
		})
	}
	for _, build := range builds {
		work <- build
	}
	close(work)
	wg.Wait()
	return size
}

func checkAll(b *testing.B, builds []*revision.Build) {
	n := 0
	lint.Run(builds, rules.Packs(), lint.Options{Today: "2026-11-20"}, func(r *lint.Report) {
		for _, f := range r.Faults {
			b.Fatal(f)
		}
		n++
	})
	require.Equal(b, len(builds), n)
}

// heapPeak runs f and gives the most that the heap held, in MB.
func heapPeak(f func()) float64 {
	runtime.GC()
	sample := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
	stop, done := make(chan bool), make(chan float64)
	go func() {
		peak := uint64(0)
		for {
			select {
			case <-stop:
				done <- float64(peak) / (1 << 20)
				return
			case <-time.After(time.Millisecond):
				metrics.Read(sample)
				peak = max(peak, sample[0].Value.Uint64())
			}
		}
	}()
	f()
	close(stop)
	return <-done
}

// BenchmarkFleet checks a fleet beside the floor. Compare check with decode:
// the aim is 1.5 times, and above 2.5 is a defect.
func BenchmarkFleet(b *testing.B) {
	for _, n := range []int{100, 1000} {
		builds := fleet(b, n)
		b.Run(fmt.Sprintf("decode/%d", n), func(b *testing.B) {
			for b.Loop() {
				b.SetBytes(decodeOnly(b, builds))
			}
		})
		b.Run(fmt.Sprintf("check/%d", n), func(b *testing.B) {
			for b.Loop() {
				checkAll(b, builds)
			}
		})
		b.Run(fmt.Sprintf("peak/%d", n), func(b *testing.B) {
			for b.Loop() {
				b.ReportMetric(heapPeak(func() { checkAll(b, builds) }), "peak-MB")
			}
		})
	}
}
