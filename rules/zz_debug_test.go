package rules_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"path/filepath"

	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/packtest"
)

func TestOne(t *testing.T) {
	want := os.Getenv("ONE")
	for _, folder := range exampleBuilds {
		figures(packtest.Load(t, folder), func(r *lint.Result, what string, v q.Quantity) {
			name := fmt.Sprintf("%s: %s %s, %s", filepath.Base(folder), r.Rule.Name, r.Subject(), what)
			rnd := rand.New(rand.NewPCG(8, hashOf(name)))
			for _, loose := range []float64{0, 0.02, 0.1} {
				w := v
				if loose > 0 {
					w = loosened(rnd, v, loose)
				}
				if !strings.Contains(fmt.Sprintf("%s, %g", name, loose), want) || !w.Known() {
				_ = 0
					continue
				}
				q.Debug = true
				fmt.Println(name, loose)
				width(t, rnd, name, 1.02, w)
				q.Debug = false
			}
		})
	}
}
