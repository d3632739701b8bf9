package compare

import (
	"math"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

// MovedAssembly is an assembly whose place changed, with what was read with a tape or an
// angle finder when it stood at the old one.
type MovedAssembly struct {
	Assembly string
	Place    quantity.Place
	By       ledger.Point
	Readings []Reading
}

// Reading is an entry, such as a gap or a shaft, whose readings are as they were
// before a move.
type Reading struct {
	Entry   string
	Place   quantity.Place
	Follows bool // it says that it was taken before the move, and is reckoned along
}

// moves finds the assemblies that stand elsewhere than before.
func moves(a, b *ledger.Build) []*MovedAssembly {
	var out []*MovedAssembly
	for _, now := range b.Assemblies() {
		for _, was := range a.Assemblies() {
			if was.Path() != now.Path() {
				continue
			}
			by := b.Now(now.At).Minus(a.Now(was.At))
			if far(by.X) || far(by.Y) || far(by.Z) {
				m := &MovedAssembly{Assembly: now.Path(), Place: now.Place(), By: by}
				m.read(a, b, now)
				out = append(out, m)
			}
		}
	}
	return out
}

// far: a move of a nanometre is rounding.
func far(q quantity.Quantity) bool { return q.Known() && math.Abs(q.Value()) > 1e-9 }

// read lists what was read between the assembly and something else, and was not
// read anew.
func (m *MovedAssembly) read(a, b *ledger.Build, to *ledger.Assembly) {
	assembly := ledger.Ref{Word: quantity.Written(m.Assembly, nil)}
	hangs := func(r ledger.Ref) bool {
		return r.Names("part").Holds() && b.HangsOn(b.Part(r).At, assembly).Holds()
	}
	for _, r := range b.Readings() {
		if hangs(r.Ends[0]) == hangs(r.Ends[1]) {
			continue
		}
		if old, ok := a.Entry(r.Entry.Path()); ok && sameReadings(old, r.Entry) {
			m.Readings = append(m.Readings, Reading{r.Entry.Path(), r.Entry.Place, r.Before.Holds() || to.MeasuredAt.Known()})
		}
	}
}

// sameReadings tells whether there are readings, and they are as they were. A
// new date says that they were taken anew and came out the same.
func sameReadings(a, b *ledger.Entry) bool {
	was, is := valuesOf(a), valuesOf(b)
	for _, f := range b.Schema().Fields {
		if f.Moves == schema.MovedDate && was[f.Key].Text != is[f.Key].Text {
			return false
		}
	}
	some := false
	for k, v := range is {
		top, _, _ := strings.Cut(k, ".")
		if f := b.Schema().Field(top); f == nil || f.Moves != schema.MovedRead {
			continue
		}
		if w, ok := was[k]; !ok || w.Text != v.Text {
			return false
		}
		some = true
	}
	return some
}
