package cooling

import (
	"math"

	"fishplate/ledger/quantity"
)

// FuelPower is the heat that the fuel burnt brings in:
//
//	P_f = m H
//
// m fuel flow (mass a time), H lower heating value. Left out: unburnt fuel.
// Rajput, Example 17.38, p. 596.
func FuelPower(flow, heating quantity.Quantity) quantity.Quantity {
	return flow.Mul(heating).As("heat of the fuel", "P_f = m H")
}

// HeatToCoolant is the part of it that goes to the coolant:
//
//	Q = s P_f
//
// s share of the fuel's heat. Rajput, same example.
func HeatToCoolant(share, fuel quantity.Quantity) quantity.Quantity {
	return share.Mul(fuel).As("heat to coolant", "Q = s P_f")
}

// CapacityRate is what a stream carries a degree: C = V rho c, with V volume
// flow, rho density and c specific heat. Incropera, ch. 11.
func CapacityRate(flow, density, heat quantity.Quantity) quantity.Quantity {
	return flow.Mul(density).Mul(heat)
}

// HeatPerDegree is what a cooler rated by its maker gives up a degree between
// inlet and air:
//
//	k = Q_r / dT_r
//
// Q_r rating, dT_r its temperature difference. With both flows as at the
// rating, effectiveness and so k are constant (Incropera, ch. 11): heat goes
// with the difference. Left out: that flows are others than at the rating.
func HeatPerDegree(rating, difference quantity.Quantity) quantity.Quantity {
	return rating.Div(difference)
}

// CrossFlow is the effectiveness of a cross-flow core, both streams unmixed:
//
//	eps = 1 - exp(NTU^0.22 (exp(-C NTU^0.78) - 1) / C)
//
// NTU = U A / C_min, C = C_min / C_max. A fit, about 1 % from the exact series.
// Incropera, eq. 11.32.
func CrossFlow(ntu, ratio quantity.Quantity) quantity.Quantity {
	inner := quantity.Exp(ratio.Mul(quantity.Pow(ntu, 0.78)).Neg()).Sub(quantity.Number(1))
	eps := quantity.Number(1).Sub(quantity.Exp(quantity.Pow(ntu, 0.22).Mul(inner).Div(ratio)))
	return eps.As("effectiveness", "eps = 1 - exp(NTU^0.22 (exp(-C NTU^0.78) - 1)/C)")
}

// CoreHeatPerDegree is what a core of known conductance gives up a degree
// between the two inlets:
//
//	k = eps(U A / C_min, C_min / C_max) C_min
//
// U A conductance, hot and cold the capacity rates of the streams. Incropera,
// ch. 11, with eq. 11.32. Left out: fouling, and air that goes round the core.
func CoreHeatPerDegree(conductance, hot, cold quantity.Quantity) quantity.Quantity {
	least := quantity.Min(hot, cold).As("smaller capacity rate", "min(C_hot, C_cold)")
	ntu := conductance.Div(least).As("number of transfer units", "NTU = UA / C_min")
	ratio := least.Div(quantity.Max(hot, cold)).As("ratio of capacity rates", "C = C_min / C_max")
	return CrossFlow(ntu, ratio).Mul(least)
}

// GivenUp is the heat that a cooler gives up:
//
//	Q = k (T_in - T_air - dT_air)
//
// k heat a degree, T_in what comes in hot, T_air the air, dT_air how far
// coolers ahead of it have warmed that. Incropera, ch. 11.
func GivenUp(perDegree, inlet, air, rise quantity.Quantity) quantity.Quantity {
	return perDegree.Mul(inlet.Sub(air).Sub(rise)).As("heat given up", "Q = k (T_in - T_air - dT_air)")
}

