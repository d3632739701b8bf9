package quantity

import (
	"cmp"
	"slices"
	"strings"
)

// mostNeeds is how many needs are listed of one missing value. The sums of a
// feed of thousands of circuits would each hold all that any of them lacks.
// That nobody reads a longer list is practice, without a source.
const mostNeeds = 40

// others stands after the needs that are listed, where there are more.
var others = Need{Key: "others after these"}

// union is what any of the operands waits for.
func union(args []*node) []Need {
	var longest []Need
	size := 0
	for _, a := range args {
		if size += len(a.needs); len(a.needs) > len(longest) {
			longest = a.needs
		}
	}
	within := func(a *node) bool { return len(a.needs) == 0 || oneList(longest, a.needs) || hasAll(longest, a.needs) }
	if !slices.ContainsFunc(args, func(a *node) bool { return !within(a) }) {
		return longest
	}
	all := make([]Need, 0, min(size, 4*mostNeeds))
	for _, a := range args {
		if len(all)+len(a.needs) > cap(all) {
			all = SortNeeds(all)
		}
		all = append(all, a.needs...)
	}
	return slices.Clip(SortNeeds(all))
}

// hasAll tells that a sorted list has all that another has. It may miss some that
// do.
func hasAll(list, of []Need) bool {
	i := 0
	for _, n := range of {
		for i < len(list) && list[i].Key != n.Key {
			i++
		}
		if i == len(list) {
			return false
		}
	}
	return true
}

// oneList tells that two lists are one and the same in memory.
func oneList(a, b []Need) bool {
	return len(a) == len(b) && len(a) > 0 && &a[0] == &b[0]
}

// waiting is needs of any order, sorted; what waits for nothing that it can
// name waits all the same.
func waiting(needs []Need) []Need {
	switch len(needs) {
	case 0:
		return nothing.needs
	case 1:
		return needs[:1:1]
	}
	return SortNeeds(slices.Clone(needs))
}

// SortNeeds sorts by key and drops repeats, in place. Of a list that is too
// long it keeps the first by key, and says that there are others: however often
// lists are joined, the same are kept.
func SortNeeds(all []Need) []Need {
	slices.SortFunc(all, func(a, b Need) int {
		if last := cmp.Compare(btoi(a == others), btoi(b == others)); last != 0 {
			return last
		}
		return cmp.Or(strings.Compare(a.Key, b.Key), strings.Compare(a.Place.File, b.Place.File), a.Place.Line-b.Place.Line)
	})
	all = slices.CompactFunc(all, func(a, b Need) bool { return a.Key == b.Key })
	if len(all) <= mostNeeds || len(all) == mostNeeds+1 && all[mostNeeds] == others {
		return all
	}
	all[mostNeeds] = others
	return all[:mostNeeds+1]
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}
