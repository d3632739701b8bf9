package ledger

import (
	"slices"

	q "fishplate/ledger/quantity"
)

// Outlived is a reading of an older revision that stands in a newer one, though
// one of its ends is not where it was.
type Outlived struct {
	Between
	// Stale tells that the newer ledger does not know of the move, or of all of it,
	// by before-move, measured-at or dates.
	Stale bool
	// By is how far each end came that the newer ledger does not know of.
	By [2]Point
	// Since is how far each end that is a part came since the reading, by its path.
	Since map[string]Move
	// Swapped are the parts that the reading was of, and that another end stands for.
	Swapped []string
	// Back are the ends that were off the vehicle, and are on it now.
	Back []string
	// Gone tells that the newer ledger has no such reading any more, though it has
	// both ends and one of them moved.
	Gone bool
	// Unlikely tells that it says to have been taken again and came out the same
	// to the digit, which by the move it cannot have.
	Unlikely bool
}

// Outlived are the readings that were not taken again since an older revision,
// while one of their ends moved away from the other, gave way to another part, or
// went on. What was put right is taken to have stood there all along.
func (b *Build) Outlived(older *Build) []Outlived {
	was := older.putRight(b)
	var out []Outlived
	found := map[string]bool{}
	earlier := was.earlier(b)
	for _, r := range b.Readings() {
		o, ok := earlier.of(r)
		if found[o.Path] = true; ok && b.carries(r) {
			if x := (outliving{was, b, o, r}).find(); x != nil {
				out = append(out, *x)
			}
		}
	}
	for _, o := range was.Readings() {
		if !found[o.Path] && len(readIn(o.Entry)) > 0 && was.carries(o) && b.has(o.Ends) && b.carries(o) {
			if x := (outliving{was, b, o, o}).find(); x != nil && x.Stale {
				x.Gone = true
				out = append(out, *x)
			}
		}
	}
	return out
}

// has tells that the ledger has those of some things that are parts.
func (b *Build) has(ends []Ref) bool {
	return !slices.ContainsFunc(ends, func(r Ref) bool {
		_, ok := b.own(r.String())
		return isPart(r) && !ok
	})
}

// PutRight are the parts and assemblies whose places say to have been put right
// since an older revision, without a move.
func (b *Build) PutRight(older *Build) []*Entry {
	var out []*Entry
	for _, x := range b.things() {
		f, both := older.own(x.path)
		if !x.corrected.Known() || !both {
			continue
		}
		old, _ := older.thingOf(f)
		if e, ok := b.own(x.path); ok && old.corrected.String() != x.corrected.String() && old.moved.String() == x.moved.String() {
			out = append(out, e)
		}
	}
	return out
}

// things are the parts and the assemblies, as to where they stand.
func (b *Build) things() []thing {
	var out []thing
	for _, p := range b.Parts() {
		out = append(out, p.thing())
	}
	for _, a := range b.Assemblies() {
		out = append(out, a.thing())
	}
	return out
}

// putRight is an older revision with the places that a newer one put right.
func (b *Build) putRight(newer *Build) *Build {
	var those []Difference
	for _, e := range newer.PutRight(b) {
		those = append(those, Difference{Entry: e.Path()})
	}
	if len(those) == 0 {
		return b
	}
	return b.Mix(newer, those)
}

// thingOf is an entry as to where it stands; false for one that has no place to
// move from.
func (b *Build) thingOf(e *Entry) (thing, bool) {
	switch v := e.view.(type) {
	case *Part:
		return v.thing(), true
	case *Assembly:
		return v.thing(), true
	}
	return thing{}, false
}

// carries tells that the vehicle has both ends of a reading.
func (b *Build) carries(r Between) bool {
	return !slices.ContainsFunc(r.Ends, func(e Ref) bool { return isPart(e) && !b.Part(e).Rides() })
}

// Rides tells that the vehicle carries a part, as far as the part says.
func (p *Part) Rides() bool {
	off := p.RemovedOn.Known() && !p.FittedOn.After(p.RemovedOn).Holds()
	return !p.Fitted.Fails() && !off
}

// earlier are the readings of an older revision, to be found by those of a newer
// one: of their names, or else those that are gone, by what they were between.
type earlier struct {
	named map[string]Between
	gone  map[string][]Between
	ours  func(path string) bool // the older revision has an entry of that name
}

func (b *Build) earlier(newer *Build) earlier {
	out := earlier{map[string]Between{}, map[string][]Between{}, func(path string) bool { _, ok := b.own(path); return ok }}
	for _, o := range b.Readings() {
		out.named[o.Path] = o
		if _, still := newer.own(o.Path); !still {
			out.gone[o.across()] = append(out.gone[o.across()], o)
		}
	}
	return out
}

// of is what a reading was in the older revision; false where it is new. Of several
// between the same two it is the one that says the same.
func (e earlier) of(r Between) (Between, bool) {
	if o, ok := e.named[r.Path]; ok {
		return o.facing(r), true
	}
	same := e.gone[r.across()]
	if len(same) == 0 || e.ours(r.Path) {
		return Between{}, false
	}
	for _, o := range same {
		if SameReading(o.Entry, r.Entry) {
			return o.facing(r), true
		}
	}
	return same[0].facing(r), true
}

