package fuel

import (
	"embed"
	"strings"
	"sync"

	"fishplate/ledger/quantity"
	"fishplate/rules/refdata"
	"fishplate/rules/vehicle"
)

//go:embed refdata
var files embed.FS

var data = refdata.Load("fuel", files)

// judgment is one cell of the matrix.
type judgment struct {
	grade string // ok, caution or not-recommended; "" for unknown
	words string // what comes between material and fuel
	after string // what comes after, with the source that it rests on
	row   string
}

// inWords is a cell of the matrix in words, "" where there is none.
func inWords(cell, fuel quantity.Word) string {
	j, ok := matrix()[cell.String()]
	if !ok {
		return ""
	}
	return j.row + j.words + titles[plain(fuel.String())] + j.after
}

var (
	matrix     = sync.OnceValue(readMatrix)
	rowNames   = vehicle.MaterialNames(data.Table("matrix").Rows())
	fuelNames  = data.Table("fuels").Rows()
	columns    = readColumn("fuels", "column")
	families   = readColumn("fuels", "family")
	titles     = readTitles()
	densities  = readDensities()
	scopes     = readScopes()
	pressures  = readPressures()
	types      = data.Table("j30-fuels")
	heats      = data.Table("j30-temperatures")
	pipeLimits = Regimes{
		LaminarUpTo:   data.Value("laminar-up-to"),
		TurbulentFrom: data.Value("turbulent-from"),
		Turbulent:     quantity.AssumedValue("turbulence between Re 2000 and 4000, 0 or 1", "0 to 1", "the flow may be either: "+data.Source("critical-zone").String()),
	}
	roughness = data.Value("roughness-of-drawn-tube")
)

func readMatrix() map[string]judgment {
	cells, sources, advice := data.Table("matrix"), data.Table("confirmed"), data.Table("advice")
	out := map[string]judgment{}
	for _, m := range cells.Rows() {
		for _, f := range cells.Columns()[1:] {
			cite := cells.Cite
			if s := sources.Word(m, f); s != "" {
				cite = data.Source(s)
			}
			out[pair(m, f)] = judge(m, cells.Word(m, f), advice.Word(m, "says"), cite)
		}
	}
	return out
}

var gradeWords = map[string]string{
	"ok":              "fit for",
	"caution":         "to be watched with",
	"not-recommended": "not recommended with",
	"unknown":         "not known to stand or fail with",
}

func judge(material, grade, advice string, cite quantity.Citation) judgment {
	words, known := gradeWords[grade]
	if !known {
		panic("fuel: no grade " + grade)
	}
	after := " [" + cite.String() + "]"
	switch {
	case grade == "unknown":
		grade = ""
	case grade != "ok" && advice != "":
		after = ": " + advice + after
	}
	return judgment{grade, " is " + words + " ", after, material}
}

func pair(material, fuel string) string { return material + " with " + fuel }

// knownWords lists the words for materials, each row of the matrix with its
// other names, and those for fuels.
func knownWords() string {
	var all []string
	for _, m := range data.Table("matrix").Rows() {
		if also := vehicle.OtherNames(m); len(also) > 0 {
			m += " (" + strings.Join(also, ", ") + ")"
		}
		all = append(all, m)
	}
	return "Words for materials: " + strings.Join(all, ", ") + ". Words for fuels: " + strings.Join(data.Table("fuels").Rows(), ", ") + "."
}

func readColumn(table, column string) map[string]string {
	t := data.Table(table)
	out := map[string]string{}
	for _, r := range t.Rows() {
		if w := t.Word(r, column); w != "" {
			out[r] = w
		}
	}
	return out
}

// readTitles names each fuel, with what it is taken as.
func readTitles() map[string]string {
	out := map[string]string{}
	for fuel, column := range columns {
		out[fuel] = fuel
		if strings.HasPrefix(fuel, "b") && fuel != "biodiesel" || strings.HasPrefix(fuel, "e") {
			out[fuel] = strings.ToUpper(fuel)
		}
		if fuel != column {
			out[fuel] += " (taken as " + strings.ToUpper(column) + ")"
		}
	}
	return out
}

func readDensities() map[string]quantity.Quantity {
	out := map[string]quantity.Quantity{}
	for _, name := range []string{"density", "density-of-biodiesel"} {
		t := data.Table(name)
		for _, r := range t.Rows() {
			out[r], _ = t.Cell(r, "density")
		}
	}
	return out
}

// readScopes keys SAE J30's scope by type and family: "30R13 with diesel".
func readScopes() map[string]string {
	t := data.Table("j30-fuels")
	out := map[string]string{}
	for _, r := range t.Rows() {
		for _, family := range t.Columns()[2:] {
			if w := t.Word(r, family); w != "" {
				out[pair(r, family)] = w
			}
		}
	}
	return out
}

// readPressures makes of each type's pressure a table over bores that ends
// where the figure does.
func readPressures() map[string]*quantity.Table {
	t, most := data.Table("j30-pressures"), data.Value("largest-small-bore")
	out := map[string]*quantity.Table{}
	for _, r := range t.Rows() {
		p, _ := t.Cell(r, "pressure")
		out[r] = &quantity.Table{
			Name: "SAE J30's pressures of " + r + " (from memory)", Step: true, XDim: quantity.Length, YDim: quantity.Pressure,
			X: []float64{0, most.Value()}, Y: []float64{p.Value(), p.Value()},
		}
	}
	return out
}

// plain is a word as the tables spell it: "Carbon Steel" is "carbon-steel".
func plain(s string) string {
	return strings.ToLower(hyphens.Replace(strings.TrimSpace(s)))
}

var hyphens = strings.NewReplacer(" ", "-", "_", "-")

// typeOf is a hose's SAE J30 type as the tables spell it: "SAE R9" is "30R9".
func typeOf(s string) string {
	s = strings.ToUpper(strings.TrimSpace(s))
	for _, before := range []string{"SAE", "J30"} {
		s = strings.TrimSpace(strings.TrimPrefix(s, before))
	}
	if strings.HasPrefix(s, "R") {
		return "30" + s
	}
	return s
}

func rowOf(m quantity.Word) quantity.Word {
	return quantity.LookWord(m, "a known word (fishplate explain fuel/material lists the materials)", in(rowNames))
}

func columnOf(fuel quantity.Word) quantity.Word {
	return quantity.LookWord(fuel, "a known word (fishplate explain fuel/material lists the fuels)", in(columns))
}

func familyOf(fuel quantity.Word) quantity.Word {
	return quantity.LookWord(fuel, "a known word (fishplate explain fuel/material lists the fuels)", in(families))
}

func in(table map[string]string) func(string) (string, bool) {
	return func(w string) (string, bool) { t, ok := table[plain(w)]; return t, ok }
}
