package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Style is how results are shown: in US shop units or in SI.
type Style struct {
	SI  bool
	own *Unit
}

// In is the style with a check's own unit for what is of its dimension, as feet
// for a stopping distance. A micrometer or a mile is none for other lengths, and
// a share is no unit for other pure numbers.
func (s Style) In(u *Unit) Style {
	if u.Dim != Ratio && u.Symbol != "um" && u.Symbol != "mi" {
		s.own = u
	}
	return s
}

// shown lists the units that results are shown in, by dimension.
var shown = map[Dim]struct{ us, si string }{
	Mass: {"lb", "kg"}, Length: {"in", "mm"}, Area: {"in2", "mm2"}, Volume: {"gal", "L"}, Time: {"s", "s"},
	Current: {"A", "A"}, Charge: {"Ah", "Ah"}, Temperature: {"degF", "degC"}, Angle: {"deg", "deg"},
	Speed: {"mph", "km/h"}, Acceleration: {"ft/s2", "m/s2"}, AngularSpeed: {"rpm", "rpm"}, Frequency: {"Hz", "Hz"},
	Force: {"lbf", "N"}, Torque: {"lb-ft", "N·m"}, Power: {"hp", "kW"}, Pressure: {"psi", "kPa"}, AbsolutePressure: {"psia", "kPa abs"},
	SpringRate: {"lb/in", "N/mm"}, Flow: {"gpm", "L/min"}, MassFlow: {"lb/min", "kg/s"}, Density: {"lb/gal", "kg/L"}, LinearDensity: {"lb/ft", "kg/m"},
	Viscosity: {"cSt", "cSt"}, Voltage: {"V", "V"}, Resistance: {"mohm", "mohm"}, PerAngle: {"pulses/rev", "pulses/rev"}, PerLength: {"pulses/mi", "pulses/km"},
	TurnsPerLength: {"rev/mi", "rev/km"}, JouleIntegral: {"A2·s", "A2·s"}, Resistivity: {"ohm·m", "ohm·m"}, HeatPerDegree: {"W/K", "W/K"},
	SpecificEnergy: {"kJ/kg", "kJ/kg"}, SpecificHeat: {"kJ/kg/K", "kJ/kg/K"},
	Resistance.mul(Length, -1): {"mohm/ft", "mohm/m"},
	Ratio:                      {"", ""}, InverseTemp: {"1/K", "1/K"},
}

// between are units that no ledger writes, of values on the way to others; those of
// heat have a plain unit in SI.
var between = map[Dim]struct{ us, si *Unit }{
	HeatPerDegree:                 {us: &Unit{Symbol: "BTU/h/°F", Dim: HeatPerDegree, Factor: btuIT / 3600 / rankine}},
	SpecificEnergy:                {us: &Unit{Symbol: "BTU/lb", Dim: SpecificEnergy, Factor: btuIT / pound}},
	SpecificHeat:                  {us: &Unit{Symbol: "BTU/lb/°F", Dim: SpecificHeat, Factor: btuIT / pound / rankine}},
	InverseTemp:                   {us: &Unit{Symbol: "1/°F", Dim: InverseTemp, Factor: 1 / rankine}},
	angularAcceleration:           {us: radians, si: radians},
	JouleIntegral.mul(Length, -4): {us: &Unit{Symbol: "A2·s/in4", Dim: JouleIntegral.mul(Length, -4), Factor: 1 / (inch * inch * inch * inch)}, si: &Unit{Symbol: "A2·s/mm4", Dim: JouleIntegral.mul(Length, -4), Factor: 1e12}},
}

var (
	angularAcceleration = Dim{Angle: 1, Time: -2}
	radians             = &Unit{Symbol: "rad/s2", Dim: angularAcceleration, Factor: 1}
)

