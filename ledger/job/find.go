package job

import (
	"slices"
	"strings"
	"unicode"
)

// Found is an entry that carries a word.
type Found struct {
	Row
	Keys []string // where it stands in the entry; "" for the entry's own name
	// Itself tells that the word is in what the entry is called or ordered as;
	// otherwise it only speaks of it.
	Itself bool
}

// calling are the keys that say what a thing is.
var calling = []string{"name", "role", "order-as", "title", "size", "fluid", "carries", "kind", "supplier", "made.material", "part"}

// Find lists the entries of a build that carry a word or a part number: parts
// and hoses that are called by it first, then what else is. Letters may be large or small, and blanks and
// hyphens are passed over, as on a phone. What is private is not searched.
func Find(j *Job, word string) []Found {
	look := finder(word)
	var out []Found
	for _, e := range j.Entries() {
		if e.Kind == "owner" || e.Kind == "shop" {
			continue
		}
		f := Found{Itself: look(e.Path())}
		if f.Itself {
			f.Keys = append(f.Keys, "")
		}
		for _, v := range e.Values() {
			if v.Private || v.Field != nil && v.Field.Sum || !look(v.Text) {
				continue
			}
			f.Keys = append(f.Keys, v.Key)
			f.Itself = f.Itself || slices.Contains(calling, v.Key)
		}
		if len(f.Keys) > 0 {
			f.Row = j.row(e)
			out = append(out, f)
		}
	}
	slices.SortStableFunc(out, func(a, b Found) int { return a.rank() - b.rank() })
	return out
}

// rank puts what can be held in the hand first, and what only speaks of it
// last.
func (f Found) rank() int {
	switch {
	case !f.Itself:
		return 2
	case f.Entry.Kind == "part" || f.Entry.Kind == "hose":
		return 0
	}
	return 1
}

// leastSqueezed is how many letters and digits a word needs to be looked for
// without its blanks and hyphens: fewer are found in everything.
const leastSqueezed = 3

// finder tells whether a text carries the word.
func finder(word string) func(string) bool {
	word = strings.ToLower(strings.TrimSpace(word))
	bare := squeezed(word)
	return func(text string) bool {
		text = strings.ToLower(text)
		return word != "" && strings.Contains(text, word) || len([]rune(bare)) >= leastSqueezed && strings.Contains(squeezed(text), bare)
	}
}

// squeezed is a text's letters and digits alone.
func squeezed(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
		return -1
	}, s)
}
