package schema

import (
	"fmt"
	"strings"
)

// Takes says what the key takes, for help and messages.
func (f *Field) Takes() string {
	many := map[Many]string{One: "", List: "a list: ", Named: "a table: "}[f.Many]
	switch f.Type {
	case Quantity:
		return many + f.TakesNumber()
	case Word:
		switch {
		case len(f.OneOf) > 0:
			return many + "one of " + Or(f.OneOf)
		case f.Size:
			return many + "a conductor size, such as 12 AWG or 3 mm2"
		}
		return many + "words" + f.OrAlone()
	case Truth:
		return "true or false"
	case Date:
		return "a date, such as 2026-03-01"
	case Ref:
		return many + TakesName(f.Refs)
	case Place:
		return `a place: { behind = "4 1/2 in", right = "0 in", above = "34 in" }, or the part it is at`
	case Hookup:
		return "a table of hookups"
	}
	return many + "a table with " + Or(f.Nested.keys)
}

// TakesName says what a reference to some kinds takes.
func TakesName(kinds []string) string {
	if len(kinds) == 1 && kinds[0] == "any" {
		return "the name of an entry, such as part.engine"
	}
	names := make([]string, len(kinds))
	for i, k := range kinds {
		names[i] = k + ".x"
	}
	return "the name of an entry: " + Or(names)
}

// Or joins words as a sentence does.
func Or(words []string) string { return joined(words, " or ") }

// And joins words as a sentence does.
func And(words []string) string { return joined(words, " and ") }

func joined(words []string, last string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + last + words[len(words)-1]
}

// OrAlone is the word that may stand in place of a list, as a sentence goes on.
func (f *Field) OrAlone() string {
	if f.Alone == "" {
		return ""
	}
	return fmt.Sprintf(", or %q", f.Alone)
}