// Unit is the unit that a value of the quantity is shown in. A pure number
// takes % where it is a share, or is judged with one.
func (s Style) Unit(q Quantity, with ...Quantity) *Unit {
	d := q.Dim()
	if d == Ratio {
		for _, p := range append([]Quantity{q}, with...) {
			if p.node().percent {
				return unitBySymbol["%"]
			}
		}
	}
	if d == TemperatureDiff {
		if s.SI {
			return unitBySymbol["K"]
		}
		return &Unit{Symbol: "degF", Dim: d, Factor: rankine}
	}
	if d == Money {
		if u, ok := currencyUnit(q.Currency()); ok {
			return u
		}
	}
	if s.own != nil && s.own.Dim == d {
		return s.own
	}
	if o := between[d]; o.us != nil && !s.SI {
		return o.us
	} else if o.si != nil && s.SI {
		return o.si
	}
	if d == Flow && q.node().air && !s.SI {
		return unitBySymbol["cfm"]
	}
	pair, ok := shown[d]
	if !ok {
		return s.made(d)
	}
	name := pair.us
	if s.SI {
		name = pair.si
	}
	u, ok := UnitNamed(name)
	if !ok {
		panic("no unit " + name)
	}
	return u
}

// made is a unit made of the base units, for what has no name: lb·in for a
// moment of masses.
func (s Style) made(d Dim) *Unit {
	if s.SI || d.any || d.Money != 0 {
		return &Unit{Symbol: siSymbol(d), Dim: d, Factor: 1}
	}
	factor := math.Pow(pound, float64(d.Mass)) * math.Pow(inch, float64(d.Length)) * math.Pow(rankine, float64(d.Temperature))
	return &Unit{Symbol: baseUnits(d, "lb", "in", "°F"), Dim: d, Factor: factor}
}

// Number prints a value in SI as a plain number in u, to so many significant
// digits, trailing zeros after the point left out.
func (u *Unit) Number(v float64, digits int) string {
	return Digits((v-u.Offset)/u.Factor, digits)
}

