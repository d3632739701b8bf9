package paperwork_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/lint"
	"fishplate/rules/packtest"
)

// judged is what counts against a build on a day of the calendar, and its report.
func judged(t *testing.T, dir, today, asOf string) (*lint.Report, []string) {
	t.Helper()
	rep := lint.Check(packtest.Load(t, dir), packs(), lint.Options{Today: today, AsOf: asOf})
	require.Empty(t, rep.Faults)
	var counts []string
	for _, r := range rep.Results {
		if r.Counts {
			counts = append(counts, packtest.Tell(r))
		}
	}
	return rep, counts
}

// visits are ten years of coming back, three times a year.
func visits() string {
	var b strings.Builder
	for n := range 30 {
		fmt.Fprintf(&b, "[visit.v%d]\ndate = %d-%02d-15\nodometer = \"%d mi\"\ncomplaint = \"it squeaks\"\ncause = \"a bushing\"\ncure = \"grease\"\nabout = [\"part.engine\"]\n", n, 2026+(n+1)/3, 4*((n+1)%3)+2, 4000*(n+1))
	}
	return b.String()
}

// A delivered build stays as it was signed however often it comes back and
// whatever the calendar says: its waiver ran out years ago.
func TestDeliveredRests(t *testing.T) {
	dir := heron(t)
	_, counts := judged(t, dir, "2026-04-24", "")
	require.Empty(t, counts)
	put(t, dir, "visits.toml", visits())
	rep, counts := judged(t, dir, "2036-05-01", "")
	assert.Equal(t, "2026-04-24", rep.AsOf)
	assert.Empty(t, counts)

	rep, counts = judged(t, dir, "2036-05-01", "2036-05-01")
	assert.Equal(t, "2036-05-01", rep.AsOf)
	require.NotEmpty(t, counts, "unless another day is asked for")
	assert.Contains(t, counts[0], "ran out on 2027-03-31")

	replace("build.toml", "delivered = 2026-04-24\n", "")(t, dir)
	_, counts = judged(t, dir, "2036-05-01", "")
	assert.NotEmpty(t, counts, "a build that is not delivered goes by the calendar")
}

// What is changed after delivery is no longer what was signed.
func TestChangedSinceDelivery(t *testing.T) {
	dir := heron(t)
	put(t, dir, "later.toml", "[work.later]\ndid = \"cleaned\"\ndate = 2026-06-01\n")
	_, counts := judged(t, dir, "2027-06-02", "")
	told(t, []string{
		"ledger/delivered build: fail; work.later.date is 2026-06-01, later than the delivery on 2026-04-24",
		"ledger/signature signature.delivery: fail; changed since delivery on 2026-04-24: not the ledger that June Farrow signed on 2026-04-20",
	}, counts)

	require.NoError(t, os.Remove(filepath.Join(dir, "later.toml")))
	replace("build.toml", `stage = "delivery"`, `stage = "road-test"`)(t, dir)
	_, counts = judged(t, dir, "2027-06-02", "")
	told(t, []string{"ledger/delivered build: fail; it was delivered on 2026-04-24, and its stage is road-test"}, counts)
}
