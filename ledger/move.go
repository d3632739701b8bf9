package ledger

import (
	"iter"

	q "fishplate/ledger/quantity"
)

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

// Reading is when something was read off parts, of which one may have moved since.
type Reading struct {
	Path   string  // of its entry
	Before q.Truth // it says that it was read before the move
	Read   Date
}

// Reading is when the gap was measured.
func (g *Gap) Reading() Reading { return Reading{g.path, g.BeforeMove, g.Read} }

// Reading is when the shaft was read.
func (s *Shaft) Reading() Reading { return Reading{s.path, s.BeforeMove, s.Read} }

// Reading is when the scale was read.
func (w *Weighing) Reading() Reading { return Reading{w.path, q.Is(false), w.Date} }

// MovedSinceWork is how far a part, with what it hangs on, has come since
// before the work: from was-at, where that is given.
func (b *Build) MovedSinceWork(p *Part) Move { return b.moved(p.thing(), when{at: before}, 0) }

// MovedSinceRead is how far a part, with what it hangs on, has come since
// something was read off it: from was-at where that was before the move, as
// before-move or the dates say, and from measured-at where that is given.
func (b *Build) MovedSinceRead(r Reading, p *Part) Move {
	if m, ok := b.carried[r.Path][p.path]; ok {
		return m
	}
	work, since := b.MovedSinceWork(p), b.moved(p.thing(), when{asRead, r.Read}, 0)
	return Move{Point{
		q.Choose(r.Before, work.By.X, since.By.X),
		q.Choose(r.Before, work.By.Y, since.By.Y),
		q.Choose(r.Before, work.By.Z, since.By.Z),
	}, r.Before.And(work.Some).Or(r.Before.Not().And(since.Some))}
}

// Carried are moves that the ledger itself does not tell of, by the path of the
// reading's entry and that of the part: an earlier revision had it elsewhere.
type Carried map[string]map[string]Move

// Carrying is the build with readings carried over by such moves.
func (b *Build) Carrying(c Carried) *Build {
	out := *b
	out.carried, out.memo = c, map[any]memoized{}
	return &out
}

// thing is a part or an assembly as to where it stands.
type thing struct {
	path                string
	place               q.Place
	at, was, measuredAt Spot
	moved, corrected    Date
}

func (p *Part) thing() thing {
	return thing{path: p.path, place: p.place, at: p.At, was: p.WasAt, moved: p.Moved, corrected: p.Corrected}
}

func (a *Assembly) thing() thing {
	return thing{a.path, a.place, a.At, a.WasAt, a.MeasuredAt, a.Moved, a.Corrected}
}

// over is what a place goes along with; false where it stands by itself.
func (b *Build) over(s Spot) (thing, bool) {
	switch {
	case s.SameAs.Known():
		return b.Part(s.SameAs).thing(), true
	case s.From.Known():
		return b.Assembly(s.From).thing(), true
	}
	return thing{}, false
}

// then is where the thing stood at a time, if not where it is now. It is lost
// where the thing has moved since, and the ledger does not say from where.
func (x thing) then(t when) (was Spot, lost bool) {
	switch {
	case t.at == before:
		return x.was, false
	case t.at == asRead && x.measuredAt.known:
		return x.measuredAt, false
	case t.at == asRead && x.movedAfter(t.day):
		return x.was, !x.was.known
	}
	return Spot{}, false
}

// movedAfter tells that the thing moved on a day after a reading; one without a
// date is taken as from before a move that has one.
func (x thing) movedAfter(read Date) bool {
	return x.moved.Known() && (read.Given().Fails() || x.moved.After(read).Holds())
}

// moved follows a place to the first thing on its way that stood elsewhere.
// Where a thing sits on what moved is the same at both times and drops out.
func (b *Build) moved(x thing, t when, depth int) Move {
	was, lost := x.then(t)
	on, goes := b.over(x.at)
	switch {
	case lost:
		w := q.Waits(q.Length, "where "+x.path+" stood before it moved (was-at)", x.place)
		return Move{Point{w, w, w}, q.Is(true)}
	case was.known:
		return Move{b.locate(x.at, when{}, depth).Minus(b.locate(was, t, depth)), q.Is(true)}
	case goes && depth <= 50:
		return b.moved(on, t, depth+1)
	}
	return still
}

// MovesOf are the moves of a part by itself and with what it goes along with, each
// with its date: a thing moved that says where it stood before, or when it moved.
func (b *Build) MovesOf(p *Part) iter.Seq2[string, Date] {
	return func(yield func(string, Date) bool) {
		for x := range b.way(p) {
			if (x.was.known || x.moved.Known()) && !yield(x.path, x.moved) {
				return
			}
		}
	}
}

// way is a part and what it goes along with, the nearest first.
func (b *Build) way(p *Part) iter.Seq[thing] {
	return func(yield func(thing) bool) {
		x, goes := p.thing(), true
		for depth := 0; goes && depth <= 50 && yield(x); depth++ {
			x, goes = b.over(x.at)
		}
	}
}

// MovedAfter is what moved of a part and what it hangs on, and when, if that was
// later than a day on which something was read off it; "" where nothing did.
func (b *Build) MovedAfter(p *Part, day Date) (path string, on Date) {
	for x := range b.way(p) {
		if x.movedAfter(day) {
			return x.path, x.moved
		}
	}
	return "", Date{}
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
