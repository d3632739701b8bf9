package ledger_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
)

// TestReference: REFERENCE.md lists what the schema takes. UPDATE=1 writes it
// anew.
func TestReference(t *testing.T) {
	var b strings.Builder
	fmt.Fprint(&b, "# What a ledger may hold\n\nWritten from the schema by `UPDATE=1 go test ./ledger -run Reference`. Any entry may also have a `note`. Values marked private are left out of\nwhat is public.\n")
	for _, kind := range ledger.KindNames() {
		head := kind
		if !ledger.Single(kind) {
			head += ".ID"
		}
		fmt.Fprintf(&b, "\n## [%s]\n\n| key | takes | what it is |\n|---|---|---|\n", head)
		for _, k := range ledger.Keys(kind) {
			about := k.About
			if k.Private {
				about += " (private)"
			}
			fmt.Fprintf(&b, "| `%s` | %s | %s |\n", k.Key, strings.ReplaceAll(k.Takes, "|", "\\|"), about)
		}
	}
	if os.Getenv("UPDATE") != "" {
		require.NoError(t, os.WriteFile("REFERENCE.md", []byte(b.String()), 0o644))
	}
	got, err := os.ReadFile("REFERENCE.md")
	require.NoError(t, err)
	assert.Equal(t, b.String(), string(got))
}
