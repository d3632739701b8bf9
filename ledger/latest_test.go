package ledger_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The last day that a ledger speaks of is the latest date in it, whatever a
// waiver's last day and a signature's date are.
func TestLatest(t *testing.T) {
	write(t, map[string]string{"build.toml": "[part.a]\nfitted-on = 2026-03-01\n[test.a]\ndate = 2026-04-02\n[waiver.a]\nuntil = 2030-01-01\n[signature.a]\ndate = 2029-01-01\n"})
	b, faults := load(t, ".")
	require.Empty(t, faultLines(faults))
	assert.Equal(t, "2026-04-02", b.Latest())
}
