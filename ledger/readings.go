package ledger

import (
	"reflect"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

// Between is what an entry says was read between two things, such as a gap by a
// tape: it holds as long as neither moves.
type Between struct {
	Reading
	Entry *Entry
	Ends  []Ref
	Along q.Word // which way it runs from the first to the second; missing where it does not say
}

// Readings are what was read between two things, by the paths of their entries.
func (b *Build) Readings() []Between { return memo(b, "readings", b.readings) }

func (b *Build) readings() []Between {
	var out []Between
	for _, e := range b.Entries() {
		r := Between{Reading: Reading{Path: e.path, Before: q.Is(false)}, Entry: e}
		v := reflect.ValueOf(b.View(e)).Elem()
		for _, f := range e.schema.Fields {
			switch x := v.Field(f.Index).Interface().(type) {
			case Ref:
				if f.Moves == schema.MovedEnd {
					r.Ends = append(r.Ends, x)
				}
			case []Ref:
				if f.Moves == schema.MovedEnd {
					r.Ends = append(r.Ends, x...)
				}
			case q.Truth:
				if f.Moves == schema.MovedBefore {
					r.Before = x
				}
			case Date:
				if f.Moves == schema.MovedDate {
					r.Read = x
				}
			case q.Word:
				if f.Moves == schema.MovedAlong {
					r.Along = x
				}
			}
		}
		if len(r.Ends) == 2 {
			out = append(out, r)
		}
	}
	return out
}
