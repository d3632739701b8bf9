package history

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
)

// facts are what a commit is told apart by from the one before it, in what happened
// to the vehicle.
type facts struct {
	Stage   string               `json:"stage"`
	Weighed map[string]string    `json:"weighed,omitempty"` // by its entry, what the scale read
	Stands  map[string][]float64 `json:"stands,omitempty"`  // by the assembly, what is known of where, in m; past any place what is not
	Moved   map[string]string    `json:"moved,omitempty"`   // by the part, the day of its own move
}

// nowhere stands for a coordinate that is not known.
const nowhere = math.MaxFloat64

func factsOf(b *ledger.Build) *facts {
	f := &facts{b.Stage().String(), map[string]string{}, map[string][]float64{}, map[string]string{}}
	for _, w := range b.Weighings() {
		if w.Front.Known() || w.Rear.Known() {
			f.Weighed[w.Path()] = w.Front.Spelling() + " " + w.Rear.Spelling() + " " + w.Date.String()
		}
	}
	for _, a := range b.Assemblies() {
		at := b.Now(a.At)
		for _, q := range []quantity.Quantity{at.X, at.Y, at.Z} {
			v := nowhere
			if q.Known() {
				v = q.Value()
			}
			f.Stands[a.Path()] = append(f.Stands[a.Path()], v)
		}
	}
	for _, p := range b.Parts() {
		if p.Moved.Known() {
			f.Moved[p.Path()] = p.Moved.String()
		}
	}
	return f
}

// since says what happened since an earlier commit: a stage, a weighing, a move.
func (f *facts) since(old *facts) (out []string) {
	if f.Stage != old.Stage {
		out = append(out, fmt.Sprintf("stage %s, before %s", f.Stage, old.Stage))
	}
	for _, w := range slices.Sorted(maps.Keys(f.Weighed)) {
		if f.Weighed[w] != old.Weighed[w] {
			out = append(out, w)
		}
	}
	for _, a := range slices.Sorted(maps.Keys(f.Stands)) {
		if was := old.Stands[a]; was != nil && elsewhere(f.Stands[a], was) {
			out = append(out, a+" moved")
		}
	}
	for _, p := range slices.Sorted(maps.Keys(f.Moved)) {
		if f.Moved[p] != old.Moved[p] {
			out = append(out, p+" moved")
		}
	}
	return out
}

// elsewhere tells that some coordinate was known and is another; a nanometre is
// rounding.
func elsewhere(now, was []float64) bool {
	for i, v := range now {
		if i < len(was) && v != nowhere && was[i] != nowhere && math.Abs(v-was[i]) > 1e-9 {
			return true
		}
	}
	return false
}
