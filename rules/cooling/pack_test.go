package cooling

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/lint/report"
	"fishplate/rules/packtest"
)

func TestPack(t *testing.T) { packtest.Run(t, Pack, "testdata") }

func TestSourcesAreUsed(t *testing.T) {
	for _, u := range data.Unused() {
		t.Errorf("source %s is not used", u)
	}
}

// What the trade gives in feet a minute is shown so.
func TestDuctIsInFeetAMinute(t *testing.T) {
	for _, r := range lint.Check(packtest.Load(t, "testdata/intake/pass"), []*lint.Pack{Pack}, lint.Options{}).Results {
		if r.Subject() == "intake (duct)" {
			n := report.NumbersOf(r, quantity.Style{})
			assert.Equal(t, "max 6000 ft/min", n.Limit)
			assert.Contains(t, n.Value, "ft/min")
			return
		}
	}
	assert.Fail(t, "no check of the duct")
}
