package packtest

import (
	"testing"

	"github.com/stretchr/testify/assert"

	q "fishplate/ledger/quantity"
)

// Given is a value that a worked example states.
func Given(text string) q.Quantity { return q.Cited("given", text, "the example") }

// In reads a value in the unit that the source of an example prints.
func In(t testing.TB, v q.Quantity, unit string) float64 {
	t.Helper()
	u, ok := q.UnitNamed(unit)
	assert.True(t, ok, unit)
	assert.Equal(t, u.Dim, v.Dim())
	return (v.Value() - u.Offset) / u.Factor
}
