package report

import (
	"cmp"

	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/lint/compare"
)

// leastBunch is from how many changes on the one edit that did them is told once
// for all.
const leastBunch = 3

// bunch is changes that one edit did, which no other has a share in. Of a change
// that is told by itself, by is nothing.
type bunch struct {
	by   part
	list []*compare.Change
}

// bunches parts changes by the edit that did them, in the order of the first of each.
func bunches(xs []*compare.Change, s quantity.Style) []bunch {
	alone := make([]part, len(xs))
	n := map[string]int{}
	for i, x := range xs {
		if x.Kind != compare.Worse && x.Kind != compare.Better {
			continue
		}
		if _, parts := causesOf(x, s); len(parts) == 1 {
			alone[i] = part{entry: parts[0].entry, place: parts[0].place}
			n[parts[0].entry]++
		}
	}
	var out []bunch
	at := map[string]int{}
	for i, x := range xs {
		by := alone[i]
		if n[by.entry] < leastBunch {
			by = part{}
		}
		if j, ok := at[by.entry]; ok && by.entry != "" {
			out[j].list = append(out[j].list, x)
			continue
		}
		at[by.entry] = len(out)
		out = append(out, bunch{by, []*compare.Change{x}})
	}
	return out
}

// lastOf is the check of a change as it is now, or as it was where it is no more.
func lastOf(x *compare.Change) *lint.Result { return cmp.Or(x.After, x.Before) }

// stepOf is a change of a bunch in a sentence: before, now, and by how much.
func stepOf(x *compare.Change, s quantity.Style) string {
	say := ""
	switch {
	case x.Before == nil:
		say = stateOf(x.After, s)
	case x.After == nil:
		say = stateOf(x.Before, s) + " -> gone"
	default:
		say = stateOf(x.Before, s) + " -> " + stateOf(x.After, s)
	}
	if total, _ := causesOf(x, s); total != "" {
		say += "; margin " + total
	}
	if x.Why != "" {
		say += "; " + x.Why
	}
	return say
}