// across is the reading's kind and its two ends, in whichever order.
func (r Between) across() string {
	ends := []string{r.Ends[0].String(), r.Ends[1].String()}
	slices.Sort(ends)
	return r.Entry.Kind + "\x00" + ends[0] + "\x00" + ends[1]
}

func (r Between) between(o Between) bool {
	return r.Ends[0].String() == o.Ends[0].String() && r.Ends[1].String() == o.Ends[1].String()
}

// facing is the reading with its ends in the order of another's.
func (r Between) facing(o Between) Between {
	turned := r
	turned.Ends = []Ref{r.Ends[1], r.Ends[0]}
	if turned.between(o) {
		return turned
	}
	return r
}

// outliving holds a reading against what it was in an older revision.
type outliving struct {
	was, is *Build
	o, r    Between
}

func (x outliving) find() *Outlived {
	out := &Outlived{Between: x.r, Since: map[string]Move{}}
	for i, end := range x.r.Ends {
		if from := x.o.Ends[i]; isPart(from) && from.String() != end.String() {
			out.Swapped = append(out.Swapped, from.String())
		} else if isPart(from) && !x.was.Part(from).Rides() {
			out.Back = append(out.Back, from.String())
		}
		out.By[i] = x.came(i, x.o.when(), x.r.when())
		if isPart(end) {
			out.Since[end.String()] = Move{x.since(i), q.Is(true)}
		}
	}
	by := out.By[1].Minus(out.By[0])
	told := x.o.Before.Holds() && x.r.Before.Holds() // was-at tells it, also one that was put right
	out.Stale = len(out.Swapped)+len(out.Back) > 0 || !told && !nowhere(by)
	if x.again() {
		out.Unlikely = x.unlikely(by)
		out.Stale = out.Stale && out.Unlikely
		if !out.Stale {
			return nil
		}
	}
	if apart := x.came(1, when{}, when{}).Minus(x.came(0, when{}, when{})); !out.Stale && nowhere(apart) {
		return nil
	}
	return out
}

// came is how far an end is in the newer revision at a time from where it was in
// the older at another; nowhere where it was no part before.
func (x outliving) came(i int, then, by when) Point {
	from, to := x.o.Ends[i], x.r.Ends[i]
	switch {
	case !isPart(from):
		return still.By
	case !isPart(to):
		return x.unknown("where " + to.String() + " is")
	}
	return thingsApart(x.was, x.was.Part(from).thing(), then, x.is, x.is.Part(to).thing(), by, 0)
}

// since is how far an end came since the reading. Where the older revision did
// not know that, nobody does.
func (x outliving) since(i int) Point {
	some := func(end Ref) bool {
		return isPart(end) && !x.was.MovedSinceRead(x.o.Reading, x.was.Part(end)).Some.Fails()
	}
	lost := x.o.Before.Holds() && !slices.ContainsFunc(x.o.Ends, some)
	if from := x.o.Ends[i]; isPart(from) {
		for t := range x.was.way(x.was.Part(from)) {
			_, unsaid := t.then(x.o.when())
			lost = lost || unsaid
		}
	}
	if lost {
		return x.unknown("where what moved stood before (was-at)")
	}
	return x.came(i, x.o.when(), when{})
}

func (x outliving) unknown(what string) Point {
	w := q.Waits(q.Length, what, x.r.Entry.Place)
	return Point{w, w, w}
}

func isPart(r Ref) bool { return r.Names("part").Holds() }

// when is the time of a reading.
func (r Reading) when() when {
	if r.Before.Holds() {
		return when{at: before}
	}
	return when{asRead, r.Read}
}

// Came is how far a part came since an older revision, and by whose move: its
// own, or that of what it goes along with.
type Came struct {
	Move
	With string
}

// CameSince are the parts that moved since an older revision without a date, by
// their paths; without those that were put right.
func (b *Build) CameSince(older *Build) map[string]Came {
	was := older.putRight(b)
	out := map[string]Came{}
	for _, p := range b.Parts() {
		e, ok := was.own(p.path)
		if !ok {
			continue
		}
		y, _ := was.thingOf(e)
		if by := thingsApart(was, y, when{}, b, p.thing(), when{}, 0); !nowhere(by) && !b.newlyDated(older, p) {
			out[p.path] = Came{Move{by, q.Is(true)}, b.mover(was, p.thing())}
		}
	}
	return out
}

// mover is the one that moved of a thing that came along and what it rests on: the
// first that rests on something that stayed.
func (b *Build) mover(was *Build, x thing) string {
	for depth := 0; depth <= 50; depth++ {
		on, goes := b.over(x.at)
		e, ok := was.own(on.path)
		if !goes || !ok {
			break
		}
		if old, _ := was.thingOf(e); nowhere(thingsApart(was, old, when{}, b, on, when{}, 0)) {
			break
		}
		x = on
	}
	return x.path
}
