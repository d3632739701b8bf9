package brakes

import q "fishplate/ledger/quantity"

// FrontLocksAt is the deceleration at which the front wheels lock:
//
//	a_f = mu g (W_f/W) / (p - mu h/L)
//
// mu friction of tire on road, g standard gravity, W_f what stands on the front
// axle at rest, W the whole, p the front brakes' share of the braking, h height of
// the center of gravity, L wheelbase: the braking p W a reaches mu times the load
// (W_f g + W a h/L), for braking takes W a h/L off the rear axle and puts it on the
// front one, whichever wheels brake. With p = 1 only the front wheels brake, and
// a_f is the best that they can do. It holds for p above mu h/L; below, the front
// wheels never lock. Left out: the dive of the springs, slopes, and what shifts in a
// tank or a load. T. Bevan, The Theory of Machines, ch. 8, Example 6.
func FrontLocksAt(mu, gravity, front, total, share, h, wheelbase q.Quantity) q.Quantity {
	return mu.Mul(gravity).Mul(front.Div(total)).Div(share.Sub(mu.Mul(h).Div(wheelbase)))
}

// RearLocksAt is the deceleration at which the rear wheels lock:
//
//	a_r = mu g (W_r/W) / (p + mu h/L)
//
// W_r what stands on the rear axle at rest, p the rear brakes' share of the
// braking, the rest as for FrontLocksAt.
func RearLocksAt(mu, gravity, rear, total, share, h, wheelbase q.Quantity) q.Quantity {
	return mu.Mul(gravity).Mul(rear.Div(total)).Div(share.Add(mu.Mul(h).Div(wheelbase)))
}

// FirstLocksAt is the deceleration at which the first of the wheels lock:
//
//	a = min(a_f, a_r, mu g)
//
// by FrontLocksAt and RearLocksAt. It is never more than mu g, at which all lock
// together, for (p - mu h/L) a_f + (p_r + mu h/L) a_r = mu g and the two factors
// sum to 1: that is said so that the doubt of each does not add up beyond it.
func FirstLocksAt(front, rear, mu, gravity q.Quantity) q.Quantity {
	return q.Min(front, rear, mu.Mul(gravity))
}

// BrakeShare is an axle's share of the braking:
//
//	p = F / (F + F')
//
// F its braking force, F' the other axle's, at one pedal effort.
func BrakeShare(force, other q.Quantity) q.Quantity { return force.Div(force.Add(other)) }

// BrakeForce is what a brake torque comes to at the road:
//
//	F = 2 T / D
//
// T torque of the axle's brakes, D the tires' diameter: taller tires brake less
// by as much. Left out: that a loaded tire rolls on a little less than D/2.
func BrakeForce(torque, diameter q.Quantity) q.Quantity { return torque.Times(2).Div(diameter) }

// StopDeceleration is the mean deceleration of a stop:
//
//	a = v^2 / (2 d)
//
// v speed at the start, d the way. Left out: the time until the brakes bite. Bevan,
// as for FrontLocksAt.
func StopDeceleration(v, d q.Quantity) q.Quantity { return q.Pow(v, 2).Div(d.Times(2)) }

// FromSpeed turns a stopping distance from one speed, at one weight, into that
// from another:
//
//	d' = V t + (d - v t) (V/v)^2 r
//
// d distance from v, V the other speed, t the time from the pedal's first
// movement until the brakes bite, r how many times as heavy: brakes that pull as
// hard stop it in so many times the way. Braking goes with the square of speed, the
// way rolled in that time only with speed: by the square alone, a test from a
// higher speed looks better than it was. At v = V the time drops out. Left out:
// that brakes fade from high speed. The mechanics of StopDeceleration.
func FromSpeed(d, v, other, t, heavier q.Quantity) q.Quantity {
	return other.Mul(t).Add(d.Sub(v.Mul(t)).Mul(q.Pow(other.Div(v), 2)).Mul(heavier))
}

// GradePull is what pulls a vehicle down a grade:
//
//	F = m g sin(atan G)
//
// G the grade, rise over run: at 20 % it is 0.1961 of the weight and not 0.2.
// Left out: rolling resistance. 49 CFR 571.135 S7.12 asks it of a parking brake.
func GradePull(m, gravity, grade q.Quantity) q.Quantity {
	return m.Mul(gravity).Mul(q.Sin(q.Atan(grade)))
}

// GradeHeld is the grade on which a force holds a vehicle, GradePull turned
// round:
//
//	G = tan(asin(F / (m g)))
func GradeHeld(force, m, gravity q.Quantity) q.Quantity {
	return q.Tan(q.Asin(force.Div(m.Mul(gravity))))
}

// TurnsAt is the braking, as a share of g, at which the order of locking turns:
//
//	z = (p - W_f/W) L / h
//
// p the front brakes' share of the braking, W_f/W the front axle's share of the
// weight at rest, L wheelbase, h height of the center of gravity. Below it the
// front wheels use more of the road's grip than the rear ones and lock first,
// above it the rear ones do: there both use as much, p = W_f/W + z h/L. A front
// heavier at rest lowers it, and so does a vehicle that stands taller. Left out:
// valves that change p with the pressure, and the springs. Directive 71/320/EEC,
// Annex II; Yu Zhisheng, Automobile Theory, ch. 4.
func TurnsAt(share, front, total, wheelbase, h q.Quantity) q.Quantity {
	return share.Sub(front.Div(total)).Mul(wheelbase).Div(h)
}

// BrakesForWeight is how many times as heavy a vehicle is as when it was tested;
// 1 where it was no lighter than a share of that:
//
//	r = W / w where w < s W, else 1
//
// W loaded, w tested, s the share that is near enough.
func BrakesForWeight(loaded, tested, share q.Quantity) q.Quantity {
	return q.Below(tested, share.Mul(loaded), loaded.Div(tested), q.Number(1))
}
