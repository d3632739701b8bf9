package drawing

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/lint/report/shown"
)

// item is a thing with a place in the vehicle.
type item struct {
	sort    sort
	path    string
	name    string
	mass    q.Quantity
	at      ledger.Point
	was     *ledger.Point // where it sat before the work, if elsewhere
	moved   ledger.Point  // how far it has come since
	number  string        // in the key; "" where it has none
	state   state         // between two states of the build
	massWas q.Quantity    // before, where that is another
}

// sort is what sort of thing it is.
type sort uint8

const (
	part sort = iota
	load
	tank
)

// state is what became of a thing between two states of a build.
type state uint8

const (
	only    state = iota // there is one state of the build
	same                 // nothing became of it
	changed              // it has another mass or place
	added
	gone
)

// look is how a thing looks by its sort, or by what became of it.
func (i item) look() Look {
	switch i.state {
	case same:
		return "d-same"
	case changed:
		return "d-changed"
	case added:
		return "d-new"
	case gone:
		return "d-ghost"
	}
	return [...]Look{"d-part", "d-load", "d-tank"}[i.sort]
}

// items are all that the finished vehicle carries and that has a place, numbered
// from the front to the rear, and words for what has none.
func (s *subject) items() (placed []item, beside []string) {
	var nowhere, unknown []string
	add := func(i item, spot ledger.Spot) {
		switch {
		case !spot.Known():
			nowhere = append(nowhere, i.name)
		case !known(i.at.X, i.at.Y, i.at.Z):
			unknown = append(unknown, i.name)
		default:
			placed = append(placed, i)
		}
	}
	b := s.Build
	for _, p := range b.Parts() {
		if !s.Aboard(p).Holds() || s.hides(p.Path(), "at") {
			continue
		}
		i := item{sort: part, path: p.Path(), name: s.called(p.Path(), called(p.Name, p.Path())), at: b.Now(p.At)}
		if !p.CountedIn.Known() && !s.hides(p.Path(), "mass", "count") {
			i.mass = p.Mass.Mul(p.Count)
		}
		if p.Origin.Is("original").Holds() && b.Moved(p.At, p.WasAt) && !s.hides(p.Path(), "was-at") {
			if was := b.Before(p.At, p.WasAt); known(was.X, was.Y, was.Z) {
				i.was, i.moved = &was, b.MovedSinceWork(p).By
			}
		}
		add(i, p.At)
	}
	for _, l := range b.Loads() {
		if s.hides(l.Path(), "at", "mass", "count") {
			continue
		}
		add(item{sort: load, path: l.Path(), name: s.called(l.Path(), spaced(idOf(l.Path()))), mass: l.Mass.Mul(l.Count), at: b.Now(l.At)}, l.At)
	}
	for _, t := range b.Tanks() {
		if t.Capacity.Equals(0).Holds() || s.hides(t.Path(), "at", "capacity", "fluid") {
			continue
		}
		i := item{sort: tank, path: t.Path(), name: s.called(t.Path(), "tank "+spaced(idOf(t.Path()))), at: b.Now(t.At), mass: t.Capacity.Mul(s.Density(t.Fluid))}
		if b.Moved(t.At, t.WasAt) {
			if was := b.Before(t.At, t.WasAt); known(was.X, was.Y, was.Z) {
				i.was, i.moved = &was, i.at.Minus(was)
			}
		}
		add(i, t.At)
	}
	slices.SortStableFunc(placed, func(a, b item) int {
		return cmp.Or(cmp.Compare(a.at.X.Value(), b.at.X.Value()), lint.Natural(a.path, b.path))
	})
	for i := range placed {
		placed[i].number = strconv.Itoa(i + 1)
	}
	if len(nowhere) > 0 {
		beside = append(beside, "No place in the ledger: "+strings.Join(nowhere, "; "))
	}
	if len(unknown) > 0 {
		beside = append(beside, "A place that is not known: "+strings.Join(unknown, "; "))
	}
	return placed, beside
}

// known tells that values are there, and can be drawn.
func known(values ...q.Quantity) bool {
	return !slices.ContainsFunc(values, func(v q.Quantity) bool {
		return !v.Known() || math.IsInf(v.Value(), 0) || math.IsNaN(v.Value())
	})
}

// called is what people call an entry; its id where it has no name.
func called(name q.Word, path string) string {
	if name.Known() {
		return shown.Clean(name.String())
	}
	return spaced(idOf(path))
}

// idOf is the id of an entry's path.
func idOf(path string) string {
	for i, r := range path {
		if r == '.' {
			return path[i+1:]
		}
	}
	return path
}

// spaced is an id as words. All that comes from a ledger is clean before it is
// measured, for what is spelt out is longer.
func spaced(id string) string { return shown.Clean(strings.ReplaceAll(id, "-", " ")) }

// keyOf is the table that goes with numbered things.
func (s *subject) keyOf(items []item) Table {
	t := Table{Key: true}
	for _, i := range items {
		mass := "not known"
		if i.mass.Known() {
			mass = s.short(i.mass)
		} else if len(i.mass.Needs()) == 0 {
			mass = "counted in another"
		}
		t.Rows = append(t.Rows, []string{i.number, i.name, mass})
	}
	return t
}

// short is a figure to three digits, without its tolerance, in the build's unit.
func (s *subject) short(v q.Quantity) string {
	u := s.style.Unit(v)
	return u.Join(u.Number(v.Shown(), 3))
}
