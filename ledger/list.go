package ledger

import q "fishplate/ledger/quantity"

// Quantities is the entry's list under key, or, where the ledger has no such
// list or an empty one, a single value that is missing.
func (h Head) Quantities(list []q.Quantity, key string, dim q.Dim) []q.Quantity {
	switch {
	case len(list) > 0:
		return list
	case len(h.needs) > 0:
		return []q.Quantity{q.WaitsFor(dim, h.needs)}
	}
	return []q.Quantity{q.Missing(dim, &q.Source{Entry: h.path, Key: key, Place: h.place})}
}
