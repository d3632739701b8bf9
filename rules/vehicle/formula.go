package vehicle

import q "fishplate/ledger/quantity"

// OnFront is what a mass puts on the front axle, by moments about the rear one:
//
//	dW_f = m (1 - x/L)
//
// m mass, x its distance behind the front axle, L wheelbase. Ahead of the front
// axle (x < 0) it is more than m. Left out: springs, and any slope of the
// floor. R. N. Jazar, Vehicle Dynamics: Theory and Application, ch. 2.1,
// eqs 2.1-2.20; FAA-H-8083-1, Aircraft Weight and Balance Handbook.
func OnFront(m, x, wheelbase q.Quantity) q.Quantity {
	return m.Mul(q.Number(1).Sub(x.Div(wheelbase)))
}

// OnRear is what a mass puts on the rear axle, by moments about the front one:
//
//	dW_r = m x/L
//
// Symbols and source as for OnFront.
func OnRear(m, x, wheelbase q.Quantity) q.Quantity {
	return m.Mul(x.Div(wheelbase))
}

// FluidMass is the mass of a volume of fluid:
//
//	m = V rho
//
// V volume, rho density. Left out: that fluids grow when they warm.
func FluidMass(volume, density q.Quantity) q.Quantity { return volume.Mul(density) }

// CenterHeight is the height of the center of gravity of a whole made of a base
// and parts:
//
//	h = (W h0 + sum of m z) / (W + sum of m) = h0 + (sum of m (z - h0)) / (W + sum of m)
//
// W and h0 mass and height above ground of the base, m and z those of the parts;
// the moment given is that about h0, and the mass that of all. In the second form
// W stands once, and so the doubt of it and of h0 counts once.
// FAA-H-8083-1 (moments over weight).
func CenterHeight(base, moment, mass q.Quantity) q.Quantity { return base.Add(moment.Div(mass)) }

// TireDiameter is the diameter that a tire's size marking says:
//
//	D = d + 2 k S a
//
// d nominal rim diameter, S nominal section width, a nominal aspect ratio, k
// the maker's freedom in the section height (1 for the nominal diameter). Left
// out: wear, load and growth with speed. UN Regulation No. 54, paragraph 6.
func TireDiameter(rim, width, aspect, k q.Quantity) q.Quantity {
	return rim.Add(width.Mul(aspect).Mul(k).Times(2))
}

// FlotationDiameter is the diameter of a tire marked with its overall diameter,
// such as 34x10.50R17:
//
//	D = d + k (D0 - d)
//
// D0 the diameter marked, d and k as for TireDiameter.
func FlotationDiameter(marked, rim, k q.Quantity) q.Quantity {
	return rim.Add(marked.Sub(rim).Mul(k))
}

// SideShift is what a mass puts more on the right wheel of an axle, and less on
// the left, than half of its share each:
//
//	dW = m y/T
//
// m its share on the axle, y its distance right of the center line, T track. Left
// out: how springs, bars and frame share the sides' loads between the axles.
// Moments about a wheel; as for OnFront.
func SideShift(share, y, track q.Quantity) q.Quantity { return share.Mul(y.Div(track)) }
