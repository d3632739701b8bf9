package vehicle

import (
	"embed"
	"strings"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/rules/refdata"
)

//go:embed refdata/*.toml
var files embed.FS

var data = refdata.Load("vehicle", files)

// Sources of what this package reckons, for the rules that rest on it.
var (
	FluidSources = []q.Citation{data.Source("afdc"), data.Source("afdc-one-figure"), data.Source("handbook-fluids")}
	TireSource   = data.Source("un-r54")
)

var (
	densities     = []*refdata.Table{data.Table("looked-up"), data.Table("one-figure"), data.Table("from-memory")}
	moldedReading = molded(data.Value("molded-height"))
	moldedCite    = data.Value("molded-height").Source().Cite
)

func molded(k q.Quantity) q.Reading {
	r, _ := k.Reading()
	return r
}

// Density is that of a fluid by its name, with the spread that the name leaves
// open; kg/m3.
func Density(fluid q.Word) q.Quantity {
	return q.Look(fluid, q.Density, "a density", func(name string) (q.Quantity, bool) {
		for _, t := range densities {
			if rho, ok := t.Cell(strings.ToLower(name), "density"); ok {
				return rho, true
			}
		}
		return q.Quantity{}, false
	}, fluids()...)
}

// fluids are the names that there is a density for.
func fluids() []string {
	var out []string
	for _, t := range densities {
		out = append(out, t.Rows()...)
	}
	return out
}

// PointMass is something of the vehicle's mass at its place; off says that it
// is taken off there.
type PointMass struct {
	Mass q.Quantity
	At   ledger.Point
	Off  bool
}

func (p PointMass) less() PointMass { return PointMass{p.Mass, p.At, !p.Off} }

// signed is a share of the mass, or a moment of it, with the mass's sign.
func (p PointMass) signed(share q.Quantity) q.Quantity {
	if p.Off {
		return share.Neg()
	}
	return share
}

func less(all []PointMass) []PointMass {
	out := make([]PointMass, len(all))
	for i, p := range all {
		out[i] = p.less()
	}
	return out
}

// Several is the mass of so many.
func Several(count, mass q.Quantity) q.Quantity {
	return q.Choose(count.Equals(1), mass, count.Mul(mass))
}
