package paperwork

import (
	"testing"

	"github.com/stretchr/testify/assert"

	q "fishplate/ledger/quantity"
	"fishplate/rules/packtest"
)

var given = packtest.Given

// poundInch is one lbf·in: the pound-force 4.4482216152605 N and the inch
// 0.0254 m (NIST SP 811).
const poundInch = 4.4482216152605 * 0.0254

// T. H. Wentzell, Machine Design, Example 6.1, p. 120: a 3/4-10 bolt of grade 5
// at 0.85 of its proof strength, 85,000 psi on 0.334 in², with K = 0.2, is
// torqued to 3619.73 lbf·in.
func TestTighteningTorque(t *testing.T) {
	clamp := given("85000 psi").Mul(given("0.334 in2")).Mul(q.Number(0.85))
	got := TighteningTorque(data.Value("nut-factor"), given("0.75 in"), clamp)
	assert.InDelta(t, 3619.73, got.Value()/poundInch, 0.01)
}

// Twice the force on half the diameter is the same torque.
func TestTighteningTorqueScales(t *testing.T) {
	k := q.Number(0.2)
	assert.InEpsilon(t, TighteningTorque(k, given("1 in"), given("1000 lbf")).Value(), TighteningTorque(k, given("0.5 in"), given("2000 lbf")).Value(), 1e-12)
}

// Each source has something that rests on it.
func TestSourcesUsed(t *testing.T) { assert.Empty(t, data.Unused()) }
