package quantity

import (
	"fmt"
	"strings"
)

// Dim is a dimension: the exponents of the SI base quantities, with plane angle
// counted as one of them, and money as another. A point is a value with an origin of its
// own, such as a temperature on a scale or an absolute pressure: two points
// can be subtracted but not added, and a difference may be added to a point.
type Dim struct {
	Length, Mass, Time, Current, Temperature, Angle, Money int8
	Point                                                  bool
	any                                                    bool
}

// The dimensions that the ledger's keys take.
var (
	Any              = Dim{any: true}
	Ratio            = Dim{}
	Length           = Dim{Length: 1}
	Area             = Dim{Length: 2}
	Volume           = Dim{Length: 3}
	Mass             = Dim{Mass: 1}
	Time             = Dim{Time: 1}
	Current          = Dim{Current: 1}
	Charge           = Dim{Current: 1, Time: 1}
	Temperature      = Dim{Temperature: 1, Point: true}
	TemperatureDiff  = Dim{Temperature: 1}
	Angle            = Dim{Angle: 1}
	Speed            = Dim{Length: 1, Time: -1}
	Acceleration     = Dim{Length: 1, Time: -2}
	AngularSpeed     = Dim{Angle: 1, Time: -1}
	Frequency        = Dim{Time: -1}
	Force            = Dim{Mass: 1, Length: 1, Time: -2}
	Torque           = Dim{Mass: 1, Length: 2, Time: -2} // also energy
	Power            = Dim{Mass: 1, Length: 2, Time: -3}
	Pressure         = Dim{Mass: 1, Length: -1, Time: -2} // gauge, or a difference
	AbsolutePressure = Dim{Mass: 1, Length: -1, Time: -2, Point: true}
	SpringRate       = Dim{Mass: 1, Time: -2}
	Flow             = Dim{Length: 3, Time: -1}
	MassFlow         = Dim{Mass: 1, Time: -1}
	Density          = Dim{Mass: 1, Length: -3}
	LinearDensity    = Dim{Mass: 1, Length: -1}
	Viscosity        = Dim{Length: 2, Time: -1} // kinematic
	Voltage          = Dim{Mass: 1, Length: 2, Time: -3, Current: -1}
	Resistance       = Dim{Mass: 1, Length: 2, Time: -3, Current: -2}
	Resistivity      = Dim{Mass: 1, Length: 3, Time: -3, Current: -2}
	SpecificEnergy   = Dim{Length: 2, Time: -2}
	SpecificHeat     = Dim{Length: 2, Time: -2, Temperature: -1}
	PerAngle         = Dim{Angle: -1}            // pulses a revolution
	PerLength        = Dim{Length: -1}           // pulses a mile
	TurnsPerLength   = Dim{Angle: 1, Length: -1} // revolutions a mile
	JouleIntegral    = Dim{Current: 2, Time: 1}  // I squared t
	InverseTemp      = Dim{Temperature: -1}
	Money            = Dim{Money: 1} // of one currency; none is ever turned into another
	MoneyRate        = Dim{Money: 1, Time: -1}
	HeatPerDegree    = Dim{Mass: 1, Length: 2, Time: -3, Temperature: -1}
)

// named lists the dimensions by the words that messages use, each with units
// a shop would write. The first of two with equal exponents is the one printed.
var named = []struct {
	dim            Dim
	word, examples string
}{
	{Mass, "mass", "lb or kg"},
	{Length, "length", "in or mm"},
	{Area, "area", "in2 or mm2"},
	{Volume, "volume", "gal or L"},
	{Time, "time", "s or min"},
	{Current, "current", "A"},
	{Charge, "charge", "Ah"},
	{Temperature, "temperature", "degF or degC"},
	{TemperatureDiff, "temperature difference", "K"},
	{Angle, "angle", "deg"},
	{Speed, "speed", "mph or km/h"},
	{Acceleration, "acceleration", "ft/s2 or m/s2"},
	{AngularSpeed, "speed of rotation", "rpm"},
	{Frequency, "frequency", "Hz"},
	{Force, "force", "lbf or N"},
	{Torque, "torque", "lb-ft or N·m"},
	{Power, "power", "hp or kW"},
	{Pressure, "pressure", "psi or kPa"},
	{AbsolutePressure, "absolute pressure", "psia or kPa abs"},
	{SpringRate, "spring rate", "lb/in or N/mm"},
	{Flow, "flow", "gpm or L/min"},
	{MassFlow, "mass flow", "lb/min or kg/s"},
	{Density, "density", "lb/gal or kg/L"},
	{LinearDensity, "mass a length", "lb/ft or kg/m"},
	{Viscosity, "kinematic viscosity", "cSt"},
	{Voltage, "voltage", "V"},
	{Resistance, "resistance", "ohm"},
	{Resistivity, "resistivity", "ohm·m"},
	{SpecificEnergy, "specific energy", "kJ/kg"},
	{SpecificHeat, "specific heat", "kJ/kg/K"},
	{PerAngle, "count a revolution", "pulses/rev"},
	{PerLength, "count a distance", "pulses/mi"},
	{TurnsPerLength, "revolutions a distance", "rev/mi"},
	{JouleIntegral, "current squared times time", "A2·s"},
	{InverseTemp, "coefficient of temperature", "1/K"},
	{HeatPerDegree, "heat flow a degree", "W/K"},
	{Money, "sum of money", "USD or EUR"},
	{MoneyRate, "rate of pay", "USD/h"},
	{Ratio, "pure number", "a number without a unit, or %"},
}

