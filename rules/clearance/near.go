package clearance

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

var (
	hotRoles     = data.Table("hot")
	spoiledRoles = data.Table("spoiled")
	movingRoles  = data.Table("moving")
	hotWords     = data.Table("hot-words").Rows()
)

var nearHot = &lint.Rule{
	Name:    "clearance/near-hot",
	Title:   "what heat spoils and by the places of the two sits within 300 mm of the exhaust has its gap to it measured",
	Due:     ledger.AtFirstStart,
	Sources: []q.Citation{data.Source("burn-or-char"), data.Source("illinois")},
	Note: "By the middles as the ledger has them, a fuel tank as a ball of its capacity. At 300 mm a state asks a shield of a school vehicle's fuel line; here what holds fuel, brake fluid or current, or is rubber, is asked for its gap to the hot part that is nearest, and clearance/gap has the limit. " +
		"A pair that one donor, or the vehicle's own maker, put there is left alone where neither moved nor was altered. What has no place in the ledger is not found.",
	Caution: fire,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		h := heatOf(b)
		asked(b, s, b.Exhaust(), h.spoiled, h.hot, data.Value("school-vehicle-distance"), "by the places in the ledger nothing hot is so near")
	},
}

var nearMoving = &lint.Rule{
	Name:    "clearance/near-moving",
	Title:   "what by the places of the two sits within 3 in of the steering's or a driveshaft's middle has its gap to it measured",
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{table.Cite},
	Note: "A part whose middle is that near to the middle of a steering shaft, a drag link, a tie rod or a driveshaft is in its way, or the ledger has one of the two where it is not (common practice): a must, for people die of steering that jams and of shafts that hit a line. " +
		"Wires, fluids and shields are passed over, and so is a pair that one donor, or the vehicle's own maker, put there. A long part's ends are not looked at: clearance/wanted asks for the kinds of gap.",
	Caution: hurt + " " + under,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		m := movingOf(b)
		asked(b, s, b.Engine(), m.moving, m.others, data.Value("in-the-way"), "by the places in the ledger nothing is so near")
	},
}

// moving are what steers or turns, and all that may be in its way, each from the front to
// the rear.
type moving struct{ moving, others []standing }

type movingKey struct{}

func movingOf(b *ledger.Build) moving {
	return ledger.Memo(b, movingKey{}, func() moving {
		var out moving
		for p := range b.Fitted() {
			at, ok := vehicle.Where(b, p.At)
			role := p.Role.String()
			switch s := (standing{part: p, at: at, here: ok, kind: movingRoles.Word(role, "kind"), putBy: putBy(b, p)}); {
			case s.kind != "" && s.kind != "passed":
				out.moving = append(out.moving, s)
			case s.kind == "" && ok:
				out.others = append(out.others, s)
			}
		}
		fromTheFront(out.moving, out.others)
		return out
	})
}

// fromTheFront sorts lists from the front to the rear.
func fromTheFront(lists ...[]standing) {
	for _, list := range lists {
		slices.SortStableFunc(list, func(x, y standing) int { return cmp.Compare(x.at[0], y.at[0]) })
	}
}

// asked writes a check for each of some parts: within a reach of the nearest of others it
// asks for the gap between the two. Where there are no such parts one check says so.
func asked(b *ledger.Build, s *lint.Sheet, of ledger.Subject, parts, others []standing, reach q.Quantity, far string) {
	for _, p := range parts {
		check := s.On(p.part, "").When(q.Is(p.here), "it has no place in the ledger").Reading()
		if o, apart, near := nearest(p, others, reach.Value()); near {
			check.Holds(tapedBetween(b, p, o, apart), "")
		} else {
			check.Settled("%s", far).Holds(q.Is(true), "")
		}
	}
	if len(parts) == 0 {
		s.On(of, "").When(q.Is(b.IsPhantom()), "no such part is in the ledger").Holds(q.Unknown([]q.Need{{Key: "a gap between the two", Place: b.Main()}}), "")
	}
}

// tapedBetween holds where the gap between a part and what is near it is in the ledger.
func tapedBetween(b *ledger.Build, p standing, o *ledger.Part, apart float64) q.Truth {
	has := q.Unknown([]q.Need{{Key: fmt.Sprintf("a gap of kind %s between %s and %s, which by their places are %s apart", p.kind, p.part.Path(), o.Path(), far(b, apart)), Place: p.part.Place()}})
	for _, g := range gapsOf(b)[p.part.Path()] {
		if g.first.part.Path() == o.Path() || g.second.part.Path() == o.Path() {
			has = has.Or(g.Kind.Is(p.kind).And(g.fitted()).OrElse(false))
		}
	}
	return has
}

// far is a distance in the units that the build is shown in.
func far(b *ledger.Build, meters float64) string {
	return b.Style().Format(q.SI(max(meters, 0), q.Length))
}

type gapsOfKey struct{}

// gapsOf are the gaps of each part.
func gapsOf(b *ledger.Build) map[string][]pair {
	return ledger.Memo(b, gapsOfKey{}, func() map[string][]pair {
		out := map[string][]pair{}
		for _, g := range pairs(b) {
			for _, e := range []end{g.first, g.second} {
				if e.is.Holds() {
					out[e.part.Path()] = append(out[e.part.Path()], g)
				}
			}
		}
		return out
	})
}

// standing is a part of the finished vehicle at its place, in m.
type standing struct {
	part *ledger.Part
	at   [3]float64
	here bool    // the ledger has its place
	size float64 // radius of the ball that what it holds fills at the least
	kind string  // of the gap that is asked of what heat spoils, or what moves
	// who put it there, where that was one who put others there too
	putBy string
}

