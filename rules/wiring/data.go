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
	criticalDrop     = data.Value("critical-drop")
	otherDrop        = data.Value("other-drop")
	crankingDrop     = data.Value("cranking-drop")
	crankingDrop24   = data.Value("cranking-drop-of-24-V")
	between12And24   = data.Value("between-12-and-24-V")
	loopLoad         = data.Value("loop-load")
	loopLoad24       = data.Value("loop-load-of-24-V")
	loopDrop         = data.Value("loop-drop")
	loopDrop24       = data.Value("loop-drop-of-24-V")
	crankTime        = data.Value("crank")
	longCrank        = data.Value("long-crank")
	restAfter        = data.Value("rest-after-a-long-crank")
	onTime           = data.Value("on-time")
	signalMost       = data.Value("signal-current")
	startersAgree    = data.Value("starter-currents-agree")
	meteredLeast     = data.Value("metered-at-least")
	warmDrawLeast    = data.Value("warm-draw-least")
	warmDrawOf       = data.Value("warm-draw-of")
	coldOverWarm     = data.Value("cold-over-warm")
	rollingDraw      = data.Value("rolling-draw-over-cold-cranking-amps")
	voltsAgree       = data.Value("voltages-agree")
	fuseShare        = data.Value("share-of-a-fuse-at-25-degC")
	fuseAmbient      = data.Value("ambient-of-a-fuse")
	fuseSlope        = quantity.AssumedValue("what a fuse loses a kelvin", data.Value("loss-of-a-fuse").Spelling(), data.Source("fuse-slope").String())
	unfused          = data.Value("unfused-length")
	unfusedInSheath  = data.Value("unfused-length-in-a-sheath")
	mainInSheath     = data.Value("unfused-length-from-the-battery-in-a-sheath")
	mainBare         = data.Value("unfused-length-from-the-battery-bare")
	continuousShare  = data.Value("share-of-a-fuse-for-continuous-load")
	otherShare       = data.Value("share-of-a-fuse-for-other-load")
	insulationSpare  = data.Value("insulation-margin")
	engineSpaceLeast = data.Value("engine-space-at-least")
	chargeShare      = data.Value("share-of-the-alternator-in-its-cable")
	idleShare        = data.Value("share-of-loads-at-idle")
	nearerTerminals  = data.Value("terminals-nearer-than-places")
	standardRatings  = readRatings()
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
