package wiring

import (
	"embed"
	"slices"

	"fishplate/ledger/quantity"
	"fishplate/rules/refdata"
)

//go:embed refdata
var files embed.FS

var data = refdata.Load("wiring", files)

// The limits.
var (
	criticalDrop    = data.Value("critical-drop")
	otherDrop       = data.Value("other-drop")
	crankingDrop    = data.Value("cranking-drop")
	unfused         = data.Value("unfused-length")
	unfusedInSheath = data.Value("unfused-length-in-a-sheath")
	mainInSheath    = data.Value("unfused-length-from-the-battery-in-a-sheath")
	mainBare        = data.Value("unfused-length-from-the-battery-bare")
	continuousShare = data.Value("share-of-a-fuse-for-continuous-load")
	otherShare      = data.Value("share-of-a-fuse-for-other-load")
	insulationSpare = data.Value("insulation-margin")
	idleShare       = data.Value("share-of-loads-at-idle")
	standardRatings = readRatings()
)

// readRatings are those that fuses are made in: a table of steps from each to
// itself, so that a rating between two finds the lower.
func readRatings() *quantity.Table {
	var all []float64
	for _, name := range []string{"blade-fuses", "bolt-in-fuses"} {
		for _, r := range data.Table(name).Rows() {
			all = append(all, quantity.Cited("rating", r+" A", data.Table(name).Cite.String()).Value())
		}
	}
	slices.Sort(all)
	all = slices.Compact(all)
	return &quantity.Table{Name: "ratings that blade and bolt-in fuses are made in", Step: true, XDim: quantity.Current, YDim: quantity.Current, X: all, Y: all}
}
