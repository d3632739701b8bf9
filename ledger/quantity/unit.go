package quantity

import "math"

// Unit is a unit of measurement: a value in it times Factor, plus Offset, is
// the value in the coherent SI unit of Dim.
type Unit struct {
	Symbol string // the canonical spelling
	Dim    Dim
	Factor float64
	Offset float64 // of a point on a scale, in SI: 459.67/1.8 K for degF
}

// The factors are those of NIST SP 811 (2008), Appendix B.8, exact where the
// appendix prints them bold; each is written as the product of exact factors
// that defines it, which the compiler evaluates exactly and rounds once.
// Conventional columns of water and mercury are not exact; their basis is the
// conventional one (NIST SP 811, B.8: 249.0889 Pa and 3386.389 Pa an inch).
const (
	inch       = 0.0254
	foot       = 12 * inch
	mile       = 5280 * foot
	pound      = 0.45359237
	gn         = 9.80665
	poundF     = pound * gn
	usGallon   = 231 * inch * inch * inch
	turn       = 2 * math.Pi
	degree     = math.Pi / 180
	zeroC      = 273.15
	zeroF      = 459.67 / 1.8
	rankine    = 1 / 1.8
	btuIT      = 1055.05585262
	atmosphere = 101325.0
)

var units = []Unit{
	{"", Ratio, 1, 0}, {"%", Ratio, 0.01, 0}, {"pulses", Ratio, 1, 0}, {"ppm", Ratio, 1e-6, 0},
	{"kg", Mass, 1, 0}, {"g", Mass, 1e-3, 0}, {"t", Mass, 1000, 0}, {"lb", Mass, pound, 0}, {"oz", Mass, pound / 16, 0},
	{"m", Length, 1, 0}, {"mm", Length, 1e-3, 0}, {"cm", Length, 1e-2, 0}, {"km", Length, 1e3, 0}, {"um", Length, 1e-6, 0},
	{"in", Length, inch, 0}, {"ft", Length, foot, 0}, {"yd", Length, 3 * foot, 0}, {"mi", Length, mile, 0},
	{"mm2", Area, 1e-6, 0}, {"cm2", Area, 1e-4, 0}, {"m2", Area, 1, 0}, {"in2", Area, inch * inch, 0}, {"ft2", Area, foot * foot, 0},
	{"L", Volume, 1e-3, 0}, {"mL", Volume, 1e-6, 0}, {"m3", Volume, 1, 0}, {"cm3", Volume, 1e-6, 0}, {"in3", Volume, inch * inch * inch, 0},
	{"ft3", Volume, foot * foot * foot, 0}, {"gal", Volume, usGallon, 0}, {"qt", Volume, usGallon / 4, 0}, {"pt", Volume, usGallon / 8, 0},
	{"s", Time, 1, 0}, {"ms", Time, 1e-3, 0}, {"min", Time, 60, 0}, {"h", Time, 3600, 0},
	{"A", Current, 1, 0}, {"mA", Current, 1e-3, 0}, {"kA", Current, 1e3, 0}, {"Ah", Charge, 3600, 0},
	{"V", Voltage, 1, 0}, {"mV", Voltage, 1e-3, 0},
	{"ohm", Resistance, 1, 0}, {"mohm", Resistance, 1e-3, 0}, {"kohm", Resistance, 1e3, 0},
	{"W", Power, 1, 0}, {"kW", Power, 1e3, 0}, {"hp", Power, 550 * foot * poundF, 0}, {"PS", Power, 75 * gn, 0},
	{"BTU/min", Power, btuIT / 60, 0}, {"BTU/h", Power, btuIT / 3600, 0},
	{"degC", Temperature, 1, zeroC}, {"degF", Temperature, rankine, zeroF},
	{"K", TemperatureDiff, 1, 0},
	{"deg", Angle, degree, 0}, {"rad", Angle, 1, 0}, {"rev", Angle, turn, 0},
	{"rpm", AngularSpeed, turn / 60, 0}, {"Hz", Frequency, 1, 0},
	{"mph", Speed, mile / 3600, 0}, {"km/h", Speed, 1 / 3.6, 0},
	{"N", Force, 1, 0}, {"kN", Force, 1e3, 0}, {"lbf", Force, poundF, 0}, {"kgf", Force, gn, 0},
	{"N·m", Torque, 1, 0}, {"lb-ft", Torque, poundF * foot, 0}, {"lb-in", Torque, poundF * inch, 0}, {"kgf·m", Torque, gn, 0},
	{"J", Torque, 1, 0}, {"kJ", Torque, 1e3, 0}, {"MJ", Torque, 1e6, 0}, {"BTU", Torque, btuIT, 0},
	{"Pa", Pressure, 1, 0}, {"kPa", Pressure, 1e3, 0}, {"MPa", Pressure, 1e6, 0}, {"GPa", Pressure, 1e9, 0}, {"bar", Pressure, 1e5, 0}, {"mbar", Pressure, 100, 0},
	{"psi", Pressure, poundF / (inch * inch), 0}, {"inHg", Pressure, 3386.389, 0}, {"inH2O", Pressure, 249.0889, 0},
	{"mmHg", Pressure, 133.3224, 0},
	{"psia", AbsolutePressure, poundF / (inch * inch), 0}, {"kPa abs", AbsolutePressure, 1e3, 0}, {"bar abs", AbsolutePressure, 1e5, 0}, {"inHg abs", AbsolutePressure, 3386.389, 0},
	{"lb/in", SpringRate, poundF / inch, 0}, {"N/mm", SpringRate, 1e3, 0},
	{"gpm", Flow, usGallon / 60, 0}, {"gph", Flow, usGallon / 3600, 0}, {"cfm", Flow, foot * foot * foot / 60, 0},
	{"cSt", Viscosity, 1e-6, 0},
}

