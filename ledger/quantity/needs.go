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

// anyOf is what waits for any of several lists, all of one of which has to be
// known. A list that asks for all that another does and more is no choice. Of one
// that is left each need stands by itself; several are one need, which names them.
func anyOf(lists [][]Need) []Need {
	var left [][]Need
	lists = apart(lists)
	for i, list := range lists {
		more := slices.ContainsFunc(lists[:i], func(l []Need) bool { return asksFor(list, l) }) ||
			slices.ContainsFunc(lists[i+1:], func(l []Need) bool { return asksFor(list, l) && !asksFor(l, list) })
		if !more {
			left = append(left, list)
		}
	}
	if len(left) == 1 && len(left[0]) > 0 {
		return left[0]
	}
	var keys []string
	var place Place
	for _, list := range left {
		var all []string
		for _, n := range list {
			if place.File == "" {
				place = n.Place
			}
			all = append(all, n.Key)
		}
		keys = append(keys, oneKey(all, " and ", "more"))
	}
	return []Need{{Key: oneKey(keys, " or ", "others"), Place: place}}
}

// apart takes a list that is itself a choice, as one need names it, for the lists that
// it is between.
func apart(lists [][]Need) [][]Need {
	var out [][]Need
	for _, list := range lists {
		if len(list) != 1 || !strings.Contains(list[0].Key, " or ") {
			out = append(out, list)
			continue
		}
		for _, choice := range strings.Split(list[0].Key, " or ") {
			var all []Need
			for _, key := range strings.Split(choice, " and ") {
				all = append(all, Need{Key: key, Place: list[0].Place})
			}
			out = append(out, all)
		}
	}
	return out
}

// asksFor tells that a list has every need of another that has any.
func asksFor(list, of []Need) bool {
	return len(of) > 0 && !slices.ContainsFunc(of, func(n Need) bool {
		return !slices.ContainsFunc(list, func(m Need) bool { return m.Key == n.Key })
	})
}

// mostKeys is how long the keys that a value waits for may grow as one: where
// a choice is between choices, each would hold all below it.
const mostKeys = 300

// oneKey joins keys, only the first of them where they are too long together.
func oneKey(words []string, by, rest string) string {
	for i, n := 0, 0; i < len(words); i++ {
		if n += len(words[i]) + len(by); n > mostKeys {
			return strings.Join(append(slices.Clone(words[:i]), rest), by)
		}
	}
	return strings.Join(words, by)
}
