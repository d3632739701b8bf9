package vehicle_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/rules/packtest"
	"fishplate/rules/vehicle"
)

// By hand: 5000 lb at 30 in and a rack of 500 at 74 make 34 in, whatever is
// loaded; tires 4 in taller on one axle add 1 in, as a quarter of that.
func TestCurbHeight(t *testing.T) {
	const rack = `
[part.rack]
origin = "bought"
mass = "500 lb"
at = { behind = "60 in", above = "74 in" }

[load.roof]
mass = "300 lb"
at = { behind = "60 in", above = "90 in" }

[tire.small]
diameter = "29.0 in"

[tire.big]
diameter = "33.0 in"
`
	assert.InDelta(t, 34*inch, vehicle.CurbHeight(packtest.Build(t, base+rack)).Value(), 1e-9)
	taller := "[vehicle.rear]\ntire = \"tire.big\"\ntire-was = \"tire.small\"\n"
	assert.InDelta(t, 35*inch, vehicle.CurbHeight(packtest.Build(t, base+rack+taller)).Value(), 1e-9)
	assert.Equal(t, []string{"vehicle.cg-height"}, keys(vehicle.CurbHeight(packtest.Build(t, "[weighing.in]\nwhen = \"as-received\"\nfront = \"3000 lb\"\nrear = \"2000 lb\"\n"))))
}
