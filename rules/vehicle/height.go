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
