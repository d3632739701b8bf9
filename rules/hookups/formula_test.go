package hookups

import (
	"testing"

	"github.com/stretchr/testify/assert"

	q "fishplate/ledger/quantity"
)

func watts(w float64) q.Quantity { return q.SI(w, q.Power) }

// Common practice, no source: two heaters of 6 kW and one of 9 kW are 21 kW.
func TestTaken(t *testing.T) {
	got := Taken(q.Power, Taker{q.Number(2), watts(6000)}, Taker{q.Number(1), watts(9000)})
	assert.Equal(t, 21000.0, got.Value())
}

// Nobody takes nothing, and the order does not matter.
func TestTakenLimits(t *testing.T) {
	a, b := Taker{q.Number(1), watts(6000)}, Taker{q.Number(3), watts(250)}
	assert.Zero(t, Taken(q.Power).Value())
	assert.Equal(t, Taken(q.Power, a, b).Value(), Taken(q.Power, b, a).Value())
}
