package quantity

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func read(t *testing.T, text string, dim Dim) Quantity {
	r, err := Parse(text, dim, Options{})
	require.NoError(t, err, text)
	return Leaf(r, &Source{Entry: "part.a", Key: "k"})
}

// Two digits of the tolerance, the value to the same place (JCGM 100, 7.2.6);
// thousands set off from five digits up (NIST SP 811, 10.5.3, with commas).
func TestFormat(t *testing.T) {
	for _, c := range []struct {
		text   string
		dim    Dim
		us, si string
	}{
		{"2104 ± 12 lb", Mass, "2104 ± 12 lb", "954.4 ± 5.4 kg"},
		{"12104 ± 12 lb", Mass, "12,104 ± 12 lb", "5490.3 ± 5.4 kg"},
		{"612 lb", Mass, "612.0 ± 0.5 lb", "277.60 ± 0.23 kg"},
		{"195 ± 5 degF", Temperature, "195 ± 5 °F", "90.6 ± 2.8 °C"},
		{"18 ± 1 degF", TemperatureDiff, "18 ± 1 °F", "10.00 ± 0.56 K"},
		{"3 ± 0.5 deg", Angle, "3.0 ± 0.5 °", "3.0 ± 0.5 °"},
		{"3.25 ± 1 in", Length, "3.3 ± 1.0 in", "83 ± 25 mm"},
		{"1.375 ± 0.19 in", Length, "1.38 ± 0.19 in", "34.9 ± 4.8 mm"},
		{"-3.25 ± 1 in", Length, "-3.3 ± 1.0 in", "-83 ± 25 mm"},
		{"12.6 ± 0.1 V", Voltage, "12.6 ± 0.1 V", "12.6 ± 0.1 V"},
		{"2 % ± 0.5 %", Ratio, "2.0 % ± 0.5 %", "2.0 % ± 0.5 %"},
		{"0 ± 5 lb", Mass, "0 ± 5 lb", "0.0 ± 2.3 kg"},
		{"-0.01 ± 5 lb", Mass, "0 ± 5 lb", "0.0 ± 2.3 kg"},
		{"1.724e-8 ± 1e-10 ohm·m", Resistivity, "1.724e-08 ± 1.0e-10 ohm·m", "1.724e-08 ± 1.0e-10 ohm·m"},
		{"14.7 ± 0.1 psia", AbsolutePressure, "14.7 ± 0.1 psia", "101.35 ± 0.69 kPa abs"},
	} {
		q := read(t, c.text, c.dim)
		assert.Equal(t, c.us, Style{}.Format(q), c.text)
		assert.Equal(t, c.si, Style{SI: true}.Format(q), c.text)
	}
	assert.Equal(t, "0.02", Style{}.Format(SI(0.02, Ratio)))
	assert.Equal(t, "2 %", Style{}.Format(SI(0.02, Ratio), read(t, "3 %", Ratio)), "as the limit it is judged by")
	assert.Equal(t, "7, no end to its doubt", Style{}.Format(Number(7).Div(span(-1, 1, 3))))
}

// What is shown, commas aside, reads again as what was shown.
func TestFormatReadsAgain(t *testing.T) {
	for _, text := range []string{"2104 ± 12 lb", "195 ± 5 degF", "2 % ± 0.5 %", "3 ± 0.5 deg", "0.0125 ± 0.0002 in", "1.5 ± 0.2 psi", "15 ± 1 pulses/rev"} {
		u, _ := Parse(text, Any, Options{})
		for _, s := range []Style{{}, {SI: true}} {
			shown := s.Format(read(t, text, u.Unit.Dim))
			assert.Equal(t, shown, s.Format(read(t, shown, u.Unit.Dim)), text)
		}
	}
}

func TestDigits(t *testing.T) {
	for _, c := range []struct {
		v    float64
		n    int
		want string
	}{
		{0, 4, "0"}, {1234.56, 4, "1235"}, {12345.6, 4, "12,346"}, {1234567, 3, "1,234,567"}, {0.00123456, 3, "0.00123"}, {999.96, 4, "1000"}, {2.50, 4, "2.5"},
		{-12345.6, 7, "-12,345.6"}, {1e-7, 3, "1e-07"}, {2.5e10, 3, "2.5e+10"}, {1e-6, 3, "0.000001"},
	} {
		assert.Equal(t, c.want, Digits(c.v, c.n))
	}
	assert.Equal(t, "?", Digits(Quantity{}.Value(), 4))
	assert.Equal(t, 123000.0, Rounded(123456, 3))
	assert.Equal(t, 0.00123, Rounded(0.0012345, 3))
	assert.Equal(t, 0.0, Rounded(0, 3))
	assert.Equal(t, 1e-320, Rounded(1e-320, 3))
}
