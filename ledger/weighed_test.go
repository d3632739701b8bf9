package ledger_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Of several weighings of a kind the latest counts; which that is must be said.
func TestWeighedTwice(t *testing.T) {
	const two = "[weighing.a]\nwhen = \"as-built\"\nfront = \"3000 lb\"\n%on\n[weighing.b]\nwhen = \"as-built\"\nfront = \"3500 lb\"\ndate = 2026-03-01\n"
	for _, c := range []struct{ on, want string }{
		{"date = 2026-02-01", "weighing.b"}, {"date = 2026-04-01", "weighing.a"},
	} {
		write(t, map[string]string{"build.toml": strings.ReplaceAll(two, "%on", c.on)})
		b, faults := load(t, ".")
		require.Empty(t, faultLines(faults))
		assert.Equal(t, c.want, b.Weighed("as-built").Path())
	}
	write(t, map[string]string{"build.toml": strings.ReplaceAll(two, "%on", "")})
	b, faults := load(t, ".")
	require.Empty(t, faultLines(faults))
	w := b.Weighed("as-built")
	require.Len(t, w.Front.Needs(), 1)
	assert.Equal(t, "weighing.a.date", w.Front.Needs()[0].Key)
	assert.False(t, w.Given().Known())
}
