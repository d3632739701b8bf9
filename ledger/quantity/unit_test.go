package quantity

import (
	"math"
	"testing"

	other "github.com/bcicen/go-units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Printed factors of NIST SP 811 (2008), Appendix B.8. Memory marks those not
// confirmed by a look-up: products of the exact factors listed with them.
func TestUnitsAgainstSP811(t *testing.T) {
	const exact, looked, memory = 1e-15, true, false
	for _, c := range []struct {
		unit     string
		factor   float64
		within   float64
		lookedUp bool
	}{
		{"in", 0.0254, exact, memory}, {"ft", 0.3048, exact, memory}, {"yd", 0.9144, exact, memory}, {"mi", 1609.344, exact, memory},
		{"lb", 0.45359237, exact, memory}, {"oz", 0.028349523125, exact, memory},
		{"lbf", 4.4482216152605, exact, looked}, {"kgf", 9.80665, exact, memory},
		{"psi", 6894.757293168361, 1e-15, memory}, {"bar", 1e5, exact, memory},
		{"lb-ft", 1.3558179483314004, 1e-15, looked}, {"lb-in", 0.1129848290276167, 1e-15, looked},
		{"hp", 745.6998715822702, 1e-15, looked}, {"PS", 735.49875, exact, looked},
		{"BTU", 1055.05585262, exact, looked}, {"BTU/h", 0.2930710701722222, 1e-15, memory},
		{"gal", 3.785411784e-3, exact, memory}, {"qt", 0.946352946e-3, exact, memory}, {"in3", 16.387064e-6, exact, memory},
		{"cfm", 0.0004719474432, 1e-15, memory}, {"gpm", 3.785411784e-3 / 60, 1e-15, memory},
		{"mph", 0.44704, exact, memory}, {"km/h", 1 / 3.6, exact, memory},
		{"deg", 0.017453292519943295, exact, memory}, {"rpm", 0.10471975511965977, 1e-15, memory},
		{"inHg", 3386.389, exact, memory},                                     // conventional, 0 degC
		{"inH2O", 249.0889, 1e-7, memory},                                     // conventional, 4 degC; 249.08891 in the notes
		{"lb/in", 175.1268, 1e-6, memory},                                     // printed as lbf/in to 7 digits
		{"lb/ft", 1.488164, 1e-6, memory}, {"lb/gal", 119.8264, 1e-6, memory}, // printed to 7 digits
		{"ft/s2", 0.3048, exact, memory}, {"mmHg", 133.3224, exact, memory}, {"in2", 6.4516e-4, exact, memory},
	} {
		u, ok := UnitNamed(c.unit)
		require.True(t, ok, c.unit)
		assert.InEpsilon(t, c.factor, u.Factor, c.within, "%s, looked up: %v", c.unit, c.lookedUp)
	}
}

// Second opinion: github.com/bcicen/go-units v1.0.5, a general-purpose
// library. Where it disagrees it is the library that is off, for the reason
// given.
func TestUnitsAgainstLibrary(t *testing.T) {
	wrong := map[string]string{
		"bar":   "the library has 98 000 Pa; the bar is 100 000 Pa (SP 811, B.8)",
		"inH2O": "the library takes water at 60 degF, 248.84 Pa; ours is the conventional column",
	}
	for _, c := range []struct {
		unit  string
		u, si other.Unit
		scale float64 // of the library's unit in our SI unit
	}{
		{"kg", other.KiloGram, other.Gram, 1e-3}, {"g", other.Gram, other.Gram, 1e-3}, {"lb", other.Pound, other.Gram, 1e-3}, {"oz", other.Ounce, other.Gram, 1e-3},
		{"mm", other.MilliMeter, other.Meter, 1}, {"cm", other.CentiMeter, other.Meter, 1}, {"km", other.KiloMeter, other.Meter, 1}, {"um", other.MicroMeter, other.Meter, 1},
		{"in", other.Inch, other.Meter, 1}, {"ft", other.Foot, other.Meter, 1}, {"yd", other.Yard, other.Meter, 1}, {"mi", other.Mile, other.Meter, 1},
		{"L", other.Liter, other.Liter, 1e-3}, {"mL", other.MilliLiter, other.Liter, 1e-3},
		{"gal", other.FluidGallon, other.Liter, 1e-3}, {"qt", other.FluidQuart, other.Liter, 1e-3}, {"pt", other.FluidPint, other.Liter, 1e-3},
		{"s", other.Second, other.Second, 1}, {"ms", other.MilliSecond, other.Second, 1}, {"min", other.Minute, other.Second, 1}, {"h", other.Hour, other.Second, 1},
		{"W", other.Watt, other.Watt, 1}, {"kW", other.KiloWatt, other.Watt, 1},
		{"J", other.Joule, other.Joule, 1}, {"kJ", other.KiloJoule, other.Joule, 1}, {"MJ", other.MegaJoule, other.Joule, 1},
		{"Pa", other.Pascal, other.Pascal, 1}, {"kPa", other.KiloPascal, other.Pascal, 1}, {"MPa", other.MegaPascal, other.Pascal, 1}, {"GPa", other.GigaPascal, other.Pascal, 1},
		{"psi", other.Psi, other.Pascal, 1}, {"inHg", other.InHg, other.Pascal, 1}, {"mmHg", other.Torr, other.Pascal, 1},
		{"bar", other.Bar, other.Pascal, 1}, {"inH2O", other.InH2O, other.Pascal, 1},
	} {
		v := other.NewValue(1, c.si)
		if c.u.Name != c.si.Name {
			var err error
			v, err = other.ConvertFloat(1, c.u, c.si)
			require.NoError(t, err, c.unit)
		}
		u, ok := UnitNamed(c.unit)
		require.True(t, ok, c.unit)
		off := math.Abs(v.Float()*c.scale/u.Factor - 1)
		if why, known := wrong[c.unit]; known {
			assert.Greater(t, off, 1e-6, "%s: %s", c.unit, why)
			continue
		}
		assert.Less(t, off, 1e-6, c.unit)
	}
	for _, f := range []float64{-40, 32, 98.6, 212} {
		k, err := other.ConvertFloat(f, other.Fahrenheit, other.Celsius)
		require.NoError(t, err)
		u, _ := UnitNamed("degF")
		assert.InDelta(t, k.Float()+273.15, f*u.Factor+u.Offset, 1e-9)
	}
}

func TestUnitNamed(t *testing.T) {
	for s, want := range map[string]string{
		"lbs": "lb", " in  Hg ": "inHg", "N m": "N·m", "ft-lb": "lb-ft", "mm²": "mm2", "in^3": "in3", "A²*s": "A2·s", "Btu/hr": "BTU/h", "pounds/gallon": "lb/gal",
		"/in": "1/in", "1/K": "1/K", "kJ / kg / K": "kJ/kg/K", "ft/s^2": "ft/s2", "mm^4": "mm4", "": "",
	} {
		u, ok := UnitNamed(s)
		if assert.True(t, ok, s) {
			assert.Equal(t, want, u.Symbol, s)
			again, ok := UnitNamed(u.Symbol)
			require.True(t, ok)
			assert.Equal(t, u, again, "the canonical spelling is the same unit")
		}
	}
	for _, s := range []string{"furlong", "lb//gal", "lb/", "·", "N·", "degF/s", "mm22", "in23", "%2", "km4·km4·km4·km4·km4·km4", "1", "lb/1", "a/b/c/d/e", "²"} {
		_, ok := UnitNamed(s)
		assert.False(t, ok, s)
	}
}

// Every unit has one entry, and what a dimension says to write is of it.
func TestUnitTable(t *testing.T) {
	seen := map[string]bool{}
	for _, u := range units {
		assert.False(t, seen[u.Symbol], "twice: %s", u.Symbol)
		seen[u.Symbol] = true
	}
	for s := range spellings {
		assert.False(t, seen[s], "a spelling that is a symbol: %s", s)
	}
	for d, pair := range shown {
		for _, s := range []string{pair.us, pair.si} {
			u, ok := UnitNamed(s)
			require.True(t, ok, s)
			assert.Equal(t, d, u.Dim, s)
		}
	}
}
