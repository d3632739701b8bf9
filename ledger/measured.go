package ledger

import (
	"strings"

	q "fishplate/ledger/quantity"
)

// Measured is the dimension of a value that a person measures, by its path
// ("gap.x.measured"); false of words, counts, and what is read off a label.
func Measured(path string) (q.Dim, bool) {
	kind, key, _ := strings.Cut(path, ".")
	if axle, rest, ok := strings.Cut(key, "."); ok && isKind(kind+"."+axle) {
		kind, key = kind+"."+axle, rest
	} else if isKind(kind) && !Single(kind) {
		_, key, _ = strings.Cut(key, ".")
	}
	if !isKind(kind) {
		return q.Dim{}, false
	}
	f := kindNamed[kind].At(key)
	if f == nil || f.Exact || !f.TakesQuantity() || f.Dim == q.Ratio || f.Dim == q.Any || f.Dim.Money != 0 {
		return q.Dim{}, false
	}
	return f.Dim, true
}
