package wiring

import (
	"fishplate/ledger"
	"fishplate/ledger/quantity"
)

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
	return fuseShare.Mul(rating).Mul(left).As("what the fuse carries where it is hot", "0.75 F (1 - s max(T - 25 °C, 0))")
}

// LeastDraw is the least that a starter is believed to draw when it is cold:
//
//	I = k I_w (D / D_w), half of that at 24 V
//
// I_w the least that a maker gives warm for an engine of displacement D_w, k how
// much more it is cold. What turns an engine over goes with its displacement,
// and the current with that over the voltage. Left out: compression, oil, the
// reduction of the starter. The data's sources are warm-draw and cold-draw.
func LeastDraw(displacement, volts quantity.Quantity) quantity.Quantity {
	at12 := coldOverWarm.Mul(warmDrawLeast).Mul(displacement).Div(warmDrawOf)
	return quantity.Below(volts, between12And24, at12, at12.Div(quantity.Number(2))).As("least that a starter draws, cold", "2 × 230 A × D / 7.3 L, half of it at 24 V")
}

// MeteredResistance is that of the cables to and from a starter, by the voltages
// that a meter reads over them while it cranks:
//
//	R = (U_f + U_g) / |I|
//
// U_f the drop from the battery to the starter, U_g from the engine back to it, I
// the current, which a clamp reads with either sign. Ohm's law.
func MeteredResistance(feed, ground, current quantity.Quantity) quantity.Quantity {
	return feed.Add(ground).Div(quantity.Abs(current)).As("resistance by the meter", "(U_f + U_g) / |I|")
}

// LeastLength is the least that a wire between two places can be long:
//
//	L = sqrt(x² + y² + z²) - a
//
// x, y and z the way from one to the other, a how much nearer the terminals of
// both parts may lie to each other than the places do. Plain geometry; a is
// common practice, without a source. Left out: that no wire runs straight.
func LeastLength(way ledger.Point) quantity.Quantity {
	const between = "place of b - place of a, along an axis"
	x, y, z := way.X.As("way back", between), way.Y.As("way across", between), way.Z.As("way up", between)
	straight := quantity.Hypot(quantity.Hypot(x, y), z).As("straight way between the places", "sqrt(x² + y² + z²)")
	return straight.Sub(nearerTerminals).As("least length", "straight way - how much nearer the terminals may be")
}