// WaterFraction is the mole fraction of water in a mix:
//
//	x = (1 - v) / (1 - v + v r)
//
// v glycol by volume, r moles a volume of glycol over those of water. Left out:
// that volumes shrink a little on mixing.
func WaterFraction(v, moles quantity.Quantity) quantity.Quantity {
	water := quantity.Number(1).Sub(v)
	return water.Div(water.Add(v.Mul(moles))).As("mole fraction of water", "x = (1 - v) / (1 - v + v r)")
}

// SaturationPressure is the pressure at which water boils, in Pa, at a
// temperature in K from 273.15 to 647.096:
//
//	p = 1 MPa (2 C / (-B + sqrt(B² - 4 A C)))^4
//
// with A = t² + n1 t + n2, B = n3 t² + n4 t + n5, C = n6 t² + n7 t + n8 and
// t = T + n9 / (T - n10). IAPWS-IF97, eq. 30. It works on plain numbers,
// for the line that Boiling reads is laid out from it once.
func SaturationPressure(n [11]float64, kelvin float64) float64 {
	t := kelvin + n[9]/(kelvin-n[10])
	a := t*t + n[1]*t + n[2]
	b := n[3]*t*t + n[4]*t + n[5]
	c := n[6]*t*t + n[7]*t + n[8]
	return 1e6 * math.Pow(2*c/(-b+math.Sqrt(b*b-4*a*c)), 4)
}

// Boiling is the temperature at which coolant boils, by the saturation line of
// water and Raoult's law for what is dissolved in it:
//
//	T = T_sat((p_air + p_cap) / x)
//
// p_air absolute, p_cap the cap's gauge pressure, x mole fraction of water. The
// line is read between points 1 K apart, at most 0.01 K low. Left out: that
// glycol and water are not ideal, for which see BelowIdeal.
func Boiling(line *quantity.Table, air, capGauge, x quantity.Quantity) quantity.Quantity {
	under := quantity.OnScale(quantity.FromZero(air.Add(capGauge)).Div(x)).As("vapor pressure of water at which it boils", "p = (p_air + p_cap) / x")
	return line.At(under).As("boiling point by Raoult's law", "T = T_sat(p)")
}

// BelowIdeal takes off what a glycol mix boils below Boiling, in proportion to
// the glycol:
//
//	T' = T - d v / v_half
//
// d the figure at the share v_half. Printed boiling points of 50/50 at 1 atm
// run from 106 to 108 degC; the ideal is 108.0.
func BelowIdeal(ideal, below, v, half quantity.Quantity) quantity.Quantity {
	return ideal.Sub(below.Mul(v.Div(half))).As("boiling point", "T' = T - d v / v_half")
}

// PowerShare is the share of rated power that an engine gives with its throttle
// open, at the least:
//
//	s = n / n_r, 1 at most
//
// n its speed, n_r rated speed: below rated speed a diesel's torque is no less
// than there, so power falls no faster than speed. Left out: speeds below that of
// the greatest torque, where it falls faster.
func PowerShare(speed, rated quantity.Quantity) quantity.Quantity {
	return quantity.Min(speed.Div(rated), quantity.Number(1))
}

// RiseAtFull is the top tank's rise over ambient at rated power, from a test at a
// share s of it:
//
//	dT = (T_top - T_amb) / s
//
// T_top and T_amb as measured; heat, and so the rise, goes with power where air
// and water flow as in the test. The ambient at which the top tank comes to a
// temperature T is T - dT: of the boiling point the air-to-boil temperature, of
// the hottest top tank allowed the limiting ambient. Cooling-test practice.
func RiseAtFull(top, ambient, share quantity.Quantity) quantity.Quantity {
	return top.Sub(ambient).As("rise over ambient", "T_top - T_amb").Div(share)
}

// PressureRatio is that of the compressor:
//
//	r = (p_air + p_b) / (p_air - p_r) = 1 + (p_b + p_r) / (p_air - p_r)
//
// in the second form so that p_air stands once. p_air absolute, p_b boost
// (gauge), p_r restriction ahead of it. Left out: what the cooler and its pipes
// lose after it.
func PressureRatio(air, boost, restriction quantity.Quantity) quantity.Quantity {
	made := boost.Add(restriction).Div(quantity.FromZero(air.Sub(restriction)))
	return quantity.Number(1).Add(made).As("pressure ratio", "r = (p_air + p_b) / (p_air - p_r) = 1 + (p_b + p_r) / (p_air - p_r)")
}

