package main

import (
	"testing"

	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/lint/report/book"
	"fishplate/rules"
	"io"
	"os"

	"github.com/stretchr/testify/require"
)

func BenchmarkBook(b *testing.B) {
	folder := os.Getenv("BOOK")
	if folder == "" {
		folder = "../../examples/tamarack/builds/heron"
	}
	place, err := revision.Open(folder)
	require.NoError(b, err)
	defer place.Close()
	builds, err := place.Builds()
	require.NoError(b, err)
	check := func() (rep *lint.Report) {
		lint.Run(builds, rules.Packs(), lint.Options{Today: "2026-11-20"}, func(r *lint.Report) { rep = r })
		return rep
	}
	b.Run("check", func(b *testing.B) {
		for b.Loop() {
			check()
		}
	})
	b.Run("book", func(b *testing.B) {
		for b.Loop() {
			rep := check()
			n := counter(0)
			require.NoError(b, book.Write(&n, rep, book.Options{Edition: book.Shop, Figures: rules.Drawn(rep.Build)}))
			b.ReportMetric(float64(n)/1e6, "MB")
		}
	})
}

type counter int

func (c *counter) Write(p []byte) (int, error) { *c += counter(len(p)); return len(p), nil }

var _ io.Writer = new(counter)
