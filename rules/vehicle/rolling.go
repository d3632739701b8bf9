package vehicle

import (
	"math"

	q "fishplate/ledger/quantity"
)

// Turns is how often a rolling tire turns over a distance:
//
//	N = 1 rev / (F D)
//
// D diameter not loaded, F rolling factor. A tire rolls on less than its
// circumference: with F = pi this is the familiar 20168/D turns a mile, D in
// inches, which is about 3 % too few for a radial (F = 3.05 gives 20774/D).
// Left out: load, pressure and wear beyond what F averages. ETRTO Standards
// Manual (F from memory); mile and inch by NIST SP 811.
func Turns(diameter, factor q.Quantity) q.Quantity {
	return q.InRadians(q.Number(2 * math.Pi).Div(factor.Mul(diameter)))
}

// Rotation is how fast something turns that a wheel drives, or that drives it:
//
//	n = v N i
//
// v road speed, N turns of the tire a distance, i ratio between the two. In
// shop units rpm = 336.135 mph i / D for a circle of D inches (336.135 is
// 63360/(60 pi)). Left out: slip of tires and of a converter that is not
// locked. It is the definition of the inch and the mile.
func Rotation(speed, turns, ratio q.Quantity) q.Quantity {
	return speed.Mul(turns).Mul(ratio)
}

// RoadSpeed is the road speed at which something turns that fast:
//
//	v = n / (N i)
//
// Symbols and what is left out as for Rotation.
func RoadSpeed(rotation, turns, ratio q.Quantity) q.Quantity {
	return rotation.Div(turns.Mul(ratio))
}

// Through is the torque behind a gear:
//
//	T' = T i
//
// T torque before it, i its ratio, or the torque ratio of a converter. Left
// out: what the gears lose, so a little more than there is.
func Through(torque, ratio q.Quantity) q.Quantity { return torque.Mul(ratio) }

// SlipTorque is the axle torque at which its tires spin:
//
//	T = mu W g D/2
//
// mu friction, W loaded axle load, g standard gravity, D tire diameter not
// loaded, which makes it a few percent large; W with what pulling shifts, by PullingLoad. Mechanics.
func SlipTorque(friction, load, gravity, diameter q.Quantity) q.Quantity {
	return friction.Mul(load).Mul(gravity).Mul(diameter).Div(q.Number(2))
}

// PullingLoad is the load on the one axle that pulls at the limit of its tires:
//
//	W' = W / (1 - mu h/L)
//
// W its load at rest, mu friction, L wheelbase, h height of the center of
// gravity, taken negative for a front axle, which pulling unloads. From the pull
// mu W' g at the road and the moment that it has about the other axle's contact.
// Left out: grades, air and the springs. Mechanics (Gillespie, Fundamentals of
// Vehicle Dynamics, ch. 2, rearranged; from memory).
func PullingLoad(still, friction, h, wheelbase q.Quantity) q.Quantity {
	return still.Div(q.Number(1).Sub(friction.Mul(h).Div(wheelbase)))
}
