package vehicle

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

// DragSource is the source of DragSpeed's figures.
var DragSource = data.Source("drag")

// DragSpeed is the speed at which all that the engine gives goes into pushing air,
// with no slope and no wind:
//
//	v = (2 eta P / (rho C A))^(1/3)
//
// P power, eta what the driveline lets through, rho density of the air, C drag
// coefficient, A frontal area. Left out: rolling resistance, which lowers it.
// From F = C A rho v^2 / 2 and P = F v: mechanics of fluids.
func DragSpeed(power, efficiency, air, coefficient, area q.Quantity) q.Quantity {
	unit := q.SI(1, q.Speed)
	cube := efficiency.Mul(power).Times(2).Div(air.Mul(coefficient).Mul(area))
	return q.Pow(cube.Div(q.Pow(unit, 3)), 1.0/3).Mul(unit)
}

// Fastest is the road speed that the vehicle can come to by itself: the lesser of
// the governed speed in top gear and the speed that drag allows with the least
// drag that one of its height and track has; the governed one alone where the
// ledger does not say enough for the other.
func Fastest(b *ledger.Build) q.Quantity {
	v, e := b.Vehicle(), b.Engine()
	governed := TopGearSpeed(b, e.Governed).As("road speed at governed speed", "n / (turns a mile * ratio in top gear)")
	area := data.Value("frontal-share").Mul(v.Height).Mul(q.Min(b.Front().Track, b.Rear().Track)).As("least frontal area", "0.8 H T")
	drag := DragSpeed(e.RatedPower, data.Value("greatest-driveline-efficiency"), data.Value("thin-air"), data.Value("least-drag"), area).
		As("speed that drag allows", "(2 eta P / (rho C A))^(1/3)")
	return q.Choose(drag.Given(), q.Min(governed, drag), governed).As("fastest by itself", "the lesser of governed and drag-limited speed")
}

// ShaftFastest is how fast a shaft turns at Fastest, and whether that is more than
// ShaftTopSpeed judges it at.
func ShaftFastest(b *ledger.Build, s *ledger.Shaft) (speed q.Quantity, more q.Truth) {
	v, top := Fastest(b), topToTurnAt(b)
	more = q.Is(v.Known() && top.Known() && v.Value() > top.Value() || b.IsPhantom())
	return shaftSpeedAt(b, s, v).As("shaft speed at the fastest by itself", "v * turns a mile * final drive"), more
}
