// Package conductor has the copper that a conductor size stands for, which rules
// and the engine ask alike. It loads no build and knows no rule.
package conductor

import (
	"embed"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"

	"fishplate/ledger/quantity"
	"fishplate/rules/refdata"
)

//go:embed refdata
var files embed.FS

var (
	data             = refdata.Load("conductor", files)
	thinnest         = data.Value("diameter-of-36-AWG")
	ratioOfDiameters = data.Value("ratio-of-diameters")
	stepsBetween     = data.Value("steps-between")
	smallestGauge    = data.Value("smallest-gauge")
)

// Sources are what the area of an AWG size rests on.
var Sources = []quantity.Citation{data.Source("b258")}

// GaugeArea is the cross-section of a solid wire of gauge number n, where 1/0
// is 0, 2/0 is -1 and so on:
//
//	d = d36 × 92^((36 - n)/39), d36 = 0.0050 in
//	A = pi/4 d²
//
// ASTM B258.
func GaugeArea(n quantity.Quantity) quantity.Quantity {
	steps := smallestGauge.Sub(n).Div(stepsBetween)
	d := thinnest.Mul(quantity.Exp(quantity.Log(ratioOfDiameters).Mul(steps))).As("wire diameter", "d36 × 92^((36 - n)/39)")
	return quantity.Pow(d, 2).Times(math.Pi/4).As("copper area", "pi/4 d²")
}

// Gauges are the names of all AWG sizes, the heaviest first.
func Gauges() []string { return gauges().names }

type known struct {
	names []string
	areas map[string]quantity.Quantity
}

var gauges = sync.OnceValue(func() (out known) {
	out.areas = map[string]quantity.Quantity{}
	for n := -3; n <= 40; n++ {
		name := strconv.Itoa(n)
		if n <= 0 {
			name = fmt.Sprintf("%d/0", 1-n)
		}
		name += " AWG"
		out.names = append(out.names, name)
		out.areas[name] = GaugeArea(quantity.Number(float64(n))).As("copper area of "+name, "pi/4 d²")
	}
	return out
})

// Area is the copper that a size stands for, as a ledger spells it: of an AWG size by
// its diameter, of a metric one what it is called by. False where it is neither. SAE
// cable of an AWG size has less.
func Area(size string) (quantity.Quantity, bool) {
	if a, ok := gauges().areas[size]; ok {
		return a, true
	}
	v, metric := strings.CutSuffix(size, " mm2")
	f, err := strconv.ParseFloat(v, 64)
	if !metric || err != nil {
		return quantity.Quantity{}, false
	}
	return quantity.SI(f*1e-6, quantity.Area), true
}
