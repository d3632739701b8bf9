package quantity

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The forms, grades and tolerances are those of the ledger's format: stated is
// good to half the last printed digit, a tape to 1/32 in or half a finer
// fraction, an estimate to 10 % unless it says otherwise.
func TestParseForms(t *testing.T) {
	const lb, in = 0.45359237, 0.0254 // NIST SP 811, B.8
	for _, c := range []struct {
		text           string
		dim            Dim
		value, lo, hi  float64 // in unit
		unit           float64
		grade          Grade
		spelling, note string
	}{
		{"612 lb", Mass, 612, 611.5, 612.5, lb, Stated, "612 lb", ""},
		{"612.0 lbs", Mass, 612, 611.95, 612.05, lb, Stated, "612.0 lb", "spelling made canonical"},
		{"1.2e3 lb", Mass, 1200, 1150, 1250, lb, Stated, "1.2e3 lb", ""},
		{"612 ± 5 lb", Mass, 612, 607, 617, lb, Measured, "612 ± 5 lb", ""},
		{"612+/-5 lb", Mass, 612, 607, 617, lb, Measured, "612 ± 5 lb", ""},
		{"612 lb ± 5", Mass, 612, 607, 617, lb, Measured, "612 ± 5 lb", ""},
		{"612 lb ± 5 pounds", Mass, 612, 607, 617, lb, Measured, "612 ± 5 lb", ""},
		{"600 lb ± 2 %", Mass, 600, 588, 612, lb, Measured, "600 lb ± 2 %", ""},
		{"600 ± 2 % lb", Mass, 600, 588, 612, lb, Measured, "600 lb ± 2 %", ""},
		{"600 ± 2% lb", Mass, 600, 588, 612, lb, Measured, "600 lb ± 2 %", ""},
		{"~600 lb", Mass, 600, 540, 660, lb, Estimate, "~600 lb", ""},
		{"~600 ± 80 lb", Mass, 600, 520, 680, lb, Estimate, "~600 ± 80 lb", ""},
		{"~ 600 lb ± 5 %", Mass, 600, 570, 630, lb, Estimate, "~600 lb ± 5 %", ""},
		{"0 to 2 lb", Mass, 1, 0, 2, lb, Estimate, "0 to 2 lb", ""},
		{"1 lb to 2 lbs", Mass, 1.5, 1, 2, lb, Estimate, "1 to 2 lb", ""},
		{"0 kg to 2 lb", Mass, 1, 0, 2, lb, Estimate, "0 kg to 2 lb", "units of their own"},
		{"3 1/2 in", Length, 3.5, 3.5 - 1.0/32, 3.5 + 1.0/32, in, Stated, "3 1/2 in", "tape"},
		{"3½\"", Length, 3.5, 3.5 - 1.0/32, 3.5 + 1.0/32, in, Stated, "3 1/2 in", ""},
		{"7/8 in", Length, 0.875, 0.875 - 1.0/32, 0.875 + 1.0/32, in, Stated, "7/8 in", ""},
		{"1/32 in", Length, 1.0 / 32, 1.0 / 64, 3.0 / 64, in, Stated, "1/32 in", "half a finer fraction"},
		{"5 ft 2 1/4 in", Length, 62.25, 62.25 - 1.0/32, 62.25 + 1.0/32, in, Stated, "5 ft 2 1/4 in", ""},
		{"5' 2\"", Length, 62, 61.5, 62.5, in, Stated, "5 ft 2 in", ""},
		{"5'2\"", Length, 62, 61.5, 62.5, in, Stated, "5 ft 2 in", ""},
		{"-5 ft 2 in", Length, -62, -62.5, -61.5, in, Stated, "-5 ft 2 in", "the sign is of all of it"},
		{"5 feet 2 inches ± 1/8 in", Length, 62, 61.875, 62.125, in, Measured, "5 ft 2 in ± 1/8 in", ""},
		{"5 ft 2 in to 6 ft 3 in", Length, 68.5, 62, 75, in, Estimate, "5 ft 2 in to 6 ft 3 in", ""},
		{"-4 1/2 in", Length, -4.5, -4.5 - 1.0/32, -4.5 + 1.0/32, in, Stated, "-4 1/2 in", "ahead of the axle"},
		{"3 1/2 ft", Length, 3.5, 3.25, 3.75, 12 * in, Stated, "3 1/2 ft", "not a tape in inches: half the fraction"},
		{"3.73 ± 0.01", Ratio, 3.73, 3.72, 3.74, 1, Measured, "3.73 ± 0.01", ""},
		{"2 %", Ratio, 2, 1.5, 2.5, 0.01, Stated, "2 %", ""},
		{"2 % ± 0.5 %", Ratio, 2, 1.5, 2.5, 0.01, Measured, "2 % ± 0.5 %", "points, not a share"},
		{"~2 %", Ratio, 2, 1.8, 2.2, 0.01, Estimate, "~2 %", ""},
		{"15 pulses/rev", PerAngle, 15, 14.5, 15.5, 0.15915494309189535, Stated, "15 pulses/rev", ""},
		{"0.00393 1/K", InverseTemp, 0.00393, 0.003925, 0.003935, 1, Stated, "0.00393 1/K", ""},
		{"4 1/K", InverseTemp, 4, 3.5, 4.5, 1, Stated, "4 1/K", "no fraction"},
		{"350 lb/in", SpringRate, 350, 349.5, 350.5, 175.12683524647637, Stated, "350 lb/in", "a force on a spring rate"},
		{"120 lb/ft", SpringRate, 120, 119.5, 120.5, 14.593902937206365, Stated, "120 lb/ft", "here too"},
		{"4 V", Voltage, 4, 3.5, 4.5, 1, Stated, "4 V", ""},
	} {
		r, err := Parse(c.text, c.dim, Options{})
		if !assert.NoError(t, err, c.text) {
			continue
		}
		assert.InEpsilon(t, c.value*c.unit, r.Value, 1e-12, c.text)
		assert.InDelta(t, c.lo*c.unit, r.Low, 1e-12*(1+math.Abs(r.Value)), c.text)
		assert.InDelta(t, c.hi*c.unit, r.High, 1e-12*(1+math.Abs(r.Value)), c.text)
		assert.Equal(t, c.grade, r.Grade, c.text)
		assert.Equal(t, c.spelling, r.Spelling, c.text)
		assert.Equal(t, c.dim, r.Unit.Dim, c.text)
	}
}

