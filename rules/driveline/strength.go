package driveline

import (
	"math"

	q "fishplate/ledger/quantity"
)

// TubeShear is the greatest shear stress in a tube that carries a torque:
//
//	tau = 16 T D / (pi (D^4 - d^4)),  D^4 - d^4 = 4 w (D - w) (D^2 + d^2)
//
// T torque, D, d outside and inside diameter, w wall, d = D - 2 w. The second form
// stays above zero however little is known of D and w. Left out: welds, yokes,
// splines and stress that repeats. Strength of materials: Khurmi and Gupta, Machine
// Design, ch. 5.
func TubeShear(torque, outside, wall q.Quantity) q.Quantity {
	squares := q.Pow(outside, 2).Add(q.Pow(outside.Sub(wall.Times(2)), 2))
	return torque.Mul(outside).Div(wall.Mul(outside.Sub(wall)).Mul(squares)).Times(4 / math.Pi)
}

// ShearYield is the shear at which a ductile metal yields, by the energy of its
// distortion:
//
//	tau_y = S_y / sqrt 3
//
// S_y yield strength in tension: 0.577 of it. Von Mises.
func ShearYield(yield q.Quantity) q.Quantity { return yield.Times(1 / math.Sqrt(3)) }

// AxlesApart is how much faster or slower the front axle turns its shaft than
// the rear one does, as a share:
//
//	e = |n i_f / i_r - 1|
//
// n turns of the front tire for one of the rear over the same road, i_f and i_r
// the axle ratios. Left out: turns, in which the front wheels go farther.
func AxlesApart(turns, front, rear q.Quantity) q.Quantity {
	return q.Abs(turns.Mul(front.Div(rear)).Sub(q.Number(1)))
}

// MountReaction is the force at one of two mounts that react a torque about the
// line between engine and road:
//
//	F = T / b
//
// T torque out of the engine-and-transmission unit, b the mounts' spacing
// across. Statics.
func MountReaction(torque, spacing q.Quantity) q.Quantity { return torque.Div(spacing) }
