package cooling

import (
	"embed"

	"fishplate/ledger/quantity"
	"fishplate/rules/refdata"
)

//go:embed refdata
var files embed.FS

var data = refdata.Load("cooling", files)

var (
	saturation   = layLine(readCoefficients())
	moleRatio    = readMoleRatio()
	half         = data.Value("half-glycol")
	boreMatch    = data.Value("bore-match")
	gamma        = data.Value("ratio-of-specific-heats")
	gasConstant  = data.Value("gas-constant-of-air")
	airHeat      = data.Value("specific-heat-of-air")
	coolantHeat  = data.Value("coolant-specific-heat")
	coolantMass  = data.Value("coolant-density")
	ductVelocity = data.Value("duct-velocity")
	pumps        = rolesThat("pump")
	sources      = rolesThat("heat-source")
	exchangers   = rolesThat("exchanger")
)

// What is assumed where the ledger does not say it.
var (
	seaLevel   = assumed("sea-level", "sea level")
	belowIdeal = assumed("boils-below-ideal", "glycol mixes boil a little below Raoult's law")
	airRise    = assumed("air-warmed-by-coolers-ahead", "other coolers are in the ledger")
	lossShare  = assumed("automatic-loss-share", "a hard pull in an automatic")
	volumetric = assumed("volumetric-efficiency", "a four-stroke engine at rated speed")
	compressor = assumed("compressor-efficiency", "a small truck's turbocharger at rated power")
	unmeasured = assumed("restriction-not-measured", "not measured")
)

// assumed is an interval of the data as a default.
func assumed(key, why string) quantity.Quantity {
	v := data.Value(key)
	return quantity.AssumedValue(v.Source().Key, v.Spelling(), "assumed, "+why+": "+v.Source().Cite)
}

func readCoefficients() (n [11]float64) {
	t := data.Table("saturation")
	for i, row := range t.Rows() {
		c, _ := t.Cell(row, "n")
		n[i+1] = c.Value()
	}
	return n
}

// The saturation line is laid out from 60 to 180 degC, 20 to 1000 kPa: more than
// a cap of 30 psi and 70 % glycol make.
const firstC, lastC, zeroC = 60, 180, 273.15

func layLine(n [11]float64) *quantity.Table {
	t := &quantity.Table{Name: "the saturation line of water (" + data.Source("if97").String() + ")", XDim: quantity.AbsolutePressure, YDim: quantity.Temperature}
	for c := firstC; c <= lastC; c++ {
		kelvin := float64(c) + zeroC
		t.X = append(t.X, SaturationPressure(n, kelvin))
		t.Y = append(t.Y, kelvin)
	}
	return t
}

// readMoleRatio is moles a volume of glycol over those of water, from the masses
// in a mix of equal volumes.
func readMoleRatio() quantity.Quantity {
	share := data.Value("glycol-by-mass")
	glycol := share.Div(data.Value("glycol-molar-mass"))
	water := quantity.Number(1).Sub(share).Div(data.Value("water-molar-mass"))
	return glycol.Div(water).As("moles a volume, glycol to water", "r = (w / M_g) / ((1 - w) / M_w)")
}

func rolesThat(do string) []string {
	t := data.Table("roles")
	var out []string
	for _, r := range t.Rows() {
		if t.Word(r, do) == "yes" {
			out = append(out, r)
		}
	}
	return out
}
