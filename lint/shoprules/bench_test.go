package shoprules_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/rules"
)

// thousand are rules of the forms that the example shop has: with its own five, a
// thousand.
func thousand() string {
	forms := []string{
		"each = \"tank\"\nwhere = \"it.capacity > q('%d gal')\"\nvalue = \"it.at.behind\"\nat-most = \"vehicle.wheelbase - q('12 in')\"\n",
		"each = \"vehicle.front\"\nvalue = \"figure('weight/front-axle', it)\"\nat-most = \"it.rating * 0.95 + q('%d lb')\"\n",
		"value = \"sum(parts().filter(p, p.fitted && p.mounted_on == 'roof').map(p, p.mass * p.count))\"\nat-most = \"it.roof_rating / 2 + q('%d lb')\"\n",
		"each = \"relay\"\nvalue = \"it.contact_rating\"\nat-least = \"q('%d A') / 10\"\n",
		"each = \"vehicle.rear\"\nholds = \"it.rating > q('%d lb') || has(vehicle.roof_rating)\"\n",
	}
	var b strings.Builder
	for i := range 995 {
		fmt.Fprintf(&b, "[rule.r%d]\ntitle = \"r\"\nsource = \"common practice, no source\"\n"+forms[i%len(forms)], i, i)
	}
	return b.String()
}

// shopOf is the finished example under a shop's file of its own, with more rules.
func shopOf(b *testing.B, more string) *revision.Build {
	const tamarack = "../../examples/tamarack"
	dir := b.TempDir()
	require.NoError(b, os.CopyFS(filepath.Join(dir, "builds", "heron"), os.DirFS(tamarack+"/builds/heron")))
	shop, err := os.ReadFile(tamarack + "/shop.toml")
	require.NoError(b, err)
	require.NoError(b, os.WriteFile(filepath.Join(dir, "shop.toml"), shop, 0o644))
	require.NoError(b, os.Mkdir(filepath.Join(dir, "rules"), 0o755))
	require.NoError(b, os.WriteFile(filepath.Join(dir, "rules", "more.toml"), []byte(more), 0o644))
	place, err := revision.Open(dir)
	require.NoError(b, err)
	b.Cleanup(func() { place.Close() })
	builds, err := place.Builds()
	require.NoError(b, err)
	return builds[0]
}

// spent is the processor time in milliseconds that f takes, the best of several.
func spent(runs int, f func()) float64 {
	now := func() float64 {
		var u syscall.Rusage
		_ = syscall.Getrusage(syscall.RUSAGE_SELF, &u)
		return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e6
	}
	best := math.Inf(1)
	for range runs {
		began := now()
		f()
		best = min(best, now()-began)
	}
	return best
}

// BenchmarkThousand prints the processor time of checking the finished example
// without and with a thousand rules of its shop (aim: no more than twice), and of
// reading and compiling one rule (aim: 60 µs).
func BenchmarkThousand(b *testing.B) {
	plain, many := shopOf(b, ""), shopOf(b, thousand())
	opt := lint.Options{Today: "2026-11-20"}
	for b.Loop() {
		l := ledger.NewLoader()
		check := func(src *revision.Build) func() {
			require.Empty(b, lint.CheckOne(l, src, rules.All(), opt).Faults)
			return func() { lint.CheckOne(l, src, rules.All(), opt) }
		}
		alone := spent(5, check(plain))
		all := rules.All()
		first := spent(1, func() { require.Empty(b, lint.CheckOne(l, many, all, opt).Faults) })
		again := spent(5, func() { lint.CheckOne(l, many, all, opt) })
		b.ReportMetric(alone, "check-ms")
		b.ReportMetric(again, "with-1000-ms")
		b.ReportMetric(again/alone, "with/without")
		b.ReportMetric(first-again, "compile-µs/rule")
		b.ReportMetric(0, "ns/op")
	}
}