// kelvin is the unit of a temperature, where K alone is of a difference.
var kelvin = Unit{Symbol: "K", Dim: Temperature, Factor: 1}

// spellings maps other ways people write a unit to its symbol.
var spellings = map[string]string{
	"percent": "%", "pulse": "pulses", "lbs": "lb", "pound": "lb", "pounds": "lb", "ounce": "oz",
	"inch": "in", "inches": "in", "\"": "in", "foot": "ft", "feet": "ft", "mile": "mi", "miles": "mi", "micron": "um", "microns": "um", "µm": "um", "μm": "um",
	"mm²": "mm2", "mm^2": "mm2", "sqmm": "mm2", "cm²": "cm2", "in²": "in2", "in^2": "in2", "m²": "m2", "ft²": "ft2",
	"l": "L", "litre": "L", "liter": "L", "litres": "L", "liters": "L", "ml": "mL", "cc": "cm3", "cm³": "cm3", "in³": "in3", "m³": "m3", "cu in": "in3", "CID": "in3", "gallon": "gal", "gallons": "gal", "quart": "qt", "quarts": "qt",
	"sec": "s", "second": "s", "seconds": "s", "minute": "min", "minutes": "min", "hour": "h", "hours": "h", "hr": "h",
	"amp": "A", "amps": "A", "volt": "V", "volts": "V", "Ω": "ohm", "ohms": "ohm", "mΩ": "mohm", "milliohm": "mohm", "watt": "W", "watts": "W",
	"°C": "degC", "deg C": "degC", "degrees C": "degC", "°F": "degF", "deg F": "degF", "degrees F": "degF", "°": "deg", "degree": "deg", "degrees": "deg",
	"revs": "rev", "turn": "rev", "turns": "rev", "r/min": "rpm", "kph": "km/h", "kmh": "km/h",
	"N-m": "N·m", "Nm": "N·m", "N m": "N·m", "N*m": "N·m", "lb·ft": "lb-ft", "lb ft": "lb-ft", "lbf-ft": "lb-ft", "lbf·ft": "lb-ft", "lbf ft": "lb-ft", "ft-lb": "lb-ft", "ft·lb": "lb-ft", "ft lb": "lb-ft",
	"lb·in": "lb-in", "lb in": "lb-in", "lbf-in": "lb-in", "lbf in": "lb-in", "in-lb": "lb-in", "kgf m": "kgf·m", "kgf-m": "kgf·m",
	"psig": "psi", "kPa gauge": "kPa", "bar gauge": "bar", "in Hg": "inHg", "in H2O": "inH2O", "\"Hg": "inHg", "inHg vacuum": "inHg", "kPa(abs)": "kPa abs", "kPaa": "kPa abs",
	"lbf/in": "lb/in", "gal/min": "gpm", "gal/h": "gph", "ft3/min": "cfm", "mm2/s": "cSt", "mm²/s": "cSt", "Btu": "BTU", "Btu/h": "BTU/h", "Btu/min": "BTU/min", "BTU/hr": "BTU/h",
	"metric hp": "PS", "tonne": "t",
}

var unitBySymbol = func() map[string]*Unit {
	m := make(map[string]*Unit, len(units)+len(spellings))
	for i := range units {
		m[units[i].Symbol] = &units[i]
	}
	for s, to := range spellings {
		u, ok := m[to]
		if !ok {
			panic("no unit " + to)
		}
		m[s] = u
	}
	return m
}()
