package compare

import (
	"math"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
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
func moves(a, b *ledger.Build, outlived []ledger.Outlived) []*MovedAssembly {
	var out []*MovedAssembly
	for _, now := range b.Assemblies() {
		for _, was := range a.Assemblies() {
			if was.Path() != now.Path() {
				continue
			}
			by := b.Now(now.At).Minus(a.Now(was.At))
			if far(by.X) || far(by.Y) || far(by.Z) {
				m := &MovedAssembly{Assembly: now.Path(), Place: now.Place(), By: by}
				m.read(b, outlived)
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
func (m *MovedAssembly) read(b *ledger.Build, outlived []ledger.Outlived) {
	assembly := ledger.Ref{Word: quantity.Written(m.Assembly, nil)}
	hangs := func(r ledger.Ref) bool {
		return r.Names("part").Holds() && b.HangsOn(b.Part(r).At, assembly).Holds()
	}
	for _, o := range outlived {
		if hangs(o.Ends[0]) != hangs(o.Ends[1]) {
			m.Readings = append(m.Readings, Reading{o.Path, o.Entry.Place, !o.Stale})
		}
	}
}
