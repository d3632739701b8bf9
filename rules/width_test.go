package rules_test

import (
	"fmt"
	"hash/fnv"
	"maps"
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules"
	"fishplate/rules/packtest"
)

// exampleBuilds are the ledgers of the examples.
var exampleBuilds = []string{"../examples/tamarack/builds/marten", "../examples/tamarack/builds/heron", winch + "before", winch + "after"}

// figures calls visit with every figure that the checks of a build print.
func figures(b *ledger.Build, visit func(r *lint.Result, what string, v q.Quantity)) {
	for _, r := range lint.Check(b, rules.Packs(), lint.Options{AsOf: "2026-11-20"}).Results {
		if !r.Numeric() || !r.Margin.Known() {
			continue
		}
		for _, f := range []struct {
			what string
			v    q.Quantity
		}{{"value", r.Value}, {"limit", r.Limit}, {"margin", r.Margin}} {
			visit(r, f.what, f.v)
		}
	}
}

// mostWide is how many times as wide as its true range a figure may be.
const mostWide = 1.02

// TestWidth: the interval of every figure of every check holds its true range
// and is at most mostWide times as wide, as the examples are and with other tolerances
// up to 10 %. The true range is sought from inside: at points only, by
// climbing along one leaf after the other from many starts.
func TestWidth(t *testing.T) {
	if testing.Short() {
		t.Skip("minutes of optimisation")
	}
	seen, worst := 0, 1.0
	for _, folder := range exampleBuilds {
		figures(packtest.Load(t, folder), func(r *lint.Result, what string, v q.Quantity) {
			name := fmt.Sprintf("%s: %s %s, %s", filepath.Base(folder), r.Rule.Name, r.Subject(), what)
			rnd := rand.New(rand.NewPCG(8, hashOf(name))) // a figure's own, whatever others there are
			for _, loose := range []float64{0, 0.02, 0.1} {
				w := v
				if loose > 0 {
					if r.Rule.Name == "wiring/allowable" { // hundreds alike
						continue
					}
					w = loosened(rnd, v, loose)
				}
				if !w.Known() {
					continue
				}
				seen++
				worst = max(worst, width(t, rnd, fmt.Sprintf("%s, %g", name, loose), w))
			}
		})
	}
	t.Logf("%d figures, the widest %.4f times its true range", seen, worst)
	assert.Greater(t, seen, 3000)
}

func hashOf(name string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(name))
	return h.Sum64()
}

// TestSharesOfDoubt: what the entries contribute to the doubt of a figure adds up
// to half the width that is shown, assumed values and cited constants counted too.
func TestSharesOfDoubt(t *testing.T) {
	seen := 0
	for _, folder := range exampleBuilds {
		figures(packtest.Load(t, folder), func(r *lint.Result, what string, v q.Quantity) {
			a := r.Analysis(v)
			low, high := a.Bounds()
			if math.IsInf(high-low, 0) || high == low {
				return
			}
			seen++
			sum := 0.0
			for _, s := range a.Shares() {
				sum += s.OfDoubt
			}
			assert.InEpsilon(t, (high-low)/2, sum, 1e-9, "%s: %s %s, %s", folder, r.Rule.Name, r.Subject(), what)
		})
	}
	assert.Greater(t, seen, 500)
}

// loosened is a value with other tolerances on what has one, up to a share of
// what is written.
func loosened(rnd *rand.Rand, v q.Quantity, most float64) q.Quantity {
	put := map[*q.Source]q.Reading{}
	for _, l := range v.Leaves() {
		r, ok := l.Reading()
		if !ok || r.Low == r.High || l.Source().Entry == "" {
			continue
		}
		half := most * rnd.Float64() * math.Abs(r.Value-r.Unit.Offset)
		r.Low, r.High = r.Value-half, r.Value+half
		put[l.Source()] = r
	}
	return v.Put(put)
}

