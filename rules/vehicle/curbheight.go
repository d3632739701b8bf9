package vehicle

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

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
