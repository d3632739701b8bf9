package circuits

import (
	"math"

	"fishplate/ledger/quantity"
)

// CircularMils is the area of so many circular mils, each that of a circle a
// thousandth of an inch across: A = n pi/4 mil².
func CircularMils(n quantity.Quantity) quantity.Quantity {
	mil := quantity.SI(25.4e-6, quantity.Length)
	return n.Mul(quantity.Pow(mil, 2)).Times(math.Pi/4).As("copper area", "circular mils × pi/4 mil²")
}

// SolidPerLength is the resistance at 20 °C of a length of copper of area A:
//
//	r = rho / A, rho = 1.7241e-8 ohm m (100 % IACS)
//
// IEC 60028.
func SolidPerLength(area quantity.Quantity) quantity.Quantity {
	return resistivity.Div(area).As("resistance a length at 20 °C", "rho / A")
}

// StrandedPerLength is the same of a wire whose strands are laid round each
// other and so are 2 % longer than the wire: r = 1.02 rho / A. It agrees with
// the uncoated column of NFPA 70 Chapter 9 Table 8 within 1 %.
func StrandedPerLength(area quantity.Quantity) quantity.Quantity {
	return layOfStrands.Mul(resistivity).Div(area).As("resistance a length at 20 °C", "1.02 rho / A")
}

// Resistance is that of a run of length L at the temperature T:
//
//	R = r L (1 + alpha (T - 20 °C)), alpha = 0.00393 / K
//
// r is the resistance a length at 20 °C. The wire is as warm as what is about
// it: what its own current adds is left out, as are terminals and splices.
// IEC 60028.
func Resistance(perLength, length, temperature quantity.Quantity) quantity.Quantity {
	warm := quantity.Number(1).Add(coefficient.Mul(temperature.Sub(referenceTemperature)))
	return perLength.Mul(length).Mul(warm).As("resistance", "r L (1 + 0.00393 (T - 20 °C))")
}

// Drop is the voltage lost in a resistance: V = I R.
func Drop(current, resistance quantity.Quantity) quantity.Quantity {
	return current.Mul(resistance).As("drop", "I R")
}

// DropShare is the voltage lost as a share of the system's: drop / V.
func DropShare(drop, voltage quantity.Quantity) quantity.Quantity {
	return drop.Div(voltage).InPercent().As("share of the voltage lost", "drop / V")
}

// TemperatureFactor is what is left of an allowable amperage in ambient
// temperature T, where it was given at a base ambient:
//
//	sqrt((T_ins - T) / (T_ins - T_base)), 1 at most, 0 at least
//
// T_ins is the insulation's rating. It makes the heat that the current gives
// off (I² R) go with the difference in temperature that drives it out. The
// formula of NFPA 70 310.15(B); no allowance is made for a cooler place.
func TemperatureFactor(insulation, ambient, base quantity.Quantity) quantity.Quantity {
	share := insulation.Sub(ambient).Div(insulation.Sub(base))
	share = quantity.Min(quantity.Number(1), quantity.Max(quantity.Number(0), share))
	return quantity.Sqrt(share).As("temperature factor", "sqrt(min(max((T_ins - T) / (T_ins - T_base), 0), 1))")
}

// Allowable is the amperage that a size of wire may carry in ambient
// temperature T: the column of its insulation in a table given at a base
// ambient, times the temperature factor. A rating between columns takes the
// lower one, one past the last the last; one below the first has none.
func Allowable(column *quantity.Table, insulation, ambient, base quantity.Quantity) quantity.Quantity {
	last := quantity.SI(column.X[len(column.X)-1], quantity.Temperature)
	rating := quantity.Min(insulation, last).As("rating of the insulation", "min(T_ins, last column)")
	at := column.At(rating).As("allowable amperage at the table's ambient", "table's column of T_ins")
	return at.Mul(TemperatureFactor(insulation, ambient, base)).As("allowable amperage", "table's × temperature factor")
}

// KSquared is the square of the adiabatic constant of copper between the
// temperature at which a fault begins and the one it may reach:
//
//	k² = 226² ln(1 + (Tf - Ti) / (234.5 °C + Ti)) A² s / mm⁴
//
// IEC 60364-4-43 clause 434.5.2, Table 43A; for faults of up to 5 s.
func KSquared(initial, final quantity.Quantity) quantity.Quantity {
	rise := final.Sub(initial).Div(initial.Sub(inferredZero))
	k := quantity.Pow(adiabaticFactor, 2).Mul(adiabaticUnit)
	return k.Mul(quantity.Log(quantity.Number(1).Add(rise))).As("k squared", "226² ln(1 + (Tf - Ti) / (234.5 °C + Ti))")
}

// Withstand is the I² t that a copper area stands without its insulation
// passing its final temperature: k² A².
func Withstand(kSquared, area quantity.Quantity) quantity.Quantity {
	return kSquared.Mul(quantity.Pow(area, 2)).As("what the wire stands", "k² A²")
}

// LetThrough is what a fuse lets through that clears the fault current I in
// the time t: I² t.
func LetThrough(fault, clearing quantity.Quantity) quantity.Quantity {
	return quantity.Pow(fault, 2).Mul(clearing).As("what the fuse lets through", "I² t")
}

// OwnLoad is a circuit's own current: as stated, else P / V.
func OwnLoad(load, power, voltage quantity.Quantity) quantity.Quantity {
	return quantity.FirstOf(load, power.Div(voltage).As("own load", "P / V"))
}
