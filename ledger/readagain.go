package ledger

import (
	"math"
	"slices"
	"strings"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

// sameEnough is how far the ends of a reading that runs no one way may come apart and the
// reading come out the same: half an inch at a shaft is either half an inch of
// its length or half a degree on 57 in of it. Common practice, no source.
const sameEnough = 0.0127

// again tells that the reading was taken again. Its date says so; where there is
// none its values do, and where a move got a date too, which may be the same.
func (x outliving) again() bool {
	switch was, is := x.o.Read, x.r.Read; {
	case is.Known() && (!was.Known() || is.String() > was.String()):
		return true
	case was.String() != is.String():
		return false
	case !is.Known():
		return x.says(true)
	}
	return x.says(true) && x.dated()
}

// says tells whether the values that both give are all others, or all the same.
func (x outliving) says(other bool) bool {
	was := readIn(x.o.Entry)
	some := false
	for key, v := range readIn(x.r.Entry) {
		w, both := was[key]
		if !both {
			continue
		}
		if same := v.same(w); same == other {
			return false
		}
		some = true
	}
	return some || other
}

// SameReading tells that two entries say the same of what was read, and when.
func SameReading(e, f *Entry) bool {
	if e == nil || f == nil || e.schema != f.schema {
		return false
	}
	of := func(e *Entry) []Value {
		return slices.DeleteFunc(e.Values(), func(v Value) bool {
			top := e.schema.Field(strings.SplitN(v.Key, ".", 2)[0])
			return top == nil || top.Moves == schema.MovedNot
		})
	}
	return slices.EqualFunc(of(e), of(f), sameValue)
}

// read is what a reading says: text, and a number where it is one.
type read struct {
	text  string
	value q.Reading
	ok    bool
}

// same tells whether two say the same figure, however it is spelled.
func (r read) same(o read) bool {
	if r.ok && o.ok {
		return math.Abs(r.value.Value-o.value.Value) <= 1e-9*max(1, math.Abs(r.value.Value))
	}
	return r.text == o.text
}

// readIn are the values of an entry that were read.
func readIn(e *Entry) map[string]read {
	out := map[string]read{}
	for _, v := range e.Values() {
		top := e.schema.Field(strings.SplitN(v.Key, ".", 2)[0])
		if top == nil || top.Moves != schema.MovedRead {
			continue
		}
		r := read{text: v.Text}
		if f := e.schema.At(v.Key); f != nil && f.TakesQuantity() {
			value, err := q.Parse(v.Text, f.Dim, q.Options{})
			r.value, r.ok = value, err == nil
		}
		out[v.Key] = r
	}
	return out
}

// dated tells that a move of one of the ends has a date that it had not.
func (x outliving) dated() bool {
	return slices.ContainsFunc(x.r.Ends, func(end Ref) bool { return isPart(end) && x.is.newlyDated(x.was, x.is.Part(end)) })
}

// newlyDated tells that a part, or something that it goes along with, has
// another date of a move than in an older revision.
func (b *Build) newlyDated(older *Build, p *Part) bool {
	for x := range b.way(p) {
		e, ok := older.own(x.path)
		if !ok || !x.moved.Known() {
			continue
		}
		if old, ok := older.thingOf(e); ok && old.moved.String() != x.moved.String() {
			return true
		}
	}
	return false
}

// unlikely tells that what was taken again came out the same to the digit, though
// the ends came apart, or together, by more than all tolerances.
func (x outliving) unlikely(by Point) bool {
	if !x.says(false) {
		return false
	}
	if !x.r.Along.Known() {
		return slices.ContainsFunc([]q.Quantity{by.X, by.Y, by.Z}, func(v q.Quantity) bool { return v.Known() && math.Abs(v.Value()) > sameEnough })
	}
	v := by.Axis(x.r.Along)
	if !v.Known() {
		return false
	}
	low, high := v.Bounds()
	room := (high - low) / 2
	for _, r := range readIn(x.r.Entry) {
		if r.ok {
			room += (r.value.High - r.value.Low) / 2
		}
	}
	return math.Abs(v.Value()) > room
}
