package schema

import "slices"

// Rank tells where a key comes in an entry's order: the kind's own keys as its
// view lists them, then the tables that are entries of their own, such as
// vehicle.front, then what any entry may have. A nil kind has no order.
func (k *Kind) Rank(key string) int {
	if k == nil {
		return 0
	}
	if i := slices.Index(k.keys, key); i >= 0 {
		return i
	}
	switch {
	case k.Inside[key] != nil:
		return len(k.keys)
	case key == System.Key:
		return len(k.keys) + 1
	}
	return len(k.keys) + 2
}
