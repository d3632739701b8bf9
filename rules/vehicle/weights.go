package vehicle

import (
	"slices"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

// State is what stands on an axle, or on both, in several states. All are
// masses in kg.
type State struct {
	Received  q.Quantity // curb as received, from the scale
	Predicted q.Quantity // curb now, from Received and what the ledger changed
	Built     q.Quantity // curb as built, from the scale
	Expected  q.Quantity // what Built should have been by the ledger; like Built, missing where there is none
	Curb      q.Quantity // as judged: Built and what came since, else Predicted
	Loaded    q.Quantity // Curb and every load; it waits for one where the ledger has none
	Weighed   q.Truth    // there is a weighing as built; where not, it waits for one
}

// Weights are the states of the axles and of the whole.
type Weights struct{ Front, Rear, Total State }

type weightsKey struct{}

// WeightsOf reckons a build's weights, once.
func WeightsOf(b *ledger.Build) *Weights {
	return ledger.Memo(b, weightsKey{}, func() *Weights {
		r, c := b.Weighed("as-received"), b.Weighed("as-built")
		l := b.Vehicle().Wheelbase
		m := changesOf(b)
		return &Weights{
			Front: station{"front", "W_f", "m (1 - x/L)", r.Front, c.Front, func(p PointMass) q.Quantity { return OnFront(p.Mass, p.At.X, l) }}.state(m),
			Rear:  station{"rear", "W_r", "m x/L", r.Rear, c.Rear, func(p PointMass) q.Quantity { return OnRear(p.Mass, p.At.X, l) }}.state(m),
			Total: station{"total", "(W_f + W_r)", "m", r.Front.Add(r.Rear), c.Front.Add(c.Rear), func(p PointMass) q.Quantity { return p.Mass }}.state(m),
		}
	})
}

// Of is the state of an axle.
func (w *Weights) Of(a *ledger.Axle) State {
	if a.Path() == "vehicle.rear" {
		return w.Rear
	}
	return w.Front
}

// changes are the masses that lead from a scale's reading to each state.
type changes struct {
	built, weighed                 q.Truth // there is a weighing as built; weighed waits for one where not
	stripped, strippedBuilt        []PointMass
	parts, partsThen, tanks, later []PointMass
	loads                          []PointMass
}

type changesKey struct{}

func changesOf(b *ledger.Build) *changes {
	return ledger.Memo(b, changesKey{}, func() *changes {
		received, built := b.Weighed("as-received"), b.Weighed("as-built")
		m := &changes{
			built:    built.Given(),
			weighed:  awaited(built),
			stripped: slices.Concat(less(aboard(b, received)), rooms(b, received, fullThen)),
			parts:    allParts(b, func(p *ledger.Part) []PointMass { return effect(b, p, Aboard(p)) }),
			tanks:    tankChanges(b),
			loads:    rides(b),
		}
		if m.built.Fails() {
			return m
		}
		m.strippedBuilt = slices.Concat(less(aboard(b, built)), rooms(b, built, full))
		m.later = allParts(b, func(p *ledger.Part) []PointMass { return since(b, p, built) })
		m.partsThen = m.parts
		if slices.ContainsFunc(b.Parts(), dated) {
			m.partsThen = allParts(b, func(p *ledger.Part) []PointMass { return effect(b, p, AboardAt(p, built)) })
		}
		return m
	})
}

// awaited is that a weighing is there, and missing where it is not.
func awaited(w *ledger.Weighing) q.Truth {
	return w.Given().Or(q.Unknown([]q.Need{{Key: w.Path(), Place: w.Place()}}))
}

// station is where weight is reckoned: an axle, or both together.
type station struct {
	name, scale, term string
	received, built   q.Quantity // what the scale read
	share             func(PointMass) q.Quantity
}

// sum adds the shares of masses to a base. It is one sum, so that what two
// terms share, such as the wheelbase, is worked out together.
func (s station) sum(base q.Quantity, masses ...[]PointMass) q.Quantity {
	terms := []q.Quantity{base}
	for _, group := range masses {
		for _, p := range group {
			terms = append(terms, p.signed(s.share(p)))
		}
	}
	return q.Sum(q.Mass, terms...)
}

func (s station) state(m *changes) State {
	out := State{Weighed: m.weighed}
	strip := s.scale + " - sum of aboard " + s.term + " + sum of tank room " + s.term
	out.Received = s.sum(s.received, m.stripped).As(s.name+" curb as received", strip)
	out.Predicted = s.sum(out.Received, m.parts, m.tanks).As(s.name+" curb predicted",
		s.name+" curb as received + sum of on "+s.term+" - sum of off "+s.term+" + full tanks now - full tanks then")
	out.Curb = out.Predicted
	if !m.built.Fails() {
		out.Expected = s.sum(out.Received, m.partsThen, m.tanks).As(s.name+" curb expected on the scale",
			s.name+" curb as received + sum of on "+s.term+" - sum of off "+s.term+" + full tanks now - full tanks then")
		out.Built = s.sum(s.built, m.strippedBuilt).As(s.name+" curb as built", strip)
		out.Curb = q.Choose(m.built, out.withSince(s, m), out.Predicted)
	}
	out.Loaded = s.sum(out.Curb, m.loads).As(s.name+" load", s.name+" curb + sum of loads "+s.term)
	return out
}

// withSince is the curb as built with what went on or came off after.
func (o State) withSince(s station, m *changes) q.Quantity {
	if len(m.later) == 0 {
		return o.Built
	}
	return s.sum(o.Built, m.later).As(s.name+" curb as built, with what came since", s.name+" curb as built + sum of later on "+s.term+" - sum of later off "+s.term)
}
