package paperwork

import q "fishplate/ledger/quantity"

// TighteningTorque is what a bolt is torqued to for a clamping force:
//
//	T = K d F
//
// K the nut factor (no unit), d the bolt's nominal diameter, F the force that
// the bolt clamps with. K holds friction of thread and head, and scatters by
// 30 % either way; thread pitch is in it too. T. H. Wentzell, Machine Design,
// Example 6.1, p. 120.
func TighteningTorque(k, diameter, clamp q.Quantity) q.Quantity {
	return k.Mul(diameter).Mul(clamp).As("torque for that clamping force", "K d F")
}
