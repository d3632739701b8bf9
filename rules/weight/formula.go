package weight

import q "fishplate/ledger/quantity"

// Tire is the load that one tire may carry by its rating:
//
//	P' = P / k
//
// P maximum load rating for the fitment, k 1.10 for a passenger-car tire on a
// truck, van or bus, else 1. Left out: pressure below that of the rating, and
// speed above it. 49 CFR 571.120 S5.1.2.
func Tire(rating, divisor q.Quantity) q.Quantity { return rating.Div(divisor) }

// EachTire is the load on one of an axle's tires, taken to be equal:
//
//	P = W / n
//
// W axle load, n tires on it. Left out: that one side may be the heavier.
func EachTire(load, tires q.Quantity) q.Quantity { return load.Div(tires) }

// RideChange is how far a change of axle load lowers the vehicle there:
//
//	z = (W' - W) g / (2 k)
//
// W', W axle loads after and before, g standard gravity, k spring rate at one
// wheel of two. Left out: the tires' give, friction and rates that rise with
// travel. It is Hooke's law; g by NIST SP 811.
func RideChange(after, before, gravity, rate q.Quantity) q.Quantity {
	return after.Sub(before).Mul(gravity).Div(rate.Times(2))
}

// FrontShare is the front axle's share of a weight:
//
//	s = W_f / W
//
// W_f on the front axle, W on both.
func FrontShare(front, total q.Quantity) q.Quantity { return front.Div(total) }

// Stability is the static stability factor:
//
//	SSF = T / (2 h)
//
// T track, h height of the center of gravity; the sideways acceleration in g
// at which a rigid vehicle tips. Left out: springs, tires and speed. NHTSA
// rollover notices, docket NHTSA-2000-8298.
func Stability(track, height q.Quantity) q.Quantity { return track.Div(height.Times(2)) }

// Track is the mean of two axles' track widths:
//
//	T = (T_f + T_r) / 2
func Track(front, rear q.Quantity) q.Quantity { return front.Add(rear).Div(q.Number(2)) }

// SeatAllowance is what the ratings must leave for the people:
//
//	P = p n
//
// p an occupant, n designated seating positions. 49 CFR 567.4(g)(3).
func SeatAllowance(occupant, seats q.Quantity) q.Quantity { return occupant.Mul(seats) }

// AtPressure is the load that a tire carries at another pressure than that of its
// rating:
//
//	P' = P min(1, p/p_max)^n
//
// P its rating, p the pressure, p_max that of the rating, n from 0.5 (passenger
// tires by the Tire and Rim Association) to 1 (the most cautious); light-truck
// tires 0.65 to 0.7. Never more than the rating. From memory.
func AtPressure(rating, pressure, of, n q.Quantity) q.Quantity {
	share := q.Min(pressure.Div(of), q.Number(1)).As("share of its rated pressure", "min(p/p_max, 1)")
	return rating.Mul(q.Exp(n.Mul(q.Log(share))))
}
