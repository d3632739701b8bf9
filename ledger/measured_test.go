package ledger_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
)

// What a person reads with a tape, an angle gauge or a scale, and what is
// copied off a label, counted, or no number at all.
func TestMeasured(t *testing.T) {
	for path, want := range map[string]quantity.Dim{
		"gap.fan-to-core.measured": quantity.Length, "part.engine.at.behind": quantity.Length, "shaft.rear.slopes.from": quantity.Angle,
		"weighing.as-received.front": quantity.Mass, "vehicle.wheelbase": quantity.Length, "vehicle.front.track": quantity.Length, "engine.idle": quantity.AngularSpeed,
		"test.stop.readings.distance": quantity.Length,
	} {
		dim, ok := ledger.Measured(path)
		assert.True(t, ok, path)
		assert.Equal(t, want, dim, path)
	}
	for _, path := range []string{"vehicle.front.rating", "circuit.a.fuse", "part.a.count", "part.a.name", "part.a.price", "gap.a.along", "gap.a.nothing", "nothing.a.mass", "vehicle", "part.a", "gap", "build.quoted"} {
		_, ok := ledger.Measured(path)
		assert.False(t, ok, path)
	}
}
