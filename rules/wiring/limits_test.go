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
	"fishplate/lint/report"
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

// A starter's cable takes its own limits, and not those of other circuits; a
// circuit's own drop-limit never loosens what its kind may lose.
func TestDropLimits(t *testing.T) {
	b := bench(t, "[circuit.a]\nfrom = \"part.battery\"\nduty = \"cranking\"\nload = \"500 A\"\n[circuit.b]\nlike = \"circuit.a\"\nduty = \"continuous\"\ndrop-limit = \"4 %\"\n[circuit.c]\nlike = \"circuit.b\"\ndrop-limit = \"20 %\"\n[circuit.d]\nlike = \"circuit.c\"\ncritical = true\n")
	limit := map[string]float64{}
	for _, r := range lint.Check(b, []*lint.Pack{Pack}, lint.Options{AsOf: "2026-11-20"}).Results {
		if r.Rule == voltageDrop && r.Verdict != lint.NotApplicable {
			limit[r.Entry] = r.Limit.Value()
		}
	}
	require.Len(t, limit, 3)
	assert.InDelta(t, 0.04, limit["circuit.b"], 1e-12)
	assert.InDelta(t, 0.10, limit["circuit.c"], 1e-12)
	assert.InDelta(t, 0.03, limit["circuit.d"], 1e-12)
}

// A drop is shown as a share.
func TestSharesAreInPercent(t *testing.T) {
	b := bench(t, "[circuit.b]\nfrom = \"part.battery\"\nload = \"500 A\"\ngauge = \"2/0 AWG\"\ninsulation = \"SGX\"\nlength = \"60 in\"\nreturn = \"wire\"\nduty = \"continuous\"\n")
	for _, r := range lint.Check(b, []*lint.Pack{Pack}, lint.Options{AsOf: "2026-11-20"}).Results {
		if r.Rule == voltageDrop {
			n := report.NumbersOf(r, q.Style{})
			assert.Contains(t, n.Value, "%", r.Entry)
			assert.Contains(t, n.Limit, "%", r.Entry)
			assert.Contains(t, n.Off, "%", r.Entry)
		}
	}
}

// How long a fault may last is asked only where the ledger says how long; and
// the thinnest sizes say which table they take.
func TestWordsAreWhereTheyBelong(t *testing.T) {
	b := bench(t, "[circuit.a]\nfrom = \"part.battery\"\nduty = \"continuous\"\nload = \"15 A\"\nfuse = \"20 A\"\ninsulation = \"GXL\"\ngauge = \"20 AWG\"\nfault-current = \"400 A\"\n[circuit.b]\nlike = \"circuit.a\"\ngauge = \"18 AWG\"\nload = \"30 A\"\nclearing-time = \"6 s\"\n")
	says := map[string]string{}
	for _, r := range lint.Check(b, []*lint.Pack{Pack}, lint.Options{AsOf: "2026-11-20"}).Results {
		switch r.Rule {
		case ampacity, fuseProtectsWire, shortCircuit:
			says[r.Rule.Name+" "+r.Subject()] = r.Verdict.String() + " " + r.Reason
		}
	}
	const thin = "20 AWG is thinner than 33 CFR's table goes: it takes the aircraft table, for wires in bundles at 70 °C, which allows far less; 18 AWG takes 33 CFR's"
	assert.Equal(t, "fail "+thin, says["wiring/ampacity circuit.a"])
	assert.Equal(t, "fail "+thin, says["wiring/fuse-protects-wire circuit.a"])
	assert.Equal(t, "fail ", says["wiring/ampacity circuit.b"])
	assert.Equal(t, "missing ", says["wiring/short-circuit circuit.a"])
	assert.Equal(t, "not applicable no clearing time is stated", says["wiring/short-circuit circuit.a (clearing time)"])
	assert.Equal(t, "fail the formula holds for no longer", says["wiring/short-circuit circuit.b (clearing time)"])
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
