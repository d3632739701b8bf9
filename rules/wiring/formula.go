package wiring

import "fishplate/ledger/quantity"

// HotFuse is the continuous load that a fuse carries in a place of temperature
// T without tiring:
//
//	I = 0.75 F (1 - s (T - 25 °C)), T no less than 25 °C
//
// F its rating, s 0.2 to 0.5 % a kelvin: a bracket, for no maker's curve of a
// road-vehicle fuse was seen. Littelfuse fuseology (electronic fuses).
func HotFuse(rating, temperature quantity.Quantity) quantity.Quantity {
	over := quantity.Max(temperature, fuseAmbient).Sub(fuseAmbient)
	left := quantity.Number(1).Sub(fuseSlope.Mul(over))
	return fuseShare.Mul(rating).Mul(left).As("what the fuse carries where it is hot", "0.75 F (1 - s (T - 25 °C))")
}