// Digits prints v to so many significant digits, never in powers of ten
// between a millionth and a thousand million.
func Digits(v float64, digits int) string {
	if math.IsNaN(v) {
		return "?"
	}
	if math.IsInf(v, 0) {
		return strings.TrimPrefix(fmt.Sprintf("%vinity", v), "+")
	}
	if v == 0 {
		return "0"
	}
	e := int(math.Floor(math.Log10(math.Abs(v))))
	if e < -6 || e > 9 {
		return strconv.FormatFloat(v, 'g', digits, 64)
	}
	s := strconv.FormatFloat(v, 'f', max(0, digits-1-e), 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return Group(s)
}

// Group sets off thousands from five digits up, as handbooks print them.
func Group(s string) string {
	sign := ""
	if strings.HasPrefix(s, "-") {
		sign, s = "-", s[1:]
	}
	head, tail, dot := strings.Cut(s, ".")
	if len(head) < 5 {
		return sign + s
	}
	for i := len(head) - 3; i > 0; i -= 3 {
		head = head[:i] + "," + head[i:]
	}
	if dot {
		head += "." + tail
	}
	return sign + head
}

// Join puts a unit behind a number.
func (u *Unit) Join(number string) string {
	switch u.Symbol {
	case "":
		return number
	case "degF", "degC", "deg":
		return number + " °" + strings.TrimPrefix(u.Symbol, "deg")
	}
	return number + " " + u.Symbol
}

// Format prints a value with its tolerance to the digits that its doubt leaves
// meaning in, such as "2104 ± 12 lb".
func (s Style) Format(q Quantity, with ...Quantity) string { return s.Shown(Analyze(q), with...) }

// Shown is Format of a value whose analysis is made already.
func (s Style) Shown(a *Analysis, with ...Quantity) string {
	q := a.Of()
	if !q.Known() {
		return "not recorded"
	}
	lo, hi := a.Bounds()
	v := q.Shown()
	if v != q.Value() {
		lo, hi = withoutDust(lo, q.Value()), withoutDust(hi, q.Value())
	}
	return FormatBounds(v, lo, hi, s.Unit(q, with...))
}

// FormatBounds is Format for values already worked out, in SI.
func FormatBounds(v, lo, hi float64, u *Unit) string {
	val, tol := rounded(v, lo, hi, u, false)
	switch {
	case tol == endless:
		return u.Join(val) + ", no end to its doubt"
	case tol == "":
		return u.Join(val)
	case u.Symbol == "%":
		return u.Join(val) + " ± " + u.Join(tol)
	}
	return u.Join(val + " ± " + tol)
}

const endless = "endless"

// rounded is a value and its tolerance in u, without the unit: two digits of
// the tolerance and the value to the same place; one digit less where both end in
// a zero there and not both are asked for. A value without doubt has no tolerance.
func rounded(v, lo, hi float64, u *Unit, both bool) (val, tol string) {
	// A hair more, so that what ends in a five goes one way whatever rounding left.
	half := math.Max(hi-v, v-lo) / u.Factor * (1 + 1e-12)
	x := (v - u.Offset) / u.Factor * (1 + 1e-12)
	if !(half > 1e-9*math.Abs(x)) {
		return Digits(x, 4+boolToInt(math.Abs(x) >= 1000)), ""
	}
	if math.IsInf(half, 0) {
		return Digits(x, 4), endless
	}
	place := leadingPlace(half) - 1
	if mantissa := strconv.FormatFloat(half, 'e', 1, 64); !both && place >= -6 && half < 10 && mantissa[2] == '0' {
		if last := math.Round(x / math.Pow(10, float64(place))); math.Mod(last, 10) == 0 {
			place++
		}
	}
	format, decimals := byte('f'), max(0, -place)
	switch {
	case half >= 10:
		decimals = 0
		if to := math.Pow(10, float64(leadingPlace(half)-1)); to > 1 {
			half, x = math.Round(half/to)*to, math.Round(x/to)*to
		}
	case decimals > 6:
		format, decimals = 'e', 1
	}
	tol = Group(strconv.FormatFloat(half, format, decimals, 64))
	if format == 'e' && x != 0 {
		decimals = max(1, leadingPlace(x)-place)
	}
	val = Group(strconv.FormatFloat(x, format, decimals, 64))
	if strings.HasPrefix(val, "-") && strings.Trim(val, "-0.") == "" {
		val = val[1:]
	}
	return val, tol
}

// leadingPlace is the power of ten of the first digit of v rounded to two.
func leadingPlace(v float64) int {
	s := strconv.FormatFloat(v, 'e', 1, 64)
	place, _ := strconv.Atoi(s[strings.IndexByte(s, 'e')+1:])
	return place
}

func trim(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// SISymbol is the coherent SI unit of a dimension, as JSON names it.
func (d Dim) SISymbol() string { return siSymbol(d) }

func siSymbol(d Dim) string {
	if d.any {
		return ""
	}
	for _, known := range []struct {
		d Dim
		s string
	}{
		{Ratio, "1"}, {Mass, "kg"}, {Length, "m"}, {Area, "m2"}, {Volume, "m3"}, {Time, "s"}, {Current, "A"}, {Temperature, "K"}, {TemperatureDiff, "K"},
		{Angle, "rad"}, {Speed, "m/s"}, {Acceleration, "m/s2"}, {AngularSpeed, "rad/s"}, {Frequency, "Hz"}, {Force, "N"}, {Torque, "N·m"}, {Power, "W"},
		{Pressure, "Pa"}, {AbsolutePressure, "Pa abs"}, {SpringRate, "N/m"}, {Flow, "m3/s"}, {MassFlow, "kg/s"}, {Density, "kg/m3"}, {LinearDensity, "kg/m"},
		{Viscosity, "m2/s"}, {Voltage, "V"}, {Resistance, "ohm"}, {Resistivity, "ohm·m"}, {Charge, "C"}, {Resistance.mul(Length, -1), "ohm/m"},
	} {
		if known.d == d {
			return known.s
		}
	}
	return baseUnits(d, "kg", "m", "K")
}

// baseUnits writes a dimension as a product of base units.
func baseUnits(d Dim, mass, length, temperature string) string {
	var parts []string
	for _, p := range []struct {
		s string
		e int8
	}{{mass, d.Mass}, {length, d.Length}, {"s", d.Time}, {"A", d.Current}, {temperature, d.Temperature}, {"rad", d.Angle}, {"money", d.Money}} {
		switch {
		case p.e == 1:
			parts = append(parts, p.s)
		case p.e != 0:
			parts = append(parts, fmt.Sprintf("%s^%d", p.s, p.e))
		}
	}
	return strings.Join(parts, "·")
}
