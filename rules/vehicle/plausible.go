package vehicle

import (
	"fmt"
	"strings"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

// Plausible holds where a value that the ledger states may lie between two; one
// that surely does not waits for a document that proves it. A ledger does not
// set its own bar.
func Plausible(b *ledger.Build, v, low, high q.Quantity) q.Truth {
	if !low.Known() || !high.Known() {
		return q.Unknown(append(low.Needs(), high.Needs()...))
	}
	_, to := high.Bounds()
	return plausible(b, v, low, fmt.Sprintf(" or over %s", b.Style().Format(high)), func(least float64) bool { return least > to })
}

// PlausibleAtLeast is Plausible without an upper end.
func PlausibleAtLeast(b *ledger.Build, v, low q.Quantity) q.Truth {
	if !low.Known() {
		return q.Unknown(low.Needs())
	}
	return plausible(b, v, low, "", func(float64) bool { return false })
}

func plausible(b *ledger.Build, v, low q.Quantity, orOver string, over func(least float64) bool) q.Truth {
	if !v.Known() {
		return q.Unknown(v.Needs())
	}
	least, most := v.Bounds()
	if from, _ := low.Bounds(); most >= from && !over(least) {
		return q.Is(true)
	}
	path := v.Source().Path()
	if Proved(b, path) {
		return q.Is(true)
	}
	unusual := fmt.Sprintf("a document that proves %s: %s is unusual, below %s%s", path, v.Spelling(), b.Style().Format(low), orOver)
	return q.Unknown([]q.Need{{Key: unusual, Place: v.Source().Place}})
}

// Proved tells whether a document of the ledger proves a value, by its name or
// that of its entry.
func Proved(b *ledger.Build, path string) bool {
	for _, d := range b.Documents() {
		for _, r := range d.Proves {
			if r.String() == path || strings.HasPrefix(path, r.String()+".") {
				return true
			}
		}
	}
	return false
}
