package shoprules_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/rules"
)

// cpu is the processor time in seconds that f takes; the best of several runs, for
// what else the machine does only adds.
func cpu(b *testing.B, runs int, f func()) float64 {
	b.Helper()
	spent := func() float64 {
		var u syscall.Rusage
		require.NoError(b, syscall.Getrusage(syscall.RUSAGE_SELF, &u))
		return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
	}
	best := math.Inf(1)
	for range runs {
		before := spent()
		f()
		best = min(best, spent()-before)
	}
	return best
}

// thousand is a shop's file with a thousand rules: the example's own, and those of
// again, over and over, each with limits of its own.
func thousand(tb testing.TB, shop string) (plain, with string) {
	all := againShop(tb, shop)
	first := strings.Index(all, "\n[rule.")
	plain = all[:first]
	var one []string
	for _, text := range strings.Split(all[first:], "\n[rule.")[1:] {
		if id, _, _ := strings.Cut(text, "]"); strings.Contains(id, ".trial.") {
			continue
		}
		one = append(one, text)
	}
	var b strings.Builder
	b.WriteString(plain)
	number := regexp.MustCompile(`q\('(\d+) `)
	for i := range 1000 {
		id, rest, _ := strings.Cut(one[i%len(one)], "]")
		rest = number.ReplaceAllString(rest, fmt.Sprintf("q('$1.%03d ", i))
		fmt.Fprintf(&b, "\n[rule.%s-%d]%s", id, i, strings.TrimRight(rest, "\n"))
	}
	return plain, b.String() + "\n"
}

// BenchmarkThousand prints what a thousand rules of a shop cost on an example, as a
// multiple of the check without them (aim: 2), and what reading and compiling one
// takes in microseconds (aim: 60 for compiling): as a shop writes them, with the
// same expression in many rules, and with each expression apart.
func BenchmarkThousand(b *testing.B) {
	const shop, runs = "../../examples/tamarack", 10
	defer debug.SetGCPercent(debug.SetGCPercent(400)) // as the program does
	plain, with := thousand(b, shop)
	opt := lint.Options{Today: "2026-11-20"}
	build := func(text string) *revision.Build {
		dir := lay(b, map[string]string{"shop.toml": text})
		require.NoError(b, os.CopyFS(filepath.Join(dir, "heron"), os.DirFS(filepath.Join(shop, "builds/heron"))))
		place, err := revision.Open(dir)
		require.NoError(b, err)
		found, err := place.Builds()
		require.NoError(b, err)
		return found[0]
	}
	before, after := build(plain), build(with)
	of, err := after.Shop()
	require.NoError(b, err)
	apart := *of // no expression stands in it twice
	number := 0
	apart.Content = regexp.MustCompile(`(?m)^(?:where|value|at-most|at-least|holds) = ".*[^"]"$`).ReplaceAllFunc(of.Content, func(line []byte) []byte {
		number++
		return fmt.Appendf(nil, "%s //%d\"", line[:len(line)-1], number)
	})
	require.Greater(b, number, 2000)
	for b.Loop() {
		l := ledger.NewLoader()
		rep := lint.CheckOne(l, after, rules.All(), opt)
		require.Empty(b, rep.Faults)
		bare := cpu(b, runs, func() { lint.CheckOne(l, before, rules.All(), opt) })
		all := rules.All()
		lint.CheckOne(l, after, all, opt)
		judged := cpu(b, runs, func() { lint.CheckOne(l, after, all, opt) })
		read := cpu(b, runs, func() { ledger.NewLoader().OfShop(of) })
		compiled := cpu(b, runs, func() { lint.For(ledger.NewLoader().OfShop(of), rules.All()) })
		readApart := cpu(b, runs, func() { ledger.NewLoader().OfShop(&apart) })
		compiledApart := cpu(b, runs, func() { lint.For(ledger.NewLoader().OfShop(&apart), rules.All()) })
		b.ReportMetric(1000*(compiledApart-readApart), "apart-µs/rule")
		b.ReportMetric(judged/bare, "with/without")
		b.ReportMetric(1000*bare, "check-ms")
		b.ReportMetric(1000*judged, "with-ms")
		b.ReportMetric(1000*read, "read-µs/rule")
		b.ReportMetric(1000*(compiled-read), "compile-µs/rule")
		b.ReportMetric(0, "ns/op")
	}
}
