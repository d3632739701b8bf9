package lint

import (
	"embed"
	"math"

	"fishplate/ledger/quantity"
	"fishplate/rules/refdata"
)

//go:embed refdata
var files embed.FS

var (
	data   = refdata.Load("lint", files)
	gauges = data.Table("gauges")
)

// gaugeOf names the plain gauge that reads a dimension; what has none is read on
// a meter.
var gaugeOf = map[quantity.Dim]string{quantity.Length: "tape", quantity.Angle: "protractor", quantity.Mass: "scale"}

// Finest is the half width, in SI, that a plain gauge leaves on a value.
func Finest(leaf quantity.Quantity) float64 {
	name, ok := gaugeOf[leaf.Dim()]
	if !ok {
		name = "meter"
	}
	reads, _ := gauges.Cell(name, "reads")
	if ok {
		return reads.Value()
	}
	size := leaf.Value()
	if r, ok := leaf.Reading(); ok {
		size -= r.Unit.Offset
	}
	return reads.Value() * math.Abs(size)
}

// Together lists the values that would settle a margin if all of them were read
// as finely as a plain gauge reads, those first that save most; nil where no
// number of them would, for the value is too near its limit.
func Together(margin *quantity.Analysis) []quantity.Doubt {
	low, high := margin.Bounds()
	lacks := -low
	if margin.Of().Value() < 0 {
		lacks = high
	}
	var out []quantity.Doubt
	for _, d := range margin.Doubts() {
		l, h := d.Leaf.Bounds()
		half := (h - l) / 2
		saves := d.Doubt * (1 - Finest(d.Leaf)/half)
		if !(saves > 0) || d.Source.Entry == "" {
			continue
		}
		out = append(out, d)
		if lacks -= saves; lacks < 0 {
			return out
		}
	}
	return nil
}
