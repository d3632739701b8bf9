package rules_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/packtest"
)

// BenchmarkBounds works out the bounds of all figures as written, and with wider tolerances.
func BenchmarkBoundsOfFigures(b *testing.B) {
	for _, loose := range []float64{0, 0.1} {
		var all []q.Quantity
		for _, folder := range exampleBuilds {
			figures(packtest.Load(b, folder), func(r *lint.Result, what string, v q.Quantity) {
				if loose > 0 {
					if r.Rule.Name == "wiring/allowable" {
						return
					}
					v = loosened(rand.New(rand.NewPCG(8, hashOf(r.Rule.Name+r.Subject()+what))), v, loose)
				}
				if v.Known() {
					all = append(all, v)
				}
			})
		}
		b.Run(fmt.Sprint(loose), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				for _, v := range all {
					v.Bounds()
				}
			}
		})
	}
}
