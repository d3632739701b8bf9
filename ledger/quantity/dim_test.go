package quantity

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func one(d Dim) Quantity { return SI(1, d) }

// Definitions of the derived SI units: NIST SP 811, table 3 and chapter 4.
func TestDimensionAlgebra(t *testing.T) {
	for _, c := range []struct {
		name string
		got  Quantity
		want Dim
	}{
		{"N = kg m/s2", one(Mass).Mul(one(Acceleration)), Force},
		{"N·m = N m", one(Force).Mul(one(Length)), Torque},
		{"Pa = N/m2", one(Force).Div(one(Area)), Pressure},
		{"W = N m/s", one(Force).Mul(one(Speed)), Power},
		{"W = V A", one(Voltage).Mul(one(Current)), Power},
		{"ohm = V/A", one(Voltage).Div(one(Current)), Resistance},
		{"C = A s", one(Current).Mul(one(Time)), Charge},
		{"ohm·m", one(Resistance).Mul(one(Area)).Div(one(Length)), Resistivity},
		{"A2·s", Pow(one(Current), 2).Mul(one(Time)), JouleIntegral},
		{"spring", one(Force).Div(one(Length)), SpringRate},
		{"flow", one(Area).Mul(one(Speed)), Flow},
		{"mass flow", one(Density).Mul(one(Flow)), MassFlow},
		{"area", Pow(one(Length), 2), Area},
		{"length", Sqrt(one(Area)), Length},
		{"per length", Pow(one(Length), -1), PerLength},
		{"arc", Arc(one(Length), one(Angle)), Length},
		{"rim speed", Arc(one(Length), one(AngularSpeed)), Speed},
		{"pulses a mile", one(PerAngle).Mul(one(TurnsPerLength)), PerLength},
		{"frequency", Radians(one(AngularSpeed)), Frequency},
		{"share of a radian", PerRadian(one(PerAngle)), Ratio},
		{"angle of an arc", InRadians(one(Length).Div(one(Length))), Angle},
		{"atan", Atan(one(Ratio)), Angle}, {"sin", Sin(one(Angle)), Ratio},
		{"T - T", one(Temperature).Sub(one(Temperature)), TemperatureDiff},
		{"T + d", one(Temperature).Add(one(TemperatureDiff)), Temperature},
		{"d + T", one(TemperatureDiff).Add(one(Temperature)), Temperature},
		{"T - d", one(Temperature).Sub(one(TemperatureDiff)), Temperature},
		{"abs - abs", one(AbsolutePressure).Sub(one(AbsolutePressure)), Pressure},
		{"abs + gauge", one(AbsolutePressure).Add(one(Pressure)), AbsolutePressure},
		{"kelvins", FromZero(one(Temperature)), TemperatureDiff},
		{"back on the scale", OnScale(FromZero(one(AbsolutePressure))), AbsolutePressure},
		{"least of points", Min(one(Temperature), one(Temperature)), Temperature},
		{"any", Quantity{}.Mul(one(Mass)), Any},
	} {
		assert.Equal(t, c.want, c.got.Dim(), c.name)
	}
}

func TestDimensionErrors(t *testing.T) {
	for name, f := range map[string]func(){
		"point + point":           func() { one(Temperature).Add(one(Temperature)) },
		"abs + abs":               func() { one(AbsolutePressure).Add(one(AbsolutePressure)) },
		"difference - point":      func() { one(TemperatureDiff).Sub(one(Temperature)) },
		"gauge - absolute":        func() { one(Pressure).Sub(one(AbsolutePressure)) },
		"min of gauge, absolute":  func() { Min(one(Pressure), one(AbsolutePressure)) },
		"max of gauge, absolute":  func() { Max(one(Pressure), one(AbsolutePressure)) },
		"choice of both":          func() { Choose(Is(true), one(Pressure), one(AbsolutePressure)) },
		"first of both":           func() { FirstOf(one(Pressure), one(AbsolutePressure)) },
		"default of another":      func() { Default(one(Mass), AssumedValue("a", "0 to 2 in", "guess")) },
		"temperature product":     func() { one(Temperature).Mul(one(Mass)) },
		"product, point second":   func() { one(Mass).Mul(one(Temperature)) },
		"temperature quotient":    func() { one(Mass).Div(one(Temperature)) },
		"temperature times":       func() { one(Temperature).Times(2) },
		"temperature squared":     func() { Pow(one(Temperature), 2) },
		"negative temperature":    func() { one(Temperature).Neg() },
		"sum of points":           func() { Sum(Temperature, one(Temperature), one(Temperature)) },
		"hypotenuse of points":    func() { Hypot(one(Temperature), one(Temperature)) },
		"root of a point":         func() { Sqrt(OnScale(one(Area))) },
		"mass + length":           func() { one(Mass).Add(one(Length)) },
		"sum of mass and length":  func() { Sum(Mass, one(Mass), one(Length)) },
		"root of a length":        func() { Sqrt(one(Length)) },
		"broken power of length":  func() { Pow(one(Length), 0.5) },
		"sin of a number":         func() { Sin(one(Ratio)) },
		"exp of an angle":         func() { Exp(one(Angle)) },
		"radians of a length":     func() { Radians(one(Length)) },
		"per radian of a length":  func() { PerRadian(one(Length)) },
		"angle of an angle":       func() { InRadians(one(Angle)) },
		"below of two dimensions": func() { Below(one(Mass), one(Length), one(Mass), one(Mass)) },
		"table of another":        func() { (&Table{Name: "t", X: []float64{0, 2}, Y: []float64{0, 2}, XDim: Mass}).At(one(Length)) },
	} {
		func() {
			defer func() {
				e, ok := recover().(DimensionError)
				assert.True(t, ok, name)
				assert.True(t, strings.HasPrefix(e.Error(), "wrong dimension: "), name)
			}()
			f()
			assert.Fail(t, "no panic", name)
		}()
	}
	defer func() { assert.Contains(t, recover(), "a product with temperature") }()
	one(Mass).Mul(one(Temperature))
}

func TestDimWords(t *testing.T) {
	for _, n := range named {
		d, ok := DimNamed(strings.ReplaceAll(n.word, " ", "-"))
		require.True(t, ok, n.word)
		assert.Equal(t, n.dim, d)
		assert.Equal(t, n.word, d.String())
		for _, s := range strings.Split(n.examples, " or ") {
			if u, ok := UnitNamed(s); n.dim != Ratio {
				require.True(t, ok, s)
				assert.Equal(t, n.dim, u.Dim, s)
			}
		}
	}
	_, ok := DimNamed("weight")
	assert.False(t, ok)
	assert.Equal(t, "an angle, such as deg", Angle.Takes())
	assert.Equal(t, "a pure number, or %", Ratio.Takes())
	assert.Equal(t, "m^4", Dim{Length: 4}.String())
	assert.Equal(t, "s·A^2", JouleIntegral.SISymbol())
}
