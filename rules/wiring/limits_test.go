package wiring

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/packtest"
)

func bench(t *testing.T, text string) *ledger.Build {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), []byte("[build]\ntitle = \"A bench\"\n[part.battery]\nname = \"battery\"\n[part.lamp]\nname = \"lamp\"\n[supply]\nvoltage = \"12 V\"\n"+text), 0o600))
	return packtest.Load(t, dir)
}

const tree = `
[circuit.feed]
from = "part.battery"
to = ["part.lamp"]
duty = "continuous"
critical = true
[circuit.one]
from = "circuit.feed"
to = ["part.lamp"]
duty = "continuous"
`

// A shop's own limit tightens every circuit's, and never loosens a critical
// one's 3 %.
func TestShopLimit(t *testing.T) {
	b := bench(t, tree)
	value, err := q.Parse("1 %", q.Ratio, q.Options{Exact: true})
	require.NoError(t, err)
	b.Limits = map[string]ledger.Limit{"wiring/voltage-drop": {Rule: "wiring/voltage-drop", Value: q.Leaf(value, &q.Source{Entry: "limits", Key: "wiring/voltage-drop"})}}
	rep := lint.Check(b, []*lint.Pack{Pack}, lint.Options{AsOf: "2026-11-20"})
	require.Empty(t, rep.Faults)
	for _, r := range rep.Results {
		if r.Rule == voltageDrop {
			assert.InDelta(t, 0.01, r.Limit.Value(), 1e-12, r.Entry)
		}
	}
}

// The starter's 0.5 V is from memory and makes a should; what the ledger asks
// for itself is a must.
func TestCrankingDropIsAShould(t *testing.T) {
	b := bench(t, "[circuit.a]\nfrom = \"part.battery\"\nduty = \"cranking\"\nload = \"500 A\"\n[circuit.b]\nlike = \"circuit.a\"\ndrop-limit = \"4 %\"\n[circuit.c]\nlike = \"circuit.a\"\nduty = \"momentary\"\n")
	should := map[string]bool{}
	for _, r := range lint.Check(b, []*lint.Pack{Pack}, lint.Options{AsOf: "2026-11-20"}).Results {
		if r.Rule == voltageDrop {
			should[r.Entry] = r.Should
		}
	}
	assert.Equal(t, map[string]bool{"circuit.a": true, "circuit.b": false, "circuit.c": false}, should)
}

// SAE J537: 1.20 V a cell is 7.2 V of six, at 0 °F. SAE J56: 24 V is twice 12 V.
func TestWhatLabelsMean(t *testing.T) {
	assert.InDelta(t, data.Value("cold-cranking-voltage").Value(), 6*data.Value("cold-cranking-voltage-of-a-cell").Value(), 1e-9)
	zeroF := q.Cited("0 °F", "0 degF", "").Value()
	assert.InDelta(t, zeroF, data.Value("cold-cranking-temperature").Value(), 0.5)
	assert.Equal(t, 30.0, data.Value("cold-cranking-time").Value())
	assert.InDelta(t, data.Value("alternator-test-voltage-of-24-V").Value(), 2*data.Value("alternator-test-voltage").Value(), 1e-9)
	assert.Equal(t, 23+273.15, data.Value("alternator-test-ambient").Value())
}

func TestSourcesAreUsed(t *testing.T) { assert.Empty(t, data.Unused()) }
