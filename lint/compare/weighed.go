package compare

import (
	"math"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
)

// Ask is what went on, came off or moved since the older ledger and says no date, though
// the vehicle was weighed as built: was that before the weighing or after it?
type Ask struct {
	Entry, Key, Did string // the date that tells, and what was done
	Weighing        string
	Place           quantity.Place
}

// weighing is the weighing as built that both ledgers have, and what changed.
type weighing struct {
	weighing *ledger.Weighing
	asks     []*Ask
	moves    map[string]ledger.Move
}

// weighed holds the parts of two ledgers against the weighing that both have;
// false where there is none, or what changed is less than its scale tells apart.
func weighed(old, now *ledger.Build) (weighing, bool) {
	v, w := old.Weighed("as-built"), now.Weighed("as-built")
	if !v.Given().Holds() || !w.Given().Holds() || v.Date.String() != w.Date.String() || v.Front.Spelling() != w.Front.Spelling() || v.Rear.Spelling() != w.Rear.Spelling() {
		return weighing{}, false
	}
	out := weighing{weighing: w, moves: map[string]ledger.Move{}}
	was := map[string]*ledger.Part{}
	for _, p := range old.Parts() {
		was[p.Path()] = p
	}
	effect := 0.0
	asked := map[string]bool{}
	ask := func(path string, place quantity.Place, key, did string, share float64) {
		if effect += share; !asked[path] {
			asked[path] = true
			out.asks = append(out.asks, &Ask{path, key, did, w.Path(), place})
		}
	}
	came := now.CameSince(old)
	for _, p := range now.Parts() {
		o := was[p.Path()]
		delete(was, p.Path())
		switch on, wasOn := p.Rides(), o != nil && o.Rides(); {
		case p.Origin.Is("original").Holds() && o == nil, p.CountedIn.Known():
		case on && !wasOn && !p.FittedOn.Known():
			ask(p.Path(), p.Place(), "fitted-on", "went on", massOf(p))
		case !on && wasOn && !p.RemovedOn.Known():
			ask(p.Path(), p.Place(), "removed-on", "came off", massOf(o))
		case on && wasOn:
			if by, ok := came[p.Path()]; ok {
				out.moves[p.Path()] = by.Move
				e, _ := now.Entry(by.With)
				ask(by.With, e.Place, "moved", "moved", massOf(p)*share(by.Move, now.Vehicle().Wheelbase))
			}
		}
	}
	for _, o := range old.Parts() {
		if was[o.Path()] != nil && o.Rides() && !o.CountedIn.Known() && !o.Origin.Is("original").Holds() {
			ask(o.Path(), o.Place(), "removed-on", "is gone", massOf(o))
		}
	}
	return out, effect > tells(w)
}

// massOf is the mass of all of a part; infinite where it is not known.
func massOf(p *ledger.Part) float64 {
	if m := p.Mass.Mul(p.Count); m.Known() {
		return m.Value()
	}
	return math.Inf(1)
}

// share is how much of its mass a part that moved brings from one axle to the other.
func share(by ledger.Move, wheelbase quantity.Quantity) float64 {
	if !by.By.X.Known() || !wheelbase.Known() {
		return 1
	}
	return math.Abs(by.By.X.Value() / wheelbase.Value())
}

// tells is what the scale tells apart, in kg: half of the reading's width.
func tells(w *ledger.Weighing) float64 {
	sum := w.Front.Add(w.Rear)
	if !sum.Known() {
		return 0
	}
	low, high := sum.Bounds()
	return (high - low) / 2
}