// CompressorOutlet is the temperature after the compressor:
//
//	T2 = T1 (1 + (r^((g-1)/g) - 1) / eta)
//
// T1 inlet, absolute; r pressure ratio, g ratio of specific heats, eta
// adiabatic efficiency. Rajput, Example 16.1, p. 525.
func CompressorOutlet(inlet, ratio, gamma, efficiency quantity.Quantity) quantity.Quantity {
	power := gamma.Sub(quantity.Number(1)).Div(gamma)
	ideal := quantity.Exp(power.Mul(quantity.Log(ratio))).As("ideal temperature ratio", "r^((g-1)/g) = exp(((g-1)/g) ln r)")
	rise := ideal.Sub(quantity.Number(1)).Div(efficiency)
	out := quantity.FromZero(inlet).Mul(quantity.Number(1).Add(rise))
	return quantity.OnScale(out).As("compressor outlet", "T2 = T1 (1 + (r^((g-1)/g) - 1) / eta)")
}

// CoolerOutlet is the temperature after a cooler:
//
//	T3 = T2 - eps (T2 - T_air) = T_air + (1 - eps) (T2 - T_air)
//
// in the second form so that T2 stands once. eps effectiveness; it is defined so
// where the charge is the smaller stream. Incropera, ch. 11.
func CoolerOutlet(inlet, effectiveness, air quantity.Quantity) quantity.Quantity {
	left := quantity.Number(1).Sub(effectiveness).Mul(inlet.Sub(air))
	return air.Add(left).As("charge-air cooler outlet", "T3 = T_air + (1 - eps) (T2 - T_air)")
}

// FourStroke is the volume that a four-stroke engine draws, as it is in the
// manifold:
//
//	V' = V n eta / 2
//
// V swept volume, n revolutions a time, eta volumetric efficiency; in in3, rpm
// and cfm it is V n eta / 3456. Algebra: one induction in two revolutions.
func FourStroke(swept, speed, efficiency quantity.Quantity) quantity.Quantity {
	inductions := quantity.Radians(speed).Times(1 / (4 * math.Pi))
	return swept.Mul(inductions).Mul(efficiency).OfAir().As("manifold air flow", "V' = V n eta / (2 rev)")
}

// FreeAir is the same air as it is outside:
//
//	V0 = V' (1 + p_b / p_air) (T_air / T_m)
//
// p_b boost (gauge), p_air the air's absolute pressure, T_m manifold temperature
// and T_air the air's, both absolute. The ideal gas.
func FreeAir(flow, boost, air, manifold, outside quantity.Quantity) quantity.Quantity {
	pressures := quantity.Number(1).Add(boost.Div(quantity.FromZero(air)))
	temperatures := quantity.FromZero(outside).Div(quantity.FromZero(manifold))
	return flow.Mul(pressures).Mul(temperatures).OfAir().As("free air flow", "V0 = V' (1 + p_b / p_air) (T_air / T_m)")
}

// AirDensity is rho = p / (R T), the ideal gas; p and T absolute.
func AirDensity(pressure, gas, temp quantity.Quantity) quantity.Quantity {
	return quantity.FromZero(pressure).Div(gas.Mul(quantity.FromZero(temp))).As("density of air", "rho = p / (R T)")
}

// MeanVelocity is that of a flow in a round bore: v = V / (pi D²/4).
func MeanVelocity(flow, bore quantity.Quantity) quantity.Quantity {
	area := bore.Mul(bore).Times(math.Pi / 4)
	return flow.Div(area).As("mean velocity", "v = V / (pi D²/4)")
}
