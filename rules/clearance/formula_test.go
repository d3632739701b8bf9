package clearance

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	q "fishplate/ledger/quantity"
)

func inch(v float64) q.Quantity { return q.SI(v*0.0254, q.Length) }

func inches(g q.Quantity) float64 { return g.Value() / 0.0254 }

// Common practice, no source: arithmetic that anyone does on the shop floor. A
// fan 2 3/4 in from the core, an engine slid 1 1/2 in toward it, 1/4 in of
// motion: 1 in is left. A wall dimpled 3/4 in gives that back.
func TestLeft(t *testing.T) {
	towards, still := inch(1.5), inch(0)
	assert.InDelta(t, 1.0, inches(Left(inch(2.75), inch(0.25), inch(0), towards, still)), 1e-12)
	assert.InDelta(t, 1.75, inches(Left(inch(2.75), inch(0.25), inch(0.75), towards, still)), 1e-12)
}

// What moves both things alike changes nothing, and it does not matter which
// of the two moves toward the other.
func TestLeftIsRelative(t *testing.T) {
	alone := Left(inch(3), inch(0), inch(0), inch(0), inch(0))
	assert.InDelta(t, inches(alone), inches(Left(inch(3), inch(0), inch(0), inch(7), inch(7))), 1e-12)
	assert.InDelta(t, inches(Left(inch(3), inch(0), inch(0), inch(2), inch(0))), inches(Left(inch(3), inch(0), inch(0), inch(0), inch(-2))), 1e-12)
}

// The radian: an arc of one sixth of pi at radius 1 is pi/6. 3 and 4 make 5.
func TestRockMotion(t *testing.T) {
	sixth := q.SI(math.Pi/6, q.Angle)
	assert.InDelta(t, math.Pi/6, RockMotion(sixth, q.SI(1, q.Length), q.SI(0, q.Length)).Value(), 1e-12)
	assert.InDelta(t, 5*math.Pi/6, RockMotion(sixth, q.SI(3, q.Length), q.SI(-4, q.Length)).Value(), 1e-12)
}

// No point that really turns by the angle goes further than the arc, in any
// direction, and on the crankshaft line nothing moves.
func TestRockMotionEncloses(t *testing.T) {
	for deg := 0.0; deg <= 6; deg += 0.5 {
		a := deg * math.Pi / 180
		for _, p := range [][2]float64{{0, 0.5}, {0.3, 0.1}, {-0.2, 0.4}, {0.25, -0.3}} {
			y, z := p[0]*math.Cos(a)-p[1]*math.Sin(a), p[0]*math.Sin(a)+p[1]*math.Cos(a)
			m := RockMotion(q.SI(a, q.Angle), q.SI(p[0], q.Length), q.SI(p[1], q.Length)).Value()
			assert.LessOrEqual(t, math.Hypot(y-p[0], z-p[1]), m+1e-15)
		}
	}
	assert.Zero(t, RockMotion(q.SI(0.1, q.Angle), inch(0), inch(0)).Value())
}