// DimNamed finds a dimension by its word ("mass", "kinematic viscosity", with
// hyphens or spaces), for schema tags and data tables.
func DimNamed(word string) (Dim, bool) {
	word = strings.ReplaceAll(word, "-", " ")
	switch word {
	case "any":
		return Any, true
	case "ratio":
		return Ratio, true
	}
	for _, n := range named {
		if n.word == word {
			return n.dim, true
		}
	}
	return Dim{}, false
}

// String gives the dimension's word, or its exponents where it has none.
func (d Dim) String() string {
	if d.any {
		return "any dimension"
	}
	for _, n := range named {
		if n.dim == d {
			return n.word
		}
	}
	var b strings.Builder
	for _, p := range []struct {
		s string
		e int8
	}{{"m", d.Length}, {"kg", d.Mass}, {"s", d.Time}, {"A", d.Current}, {"K", d.Temperature}, {"rad", d.Angle}, {"money", d.Money}} {
		if p.e != 0 {
			fmt.Fprintf(&b, "%s^%d ", p.s, p.e)
		}
	}
	return strings.TrimSpace(b.String())
}

// Units are the units in which a shop writes the dimension; nil where it has none.
func (d Dim) Units() []string {
	for _, n := range named {
		if n.dim == d && d != Ratio {
			return strings.Split(n.examples, " or ")
		}
	}
	return nil
}

// Takes tells what to write for the dimension: "a mass, such as lb or kg".
func (d Dim) Takes() string {
	if d.any {
		return "a number with or without a unit"
	}
	for _, n := range named {
		if n.dim == d {
			if d == Ratio {
				return "a pure number, or %"
			}
			return article(n.word) + ", such as " + n.examples
		}
	}
	return article(d.String())
}

func article(word string) string {
	if word != "" && strings.ContainsRune("aeiou", rune(word[0])) {
		return "an " + word
	}
	return "a " + word
}

func (d Dim) mul(e Dim, sign int8) Dim {
	if d.any || e.any {
		return Any
	}
	if e.Point {
		d = e
	}
	if d.Point {
		panic(DimensionError(fmt.Sprintf("a product with %s, which has an origin of its own", d)))
	}
	return Dim{
		Length: d.Length + sign*e.Length, Mass: d.Mass + sign*e.Mass, Time: d.Time + sign*e.Time,
		Current: d.Current + sign*e.Current, Temperature: d.Temperature + sign*e.Temperature, Angle: d.Angle + sign*e.Angle, Money: d.Money + sign*e.Money,
	}
}

func (d Dim) times(k int8) Dim {
	if d.any {
		return Any
	}
	if d.Point {
		panic(DimensionError(fmt.Sprintf("a power of %s, which has an origin of its own", d)))
	}
	return Dim{Length: d.Length * k, Mass: d.Mass * k, Time: d.Time * k, Current: d.Current * k, Temperature: d.Temperature * k, Angle: d.Angle * k, Money: d.Money * k}
}

func (d Dim) half() (Dim, bool) {
	if d.any {
		return Any, true
	}
	if d.Point {
		return Dim{}, false
	}
	for _, e := range [...]int8{d.Length, d.Mass, d.Time, d.Current, d.Temperature, d.Angle, d.Money} {
		if e%2 != 0 {
			return Dim{}, false
		}
	}
	return Dim{Length: d.Length / 2, Mass: d.Mass / 2, Time: d.Time / 2, Current: d.Current / 2, Temperature: d.Temperature / 2, Angle: d.Angle / 2, Money: d.Money / 2}, true
}

func (d Dim) diff() Dim { d.Point = false; return d }

// DimensionError is the panic of arithmetic on dimensions that do not agree.
type DimensionError string

func (e DimensionError) Error() string { return "wrong dimension: " + string(e) }
