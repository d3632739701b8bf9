package ledger

import (
	"strings"

	q "fishplate/ledger/quantity"
)

// Mentions are the places in a build's own files that name an entry, or one of
// its values: the place of the text, or of the key where a key is the name.
func (b *Build) Mentions(path string) []q.Place {
	var out []q.Place
	for _, e := range b.Entries() {
		if e.Shop {
			continue
		}
		for _, r := range e.refs {
			if r.to == path || strings.HasPrefix(r.to, path+".") {
				out = append(out, r.place)
			}
		}
	}
	return out
}
