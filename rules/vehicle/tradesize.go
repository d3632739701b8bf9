package vehicle

import q "fishplate/ledger/quantity"

// TradeSize takes a figure that a label states as exact: "5/8 in" is the name of a
// hose and of the spigot made for it, and "15 psi" of a cap, and neither a reading; so
// is a governed speed.
func TradeSize(bore q.Quantity) q.Quantity {
	r, ok := bore.Reading()
	if !ok || r.Grade != q.Stated {
		return bore
	}
	r.Low, r.High = r.Value, r.Value
	return q.Leaf(r, bore.Source())
}
