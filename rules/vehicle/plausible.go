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
	if least, most := v.Bounds(); within(least, most) || Proved(b, path) {
		return q.Is(true)
	}
	return q.Unknown([]q.Need{{Key: fmt.Sprintf("a document that proves %s: %s is unusual, %s", path, v.Spelling(), unusual), Place: v.Source().Place}})
}

// Proved tells whether a document of the ledger proves a value by name.
func Proved(b *ledger.Build, path string) bool {
	return slices.ContainsFunc(b.Documents(), func(d *ledger.Document) bool { return ledger.Refer(d.Proves, path) })
}
