package ledger

import (
	"reflect"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

// Between is what an entry says was read between two things, such as a gap by a
// tape: it holds as long as neither moves.
type Between struct {
	Entry *Entry
	Ends  []Ref
	// Before tells that it was read before the move, and is reckoned along.
	Before q.Truth
}

// Readings are what was read between two things, by the paths of their entries.
func (b *Build) Readings() []Between {
	var out []Between
	for _, e := range b.Entries() {
		r := Between{Entry: e, Before: q.Is(false)}
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
			}
		}
		if len(r.Ends) == 2 {
			out = append(out, r)
		}
	}
	return out
}
