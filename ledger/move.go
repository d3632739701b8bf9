package ledger

import q "fishplate/ledger/quantity"

// Move is how far a thing has come since some time. What did not move has come
// no way at all, whatever is known of its place.
type Move struct {
	By   Point
	Some q.Truth // it moved
}

var still = Move{Point{q.SI(0, q.Length), q.SI(0, q.Length), q.SI(0, q.Length)}, q.Is(false)}

// Along is the component of the move along a gap's direction; of none, none.
func (m Move) Along(along q.Word) q.Quantity {
	return q.Choose(m.Some, m.By.Axis(along), still.By.X)
}

// MovedSinceWork is how far a part, with what it hangs on, has come since
// before the work: from was-at, where that is given.
func (b *Build) MovedSinceWork(p *Part) Move { return b.moved(p.At, p.WasAt, before, 0) }

// MovedSinceMeasured is how far what a part hangs on has come since the gaps on
// it were taped: from measured-at, where that is given.
func (b *Build) MovedSinceMeasured(p *Part) Move { return b.moved(p.At, Spot{}, taped, 0) }

// moved follows a place to the first thing on its way that stood elsewhere.
// Where a thing sits on what moved is the same at both times and drops out.
func (b *Build) moved(at, was Spot, t when, depth int) Move {
	switch {
	case was.known:
		return Move{b.locate(at, now, depth).Minus(b.locate(was, t, depth)), q.Is(true)}
	case depth > 50:
		return still
	case at.SameAs.Known():
		p := b.Part(at.SameAs)
		return b.moved(p.At, since(t, p.WasAt, Spot{}), t, depth+1)
	case at.From.Known():
		a := b.Assembly(at.From)
		return b.moved(a.At, since(t, a.WasAt, a.MeasuredAt), t, depth+1)
	}
	return still
}

// since is the place that counts at a time.
func since(t when, was, measuredAt Spot) Spot {
	if t == before {
		return was
	}
	return measuredAt
}

// MovedAfter is the assembly on a place's way that the work moved, and dates
// later than a day; nil where there is none, or where the day is not known.
func (b *Build) MovedAfter(at Spot, day Date) *Assembly { return b.movedAfter(at, day, 0) }

func (b *Build) movedAfter(at Spot, day Date, depth int) *Assembly {
	switch {
	case depth > 50:
		return nil
	case at.SameAs.Known():
		p := b.Part(at.SameAs)
		return b.movedAfter(p.At, day, depth+1)
	case at.From.Known():
		a := b.Assembly(at.From)
		if a.WasAt.known && a.Moved.After(day).Holds() {
			return a
		}
		return b.movedAfter(a.At, day, depth+1)
	}
	return nil
}

// HangsOn tells whether a place goes where an assembly goes: from its datum,
// from that of an assembly that hangs on it, or at the same place as a part
// that does.
func (b *Build) HangsOn(s Spot, assembly Ref) q.Truth { return b.hangsOn(s, assembly, 0) }

func (b *Build) hangsOn(s Spot, assembly Ref, depth int) q.Truth {
	switch {
	case depth > 50:
		return q.Is(false)
	case s.SameAs.Known():
		return b.hangsOn(b.Part(s.SameAs).At, assembly, depth+1)
	case s.From.Known():
		return assembly.Is(s.From.String()).Or(b.hangsOn(b.Assembly(s.From).At, assembly, depth+1))
	}
	return q.Is(false)
}

// Ends are the two things that a gap is between. Where it does not name two,
// the others wait for between.
func (g *Gap) Ends() (a, b Ref) {
	absent := Ref{q.MissingWord(&q.Source{Entry: g.path, Key: "between", Place: g.place})}
	ends := append(g.Between[:len(g.Between):len(g.Between)], absent, absent)
	return ends[0], ends[1]
}

// Gift is what a part gives of a kind of hookup, and whether it gives any. Of
// a part that is not there both are missing.
func (p *Part) Gift(kind string) (Hookup, q.Truth) {
	h, ok := p.Gives[kind]
	switch {
	case p.entry != nil && (ok || !p.entry.damaged):
		return h, q.Is(ok)
	case !ok: // of a damaged part it may have stood there
		h = Hookup{Kind: kind, Level: q.WaitsFor(q.Any, p.needs)}
	}
	return h, q.Unknown(h.Level.Needs())
}
