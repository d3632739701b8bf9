package vehicle

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

// Heights are of the center of gravity above ground with every load aboard, as
// received and as it is now; m.
type Heights struct{ Was, Now q.Quantity }

type heightsKey struct{}

// HeightsOf reckons a build's heights, once. Both are with the same loads, so
// that what differs is the work.
func HeightsOf(b *ledger.Build) Heights {
	return ledger.Memo(b, heightsKey{}, func() Heights {
		m, curb := changesOf(b), curbReceived(b)
		return Heights{
			Was: center("as received", curb, m.loads),
			Now: center("now, on the old tires", curb, m.parts, m.tanks, m.loads).Add(rise(b)).As("center of gravity now", "h + rise of the vehicle"),
		}
	})
}

type curbHeightKey struct{}

// CurbHeight is the height of the center of gravity above ground as the vehicle
// is now, with every tank full and nobody aboard; m. It is reckoned once a
// build.
func CurbHeight(b *ledger.Build) q.Quantity {
	return ledger.Memo(b, curbHeightKey{}, func() q.Quantity {
		m := changesOf(b)
		return center("at curb, on the old tires", curbReceived(b), m.parts, m.tanks).Add(rise(b)).
			As("center of gravity at curb", "h + rise of the vehicle")
	})
}

// StayedHeight is the height of the center of gravity of what was on the vehicle as
// received and stays on it: the curb as received less what came off, or was moved or
// altered, at its height then; m.
func StayedHeight(b *ledger.Build) q.Quantity {
	var off []PointMass
	for _, p := range changesOf(b).parts {
		if p.Off {
			off = append(off, p)
		}
	}
	return center("of what stayed", curbReceived(b), off)
}

// center is the height of a base mass and others together.
func center(when string, base PointMass, others ...[]PointMass) q.Quantity {
	masses, moments := []q.Quantity{}, []q.Quantity{}
	for _, group := range append([][]PointMass{{base}}, others...) {
		for _, p := range group {
			masses = append(masses, p.signed(p.Mass))
			moments = append(moments, p.signed(p.Mass.Mul(p.At.Z)))
		}
	}
	moment := q.Sum(momentDim, moments...).As("moment about the ground "+when, "sum of m z")
	mass := q.Sum(q.Mass, masses...).As("mass with every load "+when, "sum of m")
	return moment.Div(mass).As("center of gravity "+when, "(sum of m z) / (sum of m)")
}

var momentDim = q.Dim{Mass: 1, Length: 1}

// curbReceived is the curb as received, as one mass at its height.
func curbReceived(b *ledger.Build) PointMass {
	return PointMass{Mass: WeightsOf(b).Total.Received, At: ledger.Point{Z: b.Vehicle().CGHeight}}
}

// rise is how far taller tires and a changed ride height lift the vehicle. All of
// it is taken to rise with the springs, the axles too, which is a little much.
func rise(b *ledger.Build) q.Quantity {
	return tireRise(b).Sub(settled(b.Front()).Add(settled(b.Rear())).Div(q.Number(2)).As("settled on its springs", "(front + rear) / 2")).
		As("rise of the vehicle", "rise of the axles - settled on its springs")
}

// settled is how far the ride height of an axle came down, as it was measured;
// none where nobody says so.
func settled(a *ledger.Axle) q.Quantity {
	return q.Choose(a.RideChanged.Given(), a.RideChanged, q.SI(0, q.Length))
}

// tireRise is how far taller tires lift the axles.
func tireRise(b *ledger.Build) q.Quantity {
	return Taller(b.Front().Tire, b.Front().TireWas, b).Add(Taller(b.Rear().Tire, b.Rear().TireWas, b)).Div(q.Number(4)).
		As("rise of the axles", "(D_f - D_f' + D_r - D_r') / 4")
}
