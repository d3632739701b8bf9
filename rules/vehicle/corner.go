package vehicle

import (
	"slices"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

var (
	uneven  = assumed("unevenness-of-the-sides")
	sidewas = assumed("place-across-where-nobody-says")
)

// HeavierSide is what stands on the heavier wheel, or pair of wheels, of a loaded
// axle: half of the axle as it was weighed, give or take, unless its sides were
// weighed, and what every mass since shifts by sitting off the center line.
func HeavierSide(b *ledger.Build, a *ledger.Axle) q.Quantity {
	m, l := changesOf(b), b.Vehicle().Wheelbase
	state, front := WeightsOf(b).Of(a), a.Path() == b.Front().Path()
	weighed, base, since := b.Weighed("as-received"), state.Received, slices.Concat(m.parts, m.tanks, m.loads)
	if !m.built.Fails() {
		weighed, base, since = b.Weighed("as-built"), state.Built, slices.Concat(m.later, m.loads)
	}
	left, right := weighed.RearLeft, weighed.RearRight
	if front {
		left, right = weighed.FrontLeft, weighed.FrontRight
	}
	const half = "half of the sides' difference on the scale"
	sides := q.FirstOf(right.Sub(left).Div(q.Number(2)).As(half, "(right - left)/2"), base.Mul(uneven).Div(q.Number(2)).As(half, "W u/2"))
	var shifts []q.Quantity
	for _, p := range since {
		share := OnRear(p.Mass, p.At.X, l)
		if front {
			share = OnFront(p.Mass, p.At.X, l)
		}
		shifts = append(shifts, p.signed(SideShift(share, q.FirstOf(p.At.Y, sidewas), a.Track)))
	}
	shift := q.Sum(q.Mass, shifts...).As("shifted to the right since", "sum of m_axle y/T")
	return state.Loaded.Div(q.Number(2)).Add(q.Abs(sides.Add(shift))).As("load on the heavier side of "+a.Path(), "W/2 + |sides + shifted|")
}