// Exact by definition: 0 degC is 273.15 K, t_C = (t_F - 32)/1.8 (NIST SP 811, B.8).
func TestParseTemperatures(t *testing.T) {
	for text, kelvins := range map[string]float64{"212 °F": 373.15, "32 degF": 273.15, "90 °C": 363.15, "-40 deg F": 233.15, "300 K": 300} {
		r, err := Parse(text, Temperature, Options{})
		require.NoError(t, err, text)
		assert.InDelta(t, kelvins, r.Value, 1e-10, text)
		assert.Equal(t, Temperature, r.Unit.Dim, text)
	}
	r, err := Parse("195 ± 9 degF", Temperature, Options{})
	require.NoError(t, err)
	assert.InDelta(t, 10, r.High-r.Low, 1e-10, "9 degrees Fahrenheit are 5 kelvins")
	r, err = Parse("18 degF", TemperatureDiff, Options{})
	require.NoError(t, err)
	assert.InDelta(t, 10, r.Value, 1e-12, "a difference has no offset")
	r, err = Parse("0 psia", AbsolutePressure, Options{})
	require.NoError(t, err)
	assert.Zero(t, r.Low, "a stated zero keeps the half of its tolerance that can be")
}

func TestParseExact(t *testing.T) {
	r, err := Parse("3 1/2 in", Length, Options{Exact: true})
	require.NoError(t, err)
	assert.True(t, r.Low == r.Value && r.High == r.Value && r.Grade == Stated)
	for _, s := range []string{"~600 lb", "612 ± 5 lb", "0 to 2 lb"} {
		_, err := Parse(s, Mass, Options{Exact: true})
		assert.ErrorContains(t, err, "is exact: leave out the tolerance", s)
	}
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct {
		text string
		dim  Dim
		opt  Options
		want string
	}{
		{"", Mass, Options{}, "empty; takes a mass, such as lb or kg"},
		{"612", Mass, Options{}, "a number without a unit; takes a mass, such as lb or kg"},
		{"612 ± 2 %", Mass, Options{}, "a number without a unit; takes a mass, such as lb or kg"},
		{"612 in", Mass, Options{}, `takes a mass, such as lb or kg; got a length ("in")`},
		{"5 psi", AbsolutePressure, Options{}, `takes an absolute pressure, such as psia or kPa abs; got a pressure ("psi")`},
		{"612 lbz", Mass, Options{}, `unknown unit "lbz"; did you mean "lb"? It takes a mass, such as lb or kg`},
		{"12 kpa", Pressure, Options{}, `unknown unit "kpa"; did you mean "kPa"? It takes a pressure, such as psi or kPa`},
		{"12 furlongs", Length, Options{}, `unknown unit "furlongs"; takes a length, such as in or mm`},
		{"heavy", Mass, Options{}, `a number and a unit; got "heavy"`},
		{"inf lb", Mass, Options{}, "a finite number"},
		{"-NaN lb", Mass, Options{}, "a finite number"},
		{"1e999 lb", Mass, Options{}, "a finite number"},
		{"1e308 km", Length, Options{}, "must be finite"},
		{"12,000 lb", Mass, Options{}, `a number with a point for decimals and no commas, as in 1.5 or 1200; got "12,000 lb"`},
		{"612 ± 5 ± 6 lb", Mass, Options{}, "two ±; one is enough"},
		{"612 ± -5 lb", Mass, Options{}, "a tolerance is not negative"},
		{"12 ± 1,5 lb", Mass, Options{}, `after the ± comes a number with a point for decimals and no commas, as in 1.5 or 1200; got "1,5 lb"`},
		{"612 ± lb", Mass, Options{}, `after the ± comes a number and a unit; got "lb"`},
		{"612 lb ± 5 kg", Mass, Options{}, "the value and its ± take the same unit; got lb and kg"},
		{"612 lb ± 5 in", Mass, Options{}, `the tolerance takes a mass, such as lb or kg; got "in"`},
		{"2 ± 0.5 %", Ratio, Options{}, `say what the % is of: "3.73 ± 0.04", or "2 % ± 0.5 %"`},
		{"2 ± 1 % percent", Ratio, Options{}, `say what the % is of: "3.73 ± 0.04", or "2 % ± 0.5 %"`},
		{"0 lb ± 2 %", Mass, Options{}, "a tolerance in % means nothing here; give it in the unit of the value"},
		{"195 degF ± 2 %", Temperature, Options{}, "a tolerance in % means nothing here; give it in the unit of the value"},
		{"12 in ± 2 %", Length, Options{Position: true}, "a tolerance in % means nothing here; give it in the unit of the value"},
		{"~0 lb", Mass, Options{}, `an estimate of a zero, a temperature or a position must say its ±, as in "~195 ± 10 degF"`},
		{"~195 degF", Temperature, Options{}, `an estimate of a zero, a temperature or a position must say its ±, as in "~195 ± 10 degF"`},
		{"~12 in", Length, Options{Position: true}, `an estimate of a zero, a temperature or a position must say its ±, as in "~195 ± 10 degF"`},
		{"2 to 1 lb", Mass, Options{}, `the lower end comes first, as in "0 to 2 lb"`},
		{"~1 to 2 lb", Mass, Options{}, `an estimate by its ends takes no ± and no ~; write "10 to 12 lb"`},
		{"1 to 2 ± 1 lb", Mass, Options{}, `an estimate by its ends takes no ± and no ~; write "10 to 12 lb"`},
		{"5 to 6 ft 2 in", Length, Options{}, `feet and inches at the upper end need a unit at the lower, as in "60 in to 5 ft 2 in"`},
		{"5 ± 1 ft 2 in", Length, Options{}, "a tolerance in feet and inches needs a unit at the value too"},
		{"5 ft 13 in", Length, Options{}, `feet and inches take whole feet and less than 12 in, as in "5 ft 2 1/4 in"`},
		{"5.5 ft 2 in", Length, Options{}, `feet and inches take whole feet and less than 12 in, as in "5 ft 2 1/4 in"`},
		{"3 3/2 in", Length, Options{}, "the fraction 3/2 after a whole number is not less than one"},
		{"3/0 in", Length, Options{}, "a fraction over zero means nothing"},
		{"-500 degF", Temperature, Options{}, "a temperature below absolute zero"},
		{"5 ± 6 psia", AbsolutePressure, Options{}, "an absolute pressure below zero"},
	} {
		_, err := Parse(c.text, c.dim, c.opt)
		assert.EqualError(t, err, c.want, c.text)
	}
}

func TestPositionWithTolerance(t *testing.T) {
	r, err := Parse("~12 ± 2 in", Length, Options{Position: true})
	require.NoError(t, err)
	assert.Equal(t, Estimate, r.Grade)
}

func TestNearUnit(t *testing.T) {
	for s, want := range map[string]string{
		"LBS": "lb", "KG": "kg", "PSI": "psi", "Kpa": "kPa", "gals": "gal", "litrs": "L", "inhg": "inHg", "ohmss": "ohm", "RPM": "rpm",
		"x": "", "qq": "", "furlong": "", "": "",
	} {
		assert.Equal(t, want, nearUnit(s, Any), s)
	}
	assert.Equal(t, "in", nearUnit("inn", Length), "of the units of its dimension first")
	assert.Equal(t, "min", nearUnit("mins", Time))
	assert.Equal(t, "kg", nearUnit("kq", Mass))
}