// width compares an interval with the true range, and gives how many times as
// wide it is.
func width(t *testing.T, rnd *rand.Rand, name string, v q.Quantity) float64 {
	c := climber{a: q.Analyze(v), at: map[*q.Source]float64{}, rnd: rnd}
	size := math.Abs(v.Value())
	for _, l := range v.Leaves() {
		r, ok := l.Reading()
		if ok && r.Low < r.High {
			c.leaves, c.low, c.high = append(c.leaves, l.Source()), append(c.low, r.Low), append(c.high, r.High)
		}
	}
	low, high := c.a.Bounds()
	if len(c.leaves) == 0 || high-low <= 1e-9*size {
		return 1
	}
	least, most := -c.climb(-1, (high-low)/500, -low), c.climb(1, (high-low)/500, high)
	slack := 1e-9 * max(size, high-low)
	assert.True(t, low <= least+slack && high >= most-slack, "%s: [%v, %v] does not hold [%v, %v]", name, low, high, least, most)
	wide := (high - low) / (most - least)
	assert.LessOrEqual(t, wide, mostWide, "%s: [%v, %v] for [%v, %v]", name, low, high, least, most)
	return wide
}

// climber seeks the most of sign times a value over the boxes of its leaves.
type climber struct {
	a         *q.Analysis
	leaves    []*q.Source
	low, high []float64
	at        map[*q.Source]float64
	rnd       *rand.Rand
}

// climb gives up early once it is as near as that to what there can be at most.
func (c *climber) climb(sign, near, most float64) float64 {
	best := math.Inf(-1)
	starts := 4
	if len(c.leaves) <= 12 {
		starts = 40
	}
	for start := range starts {
		for i, l := range c.leaves {
			switch c.at[l] = c.low[i] + (c.high[i]-c.low[i])*c.rnd.Float64(); {
			case start == 0:
				c.at[l] = c.low[i]/2 + c.high[i]/2
			case start%3 == 1:
				c.at[l] = []float64{c.low[i], c.high[i]}[c.rnd.IntN(2)]
			}
		}
		if start == 1 {
			c.bestCorner(sign)
		}
		best = max(best, c.ascend(sign, most-near))
		if best >= most-near {
			break
		}
	}
	return best
}

// bestCorner goes to the best of many corners: on a plateau there is nothing to
// climb.
func (c *climber) bestCorner(sign float64) {
	best, at := math.Inf(-1), maps.Clone(c.at)
	for range 1000 {
		for i, l := range c.leaves {
			c.at[l] = []float64{c.low[i], c.high[i]}[c.rnd.IntN(2)]
		}
		if v := c.value(sign); v > best {
			best, at = v, maps.Clone(c.at)
		}
	}
	c.at = at
}

// value is sign times the value where the leaves are.
func (c *climber) value(sign float64) float64 {
	if v := sign * c.a.At(c.at); !math.IsNaN(v) {
		return v
	}
	return math.Inf(-1)
}

// ascend climbs along one leaf after the other, then along two at a time: on a
// ridge, as of the least of two values, one has to make up for the other.
func (c *climber) ascend(sign, enough float64) float64 {
	now := c.value(sign)
	for range 30 {
		before := now
		for i, l := range c.leaves {
			old := c.at[l]
			to, w := old, c.high[i]-c.low[i]
			for _, x := range []float64{c.low[i], c.high[i], old - w/7, old + w/7, old - w/60, old + w/60, old - w/500, old + w/500} {
				c.at[l] = min(max(x, c.low[i]), c.high[i])
				if v := c.value(sign); v > now {
					now, to = v, c.at[l]
				}
			}
			c.at[l] = to
		}
		if now <= before {
			break
		}
	}
	for range 3000 {
		if now >= enough {
			break
		}
		i, j, far := c.rnd.IntN(len(c.leaves)), c.rnd.IntN(len(c.leaves)), math.Exp(-6*c.rnd.Float64())
		k, l := c.leaves[i], c.leaves[j]
		x, y := c.at[k], c.at[l]
		c.at[k] = min(max(x+far*(c.high[i]-c.low[i])*(2*c.rnd.Float64()-1), c.low[i]), c.high[i])
		c.at[l] = min(max(c.at[l]+far*(c.high[j]-c.low[j])*(2*c.rnd.Float64()-1), c.low[j]), c.high[j])
		if v := c.value(sign); v > now {
			now = v
		} else {
			c.at[l] = y
			c.at[k] = x
		}
	}
	return now
}
