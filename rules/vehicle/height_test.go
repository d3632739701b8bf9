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

// An axle that came up by 1 in and one by 3: by geometry the middle between them
// came up by 2, and what stands there with it.
func TestHeightOnItsSprings(t *testing.T) {
	const lifted = "[vehicle.front]\nride-change = \"-1 in\"\n[vehicle.rear]\nride-change = \"-3 in\"\n"
	assert.InDelta(t, 32*inch, vehicle.CurbHeight(packtest.Build(t, base+lifted)).Value(), 1e-9)
}

// The tank's 20 gal of diesel at 7.079 lb/gal (AFDC) moved back by 30 in: by moments
// that much over the wheelbase goes from the front axle to the rear, and nothing more.
func TestTankMoved(t *testing.T) {
	tank := func(at string) *vehicle.Weights {
		return vehicle.WeightsOf(packtest.Build(t, base+"levels = { \"tank.main\" = 1.0 }\n[tank.main]\nfluid = \"diesel\"\ncapacity = \"20 gal\"\n"+at))
	}
	const now = "at = { behind = \"90 in\", right = \"0 in\", above = \"20 in\" }\n"
	still := tank(now)
	moved := tank(now + "was-at = { behind = \"60 in\", right = \"0 in\", above = \"20 in\" }\n")
	const went = 20 * 7.079 * pound * 30 / 100
	assert.InDelta(t, went, moved.Rear.Curb.Value()-still.Rear.Curb.Value(), 1e-6)
	assert.InDelta(t, -went, moved.Front.Curb.Value()-still.Front.Curb.Value(), 1e-6)
	assert.InDelta(t, 0, moved.Total.Curb.Value()-still.Total.Curb.Value(), 1e-6)
}
