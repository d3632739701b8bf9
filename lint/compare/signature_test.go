package compare_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/lint"
	"fishplate/lint/compare"
)

// The older side of a comparison is shown under the newer one's names. What
// was signed under the old names stays signed.
func TestComparedSignature(t *testing.T) {
	build := "[build]\npacks = [\"trial\"]\n[part.a]\nname = \"A\"\nmass = \"9 lb\"\norder-as = \"a\"\n"
	lay := func(text string) *ledger.Build {
		return shopOf(t, t.TempDir(), map[string]string{"van/build.toml": text}, "van")[0]
	}
	signed := func(text string) *ledger.Build {
		digest := lay(text).SignedDigest("delivery", "June", "2026-05-01")
		return lay(text + "[signature.s]\nstage = \"delivery\"\nby = \"June\"\ndate = 2026-05-01\ndigest = \"" + digest + "\"\n")
	}
	stage := ledger.AtDelivery
	c := compare.Builds(signed(build), signed(strings.ReplaceAll(build, "part.a", "part.b")), trialPacks(), lint.Options{Stage: &stage, AsOf: "2026-06-01"})
	for _, rep := range []*lint.Report{c.Before, c.After} {
		require.Empty(t, rep.Faults)
		signatures := 0
		for _, r := range rep.Results {
			if r.Rule.Name == "ledger/signature" {
				signatures++
				assert.Equal(t, lint.Pass, r.Verdict, r.Reason)
			}
		}
		assert.Equal(t, 1, signatures)
	}
	assert.False(t, c.Failed())
}
