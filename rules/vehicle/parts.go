package vehicle

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

// Aboard tells whether the finished vehicle carries a part: it is fitted, and
// did not come off without going on again.
func Aboard(p *ledger.Part) q.Truth {
	backOn := p.FittedOn.Given().And(p.FittedOn.After(p.RemovedOn))
	cameOff := p.RemovedOn.Given().And(backOn.Not())
	return p.Fitted.And(cameOff.Not())
}

// FromElsewhere tells that a part is not the one that the vehicle came with.
func FromElsewhere(p *ledger.Part) q.Truth { return p.Origin.Is("donor", "bought", "made") }

// AboardAt tells whether the vehicle carried a part when it was weighed.
func AboardAt(p *ledger.Part, w *ledger.Weighing) q.Truth {
	wentOnLater := p.FittedOn.Given().And(p.FittedOn.After(w.Date))
	cameOffLater := p.RemovedOn.Given().And(p.RemovedOn.After(w.Date))
	return wentOnLater.Not().And(Aboard(p).Or(cameOffLater))
}

// effect is what a part does to the curb as received, at a time at which the
// vehicle carries it or not.
func effect(b *ledger.Build, p *ledger.Part, aboard q.Truth) []PointMass {
	original := p.Origin.Is("original")
	switch {
	case p.CountedIn.Known():
		return nil
	case !original.Known():
		m := partNow(b, p)
		return []PointMass{{Mass: q.Choose(original, m.Mass, m.Mass), At: m.At}}
	case !aboard.Known():
		m := partNow(b, p)
		return []PointMass{{Mass: q.Choose(aboard, m.Mass, m.Mass), At: m.At}}
	case original.Holds() && aboard.Fails():
		return []PointMass{partThen(b, p).less()}
	case original.Holds() && differs(b, p).Holds():
		return []PointMass{partNow(b, p), partThen(b, p).less()}
	case original.Fails() && aboard.Holds():
		return []PointMass{partNow(b, p)}
	}
	return nil
}

// partNow is a part as it is now, where it is now.
func partNow(b *ledger.Build, p *ledger.Part) PointMass {
	return PointMass{Mass: Several(p.Count, p.Mass), At: b.Now(p.At)}
}

// partThen is an original part as it was as received.
func partThen(b *ledger.Build, p *ledger.Part) PointMass {
	return PointMass{Mass: Several(p.Count, q.FirstOf(p.MassWas, p.Mass)), At: b.Before(p.At, p.WasAt)}
}

// differs tells that an original part bears otherwise than as received: it has
// a mass, and had another or sat elsewhere.
func differs(b *ledger.Build, p *ledger.Part) q.Truth {
	return p.Mass.Given().And(p.MassWas.Given().Or(q.Is(b.Moved(p.At, p.WasAt))))
}

// dated tells that a part says when it went on or came off.
func dated(p *ledger.Part) bool { return p.FittedOn.Known() || p.RemovedOn.Known() }

// since is what a part does to a weighing by having gone on, come off or moved
// after.
func since(b *ledger.Build, p *ledger.Part, w *ledger.Weighing) []PointMass {
	if p.CountedIn.Known() {
		return nil
	}
	now, then := Aboard(p), AboardAt(p, w)
	at := b.Now(p.At)
	if !p.At.Known() {
		at = b.Before(p.At, p.WasAt)
	}
	m := PointMass{Mass: Several(p.Count, p.Mass), At: at}
	switch {
	case !now.Known():
		return []PointMass{{Mass: q.Choose(now, m.Mass, m.Mass), At: at}}
	case !then.Known():
		return []PointMass{{Mass: q.Choose(then, m.Mass, m.Mass), At: at}}
	case now.Holds() && then.Fails():
		return []PointMass{m}
	case now.Fails() && then.Holds():
		return []PointMass{m.less()}
	case now.Holds():
		if moved := b.MovedSinceRead(w.Reading(), p); moved.Some.Holds() && m.Mass.Known() {
			return []PointMass{m, PointMass{Mass: m.Mass, At: at.Minus(moved.By)}.less()}
		}
	}
	return nil
}

// allParts gathers what each part does.
func allParts(b *ledger.Build, does func(*ledger.Part) []PointMass) []PointMass {
	var out []PointMass
	for _, p := range b.Parts() {
		out = append(out, does(p)...)
	}
	return out
}

// rides is what the vehicle carries when it is loaded. A ledger that says of
// nobody and nothing that it rides along has not said that the vehicle drives
// itself.
func rides(b *ledger.Build) []PointMass {
	if len(b.Loads()) > 0 {
		return loads(b.Loads(), b)
	}
	here := q.SI(0, q.Length)
	return []PointMass{{Mass: q.Waits(q.Mass, "a load.x for all that ride along", b.Main()), At: ledger.Point{X: here, Y: here, Z: here}}}
}

// loads is what some loads weigh, and where.
func loads(all []*ledger.Load, b *ledger.Build) []PointMass {
	var out []PointMass
	for _, l := range all {
		out = append(out, PointMass{Mass: Several(l.Count, l.Mass), At: b.Now(l.At)})
	}
	return out
}

// aboard is the loads on board at a weighing.
func aboard(b *ledger.Build, w *ledger.Weighing) []PointMass {
	var all []*ledger.Load
	for _, r := range w.Aboard {
		all = append(all, b.Load(r))
	}
	return loads(all, b)
}