// heat are the hot parts, those of its hot end, and what it spoils, each from the
// front to the rear.
type heat struct{ hot, end, spoiled []standing }

type heatKey struct{}

func heatOf(b *ledger.Build) heat {
	return ledger.Memo(b, heatKey{}, func() heat {
		var out heat
		for p := range b.Fitted() {
			role := p.Role.String()
			hot, kind := hotRoles.Word(role, "end"), spoiledRoles.Word(role, "kind")
			if hot == "" && kind == "" {
				continue
			}
			at, ok := vehicle.Where(b, p.At)
			if !ok && hot != "" {
				continue
			}
			s := standing{part: p, at: at, here: ok, kind: kind, putBy: putBy(b, p)}
			if role == "fuel-tank" && ok {
				s.size = ballOf(b, at)
			}
			if hot == "" {
				out.spoiled = append(out.spoiled, s)
				continue
			}
			out.hot = append(out.hot, s)
			if hotEnd(b, p).Holds() {
				out.end = append(out.end, s)
			}
		}
		fromTheFront(out.hot, out.end, out.spoiled)
		return out
	})
}

// ballOf is the radius of the ball that the tank at a place would fill: no tank of that
// capacity has all of its wall nearer to its middle.
func ballOf(b *ledger.Build, at [3]float64) float64 {
	if t := vehicle.TankAt(b, at); t != nil && t.Capacity.Known() {
		return math.Cbrt(t.Capacity.Value() * 3 / (4 * math.Pi))
	}
	return 0
}

// inOne is how near the middles of two things may be that stand side by side, m: nearer,
// and one is inside the other, whoever put it there.
var inOne = data.Value("in-one").Value()

// nearest is the part of a list, sorted from the front to the rear, that is nearest to
// another and no further than a reach, save what was put where it stands together
// with it.
func nearest(p standing, of []standing, reach float64) (hot *ledger.Part, apart float64, ok bool) {
	if !p.here {
		return nil, 0, false
	}
	reach += p.size
	from := sort.Search(len(of), func(i int) bool { return of[i].at[0] >= p.at[0]-reach })
	for _, o := range of[from:] {
		if o.at[0] > p.at[0]+reach {
			break
		}
		if d := vehicle.Distance(p.at, o.at); (d < reach || d == reach && !ok) && (p.putBy == "" || p.putBy != o.putBy || d <= inOne) {
			hot, reach, ok = o.part, d, true
		}
	}
	return hot, reach - p.size, ok
}

// putBy says who put a part where it stands: one donor, in what hangs together, or the
// vehicle's own maker; "" where it moved by itself, was altered or came by itself.
func putBy(b *ledger.Build, p *ledger.Part) string {
	switch {
	case !p.Change.Given().Fails():
		return ""
	case p.Origin.Is("original").And(b.MovedSinceWork(p).Some.Not()).Holds():
		return "the vehicle's own maker"
	case p.Origin.Is("donor").And(p.Donor.Given()).Holds():
		at := p.At
		for range 50 {
			if !at.SameAs.Known() {
				break
			}
			at = b.Part(at.SameAs).At
		}
		if at.From.Known() {
			return p.Donor.String() + " " + at.From.String()
		}
	}
	return ""
}

// hotEnd tells whether a part is where the exhaust is hottest: turbocharger, manifold,
// downpipe, or a pipe whose middle is near that of the engine.
func hotEnd(b *ledger.Build, p *ledger.Part) q.Truth {
	switch hotRoles.Word(p.Role.String(), "end") {
	case "yes":
		return q.Is(true)
	case "by-place":
		away := vehicle.Apart(b.Now(p.At), b.Now(b.Part(b.Engine().Part).At))
		return q.Is(away.Known() && away.Value() <= data.Value("first-pipe").Value())
	}
	return q.Is(false)
}

// atHotEnd tells whether a gap is one of the hot end, by its part or its words.
func (g pair) atHotEnd(b *ledger.Build) q.Truth {
	is := func(e end) q.Truth {
		named := slices.ContainsFunc(hotWords, func(w string) bool { return strings.Contains(strings.ToLower(e.name), w) })
		return e.is.And(hotEnd(b, e.part)).Or(e.is.Not().And(q.Is(named))).OrElse(false)
	}
	return is(g.first).Or(is(g.second))
}

// tapedAtHotEnd holds where a gap of the kind was measured at the hot end, and to what
// is nearest there: no gap is wider than the middles of two things are apart.
func tapedAtHotEnd(b *ledger.Build, kind string) q.Truth {
	has := tapedWhere(b, kind, " at the turbocharger, the manifold or the downpipe", func(g pair) bool { return g.atHotEnd(b).Holds() })
	least := math.Inf(1)
	for _, g := range pairs(b) {
		if g.Measured.Known() && g.Kind.Is(kind).And(g.fitted()).And(g.atHotEnd(b)).Holds() {
			low, _ := g.Measured.Bounds()
			least = min(least, low)
		}
	}
	if h := heatOf(b); has.Holds() && !math.IsInf(least, 1) {
		for _, p := range h.spoiled {
			if p.kind != kind {
				continue
			}
			if hot, apart, ok := nearest(p, h.end, least); ok && apart < least-rounding {
				return q.Unknown([]q.Need{{Key: fmt.Sprintf("a gap of kind %s between %s and %s, which by their places are %s apart: what was measured there is wider", kind, p.part.Path(), hot.Path(), far(b, apart)), Place: p.part.Place()}})
			}
		}
	}
	return has
}

const rounding = 1e-9 // m
