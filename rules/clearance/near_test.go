package clearance

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/ledger"
)

// The nearest by the search along the vehicle is the nearest of all, and none is
// found beyond the reach.
func TestNearest(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 7))
	place := func() [3]float64 { return [3]float64{rnd.Float64() * 4, rnd.Float64(), rnd.Float64()} }
	for range 500 {
		var of []standing
		for range rnd.IntN(12) {
			of = append(of, standing{part: &ledger.Part{}, at: place(), putBy: []string{"", "one", "other"}[rnd.IntN(3)]})
		}
		slices.SortFunc(of, func(x, y standing) int {
			if x.at[0] < y.at[0] {
				return -1
			}
			return 1
		})
		p := standing{at: place(), here: true, size: rnd.Float64() / 4, putBy: "one"}
		const reach = 0.5
		least, best := math.Inf(1), (*ledger.Part)(nil)
		for _, o := range of {
			d := math.Sqrt(math.Pow(p.at[0]-o.at[0], 2) + math.Pow(p.at[1]-o.at[1], 2) + math.Pow(p.at[2]-o.at[2], 2))
			if d-p.size <= reach && d < least && (o.putBy != "one" || d <= inOne) {
				least, best = d, o.part
			}
		}
		got, apart, ok := nearest(p, of, reach)
		assert.Equal(t, best != nil, ok)
		assert.Same(t, best, got)
		if ok {
			assert.InDelta(t, least-p.size, apart, 1e-12)
		}
	}
}
