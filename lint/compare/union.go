package compare

import (
	"slices"

	"fishplate/ledger"
	"fishplate/ledger/revision"
	"fishplate/lint"
)

// Union is what a merge made worse that none of the branches which it brought together
// had: each of them passes, and the two together do not. It is the comparison
// with the first of them, less what that tells of the other branch alone.
func Union(parents []*revision.Build, merged *revision.Build, packs []*lint.Pack, opt lint.Options) *Comparison {
	var all []*Comparison
	for _, p := range parents {
		c := Sources(p, merged, packs, opt)
		if c.Unread() {
			return c
		}
		all = append(all, c)
	}
	first := all[0]
	for _, p := range parents {
		first.Parents = append(first.Parents, p.Folder())
	}
	again, asks := map[string]bool{}, map[string]bool{}
	var union Comparison
	for _, c := range all {
		for _, a := range c.Again {
			if !again[a.Entry] && !held(all, a.Entry, func(d *Comparison) bool { return d.again(a.Entry) }) {
				again[a.Entry] = true
				union.Again = append(union.Again, a)
			}
		}
		for _, a := range c.Asks {
			if !asks[a.Entry] && !held(all, a.Weighing, func(d *Comparison) bool { return d.asks(a.Entry) }) {
				asks[a.Entry] = true
				union.Asks = append(union.Asks, a)
			}
		}
	}
	for _, c := range all {
		for _, x := range c.Changes {
			rests := x.Why == beforeEdit && again[x.Entry]
			worse := x.Why != beforeEdit && c == first && everywhere(all, x)
			if (rests || worse) && !slices.ContainsFunc(union.Changes, func(y *Change) bool { return y.key() == x.key() }) {
				union.Changes = append(union.Changes, x)
			}
		}
	}
	slices.SortFunc(union.Changes, compareChanges)
	first.Changes, first.Again, first.Asks, first.Notices, first.Moves = union.Changes, union.Again, union.Asks, nil, nil
	first.Edits = slices.DeleteFunc(first.Edits, func(e *Edit) bool { return !ofNone(all, e) })
	return first
}

// everywhere tells that a check got worse against each of the parents.
func everywhere(all []*Comparison, x *Change) bool {
	return x.Counts && !slices.ContainsFunc(all, func(c *Comparison) bool {
		return !slices.ContainsFunc(c.Changes, func(y *Change) bool { return y.Counts && y.Kind == Worse && y.key() == x.key() })
	})
}

// ofNone tells that an entry is in none of the parents as it is in the merge.
func ofNone(all []*Comparison, e *Edit) bool {
	return !slices.ContainsFunc(all, func(c *Comparison) bool {
		return !slices.ContainsFunc(c.Edits, func(d *Edit) bool { return d.Entry == e.Entry })
	})
}

// held tells that one of the parents has a reading as it is in the merge, and it
// holds there: then it is that branch's own matter.
func held(all []*Comparison, entry string, tells func(*Comparison) bool) bool {
	return slices.ContainsFunc(all, func(c *Comparison) bool {
		e, _ := c.Before.Build.Entry(entry)
		f, _ := c.After.Build.Entry(entry)
		return ledger.SameReading(e, f) && !tells(c)
	})
}

func (c *Comparison) again(entry string) bool {
	return slices.ContainsFunc(c.Again, func(a *Again) bool { return a.Entry == entry })
}

func (c *Comparison) asks(entry string) bool {
	return slices.ContainsFunc(c.Asks, func(a *Ask) bool { return a.Entry == entry })
}
