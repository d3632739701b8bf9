package enter

import (
	"slices"

	"fishplate/ledger"
	"fishplate/ledger/edit"
	"fishplate/ledger/rows"
	"fishplate/ledger/schema"
	"fishplate/ledger/spelling"
)

// nearEntry is an entry of the same kind that is called nearly so, or "".
func nearEntry(b *ledger.Build, k *schema.Kind, name string) string {
	var names []string
	for _, e := range b.Entries() {
		if e.Kind == k.Name {
			names = append(names, e.Path())
		}
	}
	return spelling.Nearest(name, names)
}

// change makes the edits of an entry that is there.
func (w *wanted) change(d *edit.Draft, done *Done) (faults []rows.Fault) {
	for _, a := range w.asks {
		if at, ok := d.Stand(w.entry, a.path); ok && at.Says(a.value) {
			done.Same++
			continue
		}
		if err := d.Set(w.entry, a.path, a.value); err != nil {
			faults = append(faults, a.cell.At("%v", err))
			continue
		}
		done.Values++
	}
	return faults
}

// add adds the entries that are not there.
func add(d *edit.Draft, list []*wanted, file string, done *Done) (faults []rows.Fault) {
	var all []edit.NewEntry
	var first rows.Cell
	for _, w := range list {
		if w.there {
			continue
		}
		pairs, bad := w.pairs()
		faults = append(faults, bad...)
		if len(all) == 0 {
			first = w.by
		}
		all = append(all, edit.NewEntry{Path: w.entry, Pairs: pairs})
	}
	if err := d.AddAll(all, file); err != nil {
		return append(faults, first.At("%v", err))
	}
	done.Entries = len(all)
	return faults
}

// pairs are the keys of a new entry in the order of its kind.
func (w *wanted) pairs() ([]edit.Pair, []rows.Fault) {
	return pairsOf(w.asks, 0, w.kind, w.kind.Field)
}

// pairsOf are the keys at one depth of some asks, in the order of a kind where
// there is one; tables below become inline ones.
func pairsOf(asks []ask, depth int, order *schema.Kind, field func(string) *schema.Field) (out []edit.Pair, faults []rows.Fault) {
	asks = slices.Clone(asks) // the rows' own order stays
	rank := func(a ask) int { return order.Rank(a.path[depth]) }
	slices.SortStableFunc(asks, func(a, b ask) int { return rank(a) - rank(b) })
	for len(asks) > 0 {
		key := asks[0].path[depth]
		var same, others []ask
		for _, a := range asks {
			if a.path[depth] == key {
				same = append(same, a)
			} else {
				others = append(others, a)
			}
		}
		n, f := len(same), field(key)
		asks = others
		whole := slices.IndexFunc(same, func(a ask) bool { return len(a.path) == depth+1 })
		switch {
		case whole >= 0 && n > 1:
			faults = append(faults, same[whole].cell.At("%s is given whole here and key by key in %s", same[whole].key, same[(whole+1)%n].cell.Name))
		case whole >= 0:
			out = append(out, edit.Pair{Key: key, Value: same[0].value})
		case f.Many == schema.List:
			faults = append(faults, same[0].cell.At("%s is a list: give it whole, its values parted by semicolons", key))
		default:
			var below *schema.Kind
			if f.Many == schema.One {
				below = f.Nested
			}
			inside, bad := pairsOf(same, depth+1, below, f.Below)
			out, faults = append(out, edit.Pair{Key: key, Value: edit.Table(inside...)}), append(faults, bad...)
		}
	}
	return out, faults
}

// loaderSays are the faults that the build would have then and has not now, by
// the cells that they come from.
func loaderSays(d *edit.Draft, list []*wanted) (faults []rows.Fault) {
	for _, f := range d.NewFaults(d.After()) {
		if c, ok := cellAt(d, list, f); ok {
			faults = append(faults, c.At("%s", f.Message))
		} else {
			faults = append(faults, rows.Fault{Message: "the ledger would have a fault then: " + f.String()})
		}
	}
	return faults
}

// cellAt is the cell that a fault of the ledger comes from: that of the value
// where it stands, else that of the entry.
func cellAt(d *edit.Draft, list []*wanted, f ledger.Fault) (rows.Cell, bool) {
	for _, w := range list {
		for _, a := range w.asks {
			if at, ok := d.Stand(w.entry, a.path); ok && at.Has(f.Place) {
				return a.cell, true
			}
		}
	}
	for _, w := range slices.Backward(list) { // an axle stands in the vehicle's table
		if at, ok := d.Stand(w.entry, nil); ok && at.Has(f.Place) {
			return w.by, true
		}
	}
	return rows.Cell{}, false
}
