package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/ledger/quantity"
)

// The formula's own anchors and products, ASTM B258; the areas in circular mils
// are as NFPA 70 Chapter 9 Table 8 prints them, a second source.
func TestGaugeAreaASTMB258(t *testing.T) {
	assert.InDelta(t, 0.0050*0.0254, diameter(36), 1e-12, "36 AWG")
	assert.InDelta(t, 0.4600*0.0254, diameter(-3), 0.00005*0.0254, "4/0 AWG")
	assert.InDelta(t, 1.1229322, diameter(9)/diameter(10), 5e-8, "the step")
	for size, mils := range map[string]float64{
		"18 AWG": 1620, "16 AWG": 2580, "14 AWG": 4110, "12 AWG": 6530, "10 AWG": 10380, "8 AWG": 16510, "6 AWG": 26240, "4 AWG": 41740,
		"3 AWG": 52620, "2 AWG": 66360, "1 AWG": 83690, "1/0 AWG": 105600, "2/0 AWG": 133100, "3/0 AWG": 167800, "4/0 AWG": 211600,
	} {
		area, ok := Area(size)
		assert.True(t, ok, size)
		assert.InEpsilon(t, mils*math.Pi/4*25.4e-6*25.4e-6, area.Value(), 0.003, size)
	}
}

func diameter(n float64) float64 {
	return math.Sqrt(GaugeArea(quantity.Number(n)).Value() * 4 / math.Pi)
}

func TestArea(t *testing.T) {
	metric, ok := Area("3 mm2")
	assert.True(t, ok)
	assert.InDelta(t, 3e-6, metric.Value(), 1e-18)
	for _, no := range []string{"", "5/0 AWG", "41 AWG", "thick", "x mm2"} {
		_, ok := Area(no)
		assert.False(t, ok, no)
	}
	for i, size := range Gauges()[1:] {
		finer, _ := Area(size)
		heavier, _ := Area(Gauges()[i])
		assert.Less(t, finer.Value(), heavier.Value(), size)
	}
	assert.Empty(t, data.Unused())
}
