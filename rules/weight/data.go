package weight

import (
	"embed"
	"strings"

	q "fishplate/ledger/quantity"
	"fishplate/rules/refdata"
)

//go:embed refdata/*.toml
var files embed.FS

var data = refdata.Load("weight", files)

// loads is load by load index, from ISO 4000-1; each row is a row of the
// standard, and between two there is none.
var loads = indexTable(data.Table("load-index"))

func indexTable(from *refdata.Table) *q.Table {
	t := &q.Table{Name: "load by " + from.Cite.String(), XDim: q.Ratio, YDim: q.Mass, Step: true}
	for _, row := range from.Rows() {
		index, err := q.Parse(row, q.Ratio, q.Options{Exact: true})
		if err != nil {
			panic(err)
		}
		load, _ := from.Cell(row, "load")
		t.X, t.Y = append(t.X, index.Value), append(t.Y, load.Value())
	}
	return t
}

// exponent is how a tire's load goes with its pressure, where no table says.
var exponent = assumedValue("pressure-exponent")

func assumedValue(key string) q.Quantity {
	v := data.Value(key)
	return q.AssumedValue(v.Source().Key, v.Spelling(), v.Source().Cite)
}

// riskBands says NHTSA's bands of rollover risk in a sentence.
func riskBands() string {
	t := data.Table("rollover-bands")
	var bands []string
	lowest := ""
	for _, row := range t.Rows() {
		from := t.Word(row, "factor-from")
		where := "from " + from
		if from == "0" {
			where = "below " + lowest
		}
		bands, lowest = append(bands, t.Word(row, "risk")+" "+where), from
	}
	return "NHTSA's bands of the risk of rolling over in a single-vehicle crash, by the factor (the factors from memory): " + strings.Join(bands, ", ") + "."
}
