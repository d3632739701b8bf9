// Package rules lists the rule packs. Nothing registers itself: what is here
// is what runs.
package rules

import "fishplate/lint"

// Packs are all packs, in the order in which they are listed to people.
func Packs() []*lint.Pack {
	return []*lint.Pack{}
}
