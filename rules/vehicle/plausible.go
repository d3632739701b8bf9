package vehicle

import (
	"fmt"
	"slices"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

// Plausible holds where a value that the ledger states may lie between two; one
// that surely does not waits for a document that proves it. A ledger does not
// set its own bar.
func Plausible(b *ledger.Build, v, low, high q.Quantity) q.Truth {
	return PlausibleAtLeast(b, v, low).And(PlausibleAtMost(b, v, high))
}

// PlausibleAtMost is Plausible without a lower end.
func PlausibleAtMost(b *ledger.Build, v, high q.Quantity) q.Truth {
	if !high.Known() {
		return q.Unknown(high.Needs())
	}
	_, to := high.Bounds()
	return plausible(b, v, func(least, _ float64) bool { return least <= to }, "over "+b.Style().Format(high))
}

// PlausibleAtLeast is Plausible without an upper end.
func PlausibleAtLeast(b *ledger.Build, v, low q.Quantity) q.Truth {
	if !low.Known() {
		return q.Unknown(low.Needs())
	}
	from, _ := low.Bounds()
	return plausible(b, v, func(_, most float64) bool { return most >= from }, "below "+b.Style().Format(low))
}

func plausible(b *ledger.Build, v q.Quantity, within func(least, most float64) bool, unusual string) q.Truth {
	if !v.Known() {
		return q.Unknown(v.Needs())
	}
	path := v.Source().Path()
	least, most := v.Bounds()
	return Documented(b, within(least, most), path, fmt.Sprintf("%s is unusual, %s", v.Spelling(), unusual), v.Source().Place)
}

// Documented holds where something is as it mostly is, or a document of the ledger proves
// it by its name; else it waits for the document.
func Documented(b *ledger.Build, usual bool, path, unusual string, at q.Place) q.Truth {
	if usual || Proved(b, path) {
		return q.Is(true)
	}
	return q.Unknown([]q.Need{{Key: "a document that proves " + path + ": " + unusual, Place: at}})
}

// Proved tells whether a document of the ledger proves a value by name.
func Proved(b *ledger.Build, path string) bool {
	return slices.ContainsFunc(b.Documents(), func(d *ledger.Document) bool { return ledger.Refer(d.Proves, path) })
}
