package main

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"

	"fishplate/rules"
)

// BenchmarkBook prints the processor time in milliseconds of the book of the finished
// example and of a build of 500 parts, without their histories, beside what a check
// of each takes, and their sizes in MB. The aims are 500 ms and 1.5 MB, and 2000 ms.
func BenchmarkBook(b *testing.B) {
	file := filepath.Join(b.TempDir(), "book.html")
	many := manyParts(b, 500)
	spent := func(args ...string) float64 {
		best := math.Inf(1)
		for range 3 {
			var out, told bytes.Buffer
			began := processor()
			status := run(append([]string{"fishplate"}, args...), &program{out: &out, err: &told, packs: rules.All(), today: "2026-11-20"})
			best = min(best, processor()-began)
			require.NotEqual(b, statusUnread, status, told.String())
		}
		return best
	}
	for b.Loop() {
		for _, of := range []struct{ name, build string }{{"heron", tamarack + "builds/heron"}, {"500-parts", many}} {
			b.ReportMetric(spent("check", "--as-of", "2026-11-20", of.build), of.name+"-check-ms")
			b.ReportMetric(spent("book", "--as-of", "2026-11-20", "--out", file, of.build), of.name+"-book-ms")
			info, err := os.Stat(file)
			require.NoError(b, err)
			b.ReportMetric(float64(info.Size())/1e6, of.name+"-MB")
		}
		b.ReportMetric(0, "ns/op")
	}
}

// processor is the processor time in milliseconds that the process has taken.
func processor() float64 {
	var u syscall.Rusage
	_ = syscall.Getrusage(syscall.RUSAGE_SELF, &u)
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e6
}
