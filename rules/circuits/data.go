package circuits

import (
	"embed"
	"slices"
	"strings"
	"sync"

	"fishplate/ledger/quantity"
	"fishplate/rules/refdata"
	"fishplate/rules/refdata/conductor"
)

//go:embed refdata
var files embed.FS

var data = refdata.Load("circuits", files)

// The constants of the formulas.
var (
	resistivity          = data.Value("resistivity-of-copper")
	coefficient          = data.Value("temperature-coefficient")
	referenceTemperature = data.Value("reference-temperature")
	layOfStrands         = data.Value("lay-of-strands")
	adiabaticFactor      = data.Value("adiabatic-factor")
	adiabaticUnit        = data.Value("adiabatic-unit")
	inferredZero         = data.Value("inferred-zero")
)

// What the tables of amperages are given at.
var (
	baseAmbient     = data.Value("base-ambient")
	aircraftAmbient = data.Value("base-ambient-of-aircraft-wire")
	chartFuses      = data.Table("aircraft-fuse")
	chartAmbient    = data.Value("ambient-of-aircraft-fuses")
)

// What is taken where the ledger does not say.
var (
	engineSpace    = assumed("temperature of an engine space")
	elsewhere      = assumed("temperature elsewhere")
	chassisReturn  = assumed("resistance of the chassis return")
	signalCurrent  = assumed("current of a signal wire")
	saeShare       = assumed("share of the AWG area in SAE cable")
	resistanceArea = assumed("resistance times nominal area")
	finalAtWorst   = assumed("final temperature of unnamed insulation")
	saeTypes       = data.Table("sae-insulation").Rows()
	gauges         = sync.OnceValue(readGauges)
	rows           = sync.OnceValue(readRows)
	bundles        = readSteps("bundle", "factor", "the bundle factor of 33 CFR 183.425 Table 5 note 2")
)

func assumed(what string) quantity.Quantity {
	t := data.Table("assumed")
	return quantity.AssumedValue(what, t.Word(what, "is"), t.Word(what, "because"))
}

// gauge is an AWG size: its copper and resistance as AWG and as SAE cable.
type gauge struct {
	area, perLength       quantity.Quantity
	saeArea, saePerLength quantity.Quantity
}

// readGauges reckons all AWG sizes once.
func readGauges() map[string]gauge {
	out := map[string]gauge{}
	for _, name := range conductor.Gauges() {
		var g gauge
		g.area, _ = conductor.Area(name)
		g.perLength = StrandedPerLength(g.area).As("resistance a length of "+name+" at 20 °C", "1.02 rho / A")
		g.saeArea = g.area.Mul(saeShare).As("copper area of SAE "+name, "share × AWG area")
		if mils, listed := data.Table("sae-area").Cell(name, "circular-mils"); listed {
			g.saeArea = CircularMils(mils).As("copper area of SAE "+name, "circular mils × pi/4 mil²")
		}
		g.saePerLength = SolidPerLength(g.saeArea).As("resistance a length of SAE "+name+" at 20 °C", "rho / A")
		out[name] = g
	}
	return out
}

// metricPerLength is the resistance a length of a metric size at 20 °C.
func metricPerLength(size string) (quantity.Quantity, bool) {
	if r, listed := data.Table("class-5").Cell(size, "resistance"); listed {
		return r, true
	}
	area, ok := conductor.Area(size)
	return resistanceArea.Div(area).As("resistance a length of "+size+" at 20 °C", "resistance times nominal area / A"), ok
}

// row is the line of a table of amperages that a size takes.
type row struct {
	size    string
	area    float64
	columns *quantity.Table
	base    quantity.Quantity // the ambient that the table is given at
	bundled bool              // the table's figures are of bundles already
}

// readRows lists the rows by falling area.
func readRows() []row {
	var out []row
	for _, t := range []struct {
		name, short string
		base        quantity.Quantity
		bundled     bool
	}{{"allowable", "33 CFR 183.425 Table 5", baseAmbient, false}, {"aircraft-wire", "FAA AC 43.13-1B Table 11-9", aircraftAmbient, true}} {
		table := data.Table(t.name)
		for _, size := range table.Rows() {
			r := row{size: size, area: gauges()[size].area.Value(), base: t.base, bundled: t.bundled}
			r.columns = &quantity.Table{Name: t.short + ", " + size + ",", Step: true, XDim: quantity.Temperature, YDim: quantity.Current}
			for _, c := range table.Columns()[1:] {
				amps, _ := table.Cell(size, c)
				r.columns.X = append(r.columns.X, quantity.Cited("column", c+" degC", table.Cite.String()).Value())
				r.columns.Y = append(r.columns.Y, amps.Value())
			}
			out = append(out, r)
		}
	}
	slices.SortFunc(out, func(a, b row) int {
		if a.area > b.area {
			return -1
		}
		return 1
	})
	return out
}

// rowFor is the row of a size, or of the next smaller one that has a row.
func rowFor(size string) (row, bool) {
	area, ok := conductor.Area(size)
	for _, r := range rows() {
		if ok && r.area <= area.Value() {
			return r, true
		}
	}
	return row{}, false
}

// readSteps makes a table of steps of one whose rows are named by numbers.
func readSteps(table, column, name string) *quantity.Table {
	t := data.Table(table)
	out := &quantity.Table{Name: name, Step: true, XDim: quantity.Ratio, YDim: quantity.Ratio}
	for _, r := range t.Rows() {
		y, _ := t.Cell(r, column)
		out.X = append(out.X, quantity.Cited(column, r, t.Cite.String()).Value())
		out.Y = append(out.Y, y.Value())
	}
	return out
}

// Sources are citations of what the package rests on, by their keys.
func Sources(keys ...string) []quantity.Citation {
	var out []quantity.Citation
	for _, k := range keys {
		out = append(out, data.Source(k))
	}
	return out
}

// The citations that an allowable amperage rests on, and that a fuse is no
// larger than that.
var (
	OfAmperage   = Sources("table-5", "nec-ambient", "faa-11-9", "sae-insulation", "iso-6722")
	OfProtection = Sources("faa-protector")
)

// LongestFault is the longest that the formula of KSquared holds for.
func LongestFault() quantity.Quantity { return data.Value("longest-fault") }

// InsulationRating is the temperature that a word for an insulation stands
// for: an SAE type, an ISO class, or a temperature.
func InsulationRating(w quantity.Word) quantity.Quantity {
	return quantity.Look(w, quantity.Temperature, "a temperature rating (an SAE type, an ISO 6722 class or a temperature such as 105 degC)", func(text string) (quantity.Quantity, bool) {
		name := strings.TrimPrefix(strings.ToUpper(text), "ISO 6722 ")
		for _, t := range []string{"sae-insulation", "iso-classes"} {
			if q, ok := data.Table(t).Cell(name, "rating"); ok {
				return q, true
			}
		}
		r, err := quantity.Parse(text, quantity.Temperature, quantity.Options{Exact: true})
		if err != nil {
			return quantity.Quantity{}, false
		}
		return quantity.Leaf(r, w.Source()), true
	})
}

// FinalTemperature is what a short circuit may heat an insulation to.
func FinalTemperature(w quantity.Word) quantity.Quantity {
	made := data.Table("sae-insulation").Word(strings.ToUpper(w.String()), "made-of")
	if q, ok := data.Table("final-temperature").Cell(made, "final"); ok {
		return q
	}
	return finalAtWorst
}
