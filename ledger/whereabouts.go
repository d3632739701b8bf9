package ledger

import (
	"reflect"
	"strings"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

// Whereabouts is where in the vehicle an entry is to be found: its own place,
// else that of the first entry that it names and that has one; false where
// nothing tells.
func (b *Build) Whereabouts(e *Entry) (Point, bool) { return b.whereabouts(e, 0, trail{}) }

func (b *Build) whereabouts(e *Entry, depth int, t trail) (Point, bool) {
	if t.ends(e, depth) {
		return Point{}, false
	}
	v := reflect.ValueOf(e.view).Elem()
	for _, f := range e.schema.Fields {
		if s, ok := v.Field(f.Index).Interface().(Spot); ok && s.known {
			if p := b.Now(s); p.X.Known() && p.Y.Known() {
				return p, true
			}
		}
	}
	t[e] = depth
	for _, r := range e.refs {
		if p, ok := b.whereabouts(b.EntryOf(r.to), depth+1, t); ok {
			return p, true
		}
	}
	return Point{}, false
}

// Ends are the things that an entry goes between, in words: of a gap the two,
// of a hose or a wire where it comes from and what it goes to. None where it
// does not go between any.
func (b *Build) Ends(e *Entry) []string {
	v := reflect.ValueOf(e.view).Elem()
	var out []string
	for _, f := range e.schema.Fields {
		if !f.Between && f.Moves != schema.MovedEnd {
			continue
		}
		switch x := v.Field(f.Index).Interface().(type) {
		case Ref:
			if x.Known() {
				out = append(out, b.called(x))
			}
		case []Ref:
			var several []string
			for _, r := range x {
				several = append(several, b.called(r))
			}
			if f.Moves == schema.MovedEnd {
				out = append(out, several...)
			} else if len(several) > 0 {
				out = append(out, strings.Join(several, ", "))
			}
		}
	}
	if len(out) != 2 {
		return nil
	}
	return out
}

// called is what people call a thing that is named: its name where it has one,
// else the words or the path.
func (b *Build) called(r Ref) string {
	if name := b.Called(b.EntryOf(r.String())); name != "" {
		return name
	}
	return r.String()
}

// Called is the name that an entry gives itself, or "".
func (b *Build) Called(e *Entry) string {
	if e == nil {
		return ""
	}
	for _, f := range e.schema.Fields {
		if f.Called {
			w, _ := reflect.ValueOf(e.view).Elem().Field(f.Index).Interface().(q.Word)
			return w.String()
		}
	}
	return ""
}
