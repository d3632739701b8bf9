package compare

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

// Notice is a change in how a build is judged rather than in what it is.
type Notice struct {
	Kind          string // "pack dropped", "limit loosened", "waiver added", ...
	Subject       string // the pack, the rule or the waiver
	Before, After string
	Place         quantity.Place
	Loosens       bool
}

// notices tells packs, limits, waivers and the stage apart.
func notices(c *Comparison, packs []*lint.Pack) []*Notice {
	a, b := c.Before.Build, c.After.Build
	out := slices.Concat(packNotices(a, b, packs), limitNotices(c, a, b), waiverNotices(c.Edits))
	if x, y := a.Stage(), b.Stage(); x != y {
		n := &Notice{Kind: "stage", Before: x.String(), After: y.String(), Place: b.Info().Place(), Loosens: y < x}
		if n.Loosens {
			n.Kind = "stage back"
		}
		if src := b.Info().Stage.Source(); src != nil {
			n.Place = src.Place
		}
		out = append(out, n)
	}
	slices.SortStableFunc(out, func(x, y *Notice) int { return lint.CompareBools(y.Loosens, x.Loosens) })
	return out
}

func packNotices(a, b *ledger.Build, packs []*lint.Pack) []*Notice {
	was, is := lint.Chosen(a, packs), lint.Chosen(b, packs)
	place := b.Main()
	if len(b.Packs) > 0 {
		place = b.Packs[0].Source().Place
	}
	var out []*Notice
	for _, p := range was {
		if !slices.Contains(is, p) {
			out = append(out, &Notice{Kind: "pack dropped", Subject: p.Name, Place: place, Loosens: true})
		}
	}
	for _, p := range is {
		if !slices.Contains(was, p) {
			out = append(out, &Notice{Kind: "pack added", Subject: p.Name, Place: place})
		}
	}
	return out
}

func limitNotices(c *Comparison, a, b *ledger.Build) []*Notice {
	rules := map[string]bool{}
	for _, limits := range []map[string]ledger.Limit{a.Limits, b.Limits} {
		for rule := range limits {
			rules[rule] = true
		}
	}
	var out []*Notice
	for _, rule := range slices.Sorted(maps.Keys(rules)) {
		was, had := a.Limits[rule]
		is, has := b.Limits[rule]
		n := &Notice{Subject: rule, Place: is.Place}
		if had {
			n.Before = was.Value.Spelling()
		}
		if has {
			n.After = is.Value.Spelling()
		}
		switch {
		case !had:
			n.Kind = "limit added"
		case !has:
			n.Kind, n.Loosens, n.Place = "limit dropped", true, was.Place
		case n.Before == n.After:
			continue
		default:
			n.Kind, n.Loosens = direction(was.Value, is.Value, senseOf(c, rule))
		}
		out = append(out, n)
	}
	return out
}

// direction tells whether a limit was loosened; what cannot be told is taken
// for it.
func direction(was, is quantity.Quantity, s lint.Sense) (kind string, loosens bool) {
	more := is.Value() - was.Value()
	if s == lint.AtLeast {
		more = -more
	}
	switch {
	case was.Dim() != is.Dim() || s == "" || math.IsNaN(more):
		return "limit changed", true
	case more > 0:
		return "limit loosened", true
	case more < 0:
		return "limit tightened", false
	}
	return "limit rewritten", false
}

func senseOf(c *Comparison, rule string) lint.Sense {
	for _, rep := range []*lint.Report{c.After, c.Before} {
		for _, r := range rep.Results {
			if r.Rule.Name == rule && r.Numeric() {
				return r.Sense
			}
		}
	}
	return ""
}

func waiverNotices(edits []*Edit) []*Notice {
	var out []*Notice
	for _, e := range edits {
		if !strings.HasPrefix(e.Entry, "waiver.") {
			continue
		}
		n := &Notice{Subject: e.Entry, Place: e.Place}
		switch e.Kind {
		case Added:
			n.Kind, n.Loosens = "waiver added", true
		case Removed:
			n.Kind = "waiver dropped"
		case Altered:
			n.Kind, n.Loosens = "waiver altered", true
		default:
			continue
		}
		var said []string
		for _, v := range e.Values {
			if text := cmp.Or(v.After, v.Before); v.Key == "rule" || v.Key == "entry" || v.Key == "until" {
				said = append(said, v.Key+" "+text)
			}
		}
		n.After = strings.Join(said, ", ")
		out = append(out, n)
	}
	return out
}

// MovedAssembly is an assembly whose place changed, with what was read with a tape or an
// angle finder when it stood at the old one.
type MovedAssembly struct {
	Assembly string
	Place    quantity.Place
	By       ledger.Point
	Readings []Reading
}

// Reading is a gap or a shaft whose readings are as they were before a move.
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

// read lists the gaps and shafts that hang on the assembly with one end, and
// were not read anew.
func (m *MovedAssembly) read(a, b *ledger.Build, to *ledger.Assembly) {
	add := func(e *ledger.Entry, follows quantity.Truth, keys ...string) {
		old, ok := a.Entry(e.Path())
		if ok && sameReadings(old, e, keys) {
			m.Readings = append(m.Readings, Reading{e.Path(), e.Place, follows.Holds() || to.MeasuredAt.Given()})
		}
	}
	assembly := ledger.Ref{Word: quantity.Written(m.Assembly, nil)}
	hangs := func(r ledger.Ref) bool {
		return r.Names("part").Holds() && b.HangsOn(b.Part(r).At, assembly).Holds()
	}
	for _, g := range b.Gaps() {
		if len(g.Between) == 2 && hangs(g.Between[0]) != hangs(g.Between[1]) {
			add(g.Entry(), g.BeforeMove, "measured")
		}
	}
	for _, s := range b.Shafts() {
		if hangs(s.From) != hangs(s.To) {
			add(s.Entry(), s.BeforeMove, "length", "slopes", "plan", "slip-engaged", "slip-left")
		}
	}
}

// sameReadings tells whether there are readings, and they are as they were. A
// new date says that they were taken anew and came out the same.
func sameReadings(a, b *ledger.Entry, keys []string) bool {
	was, is := valuesOf(a), valuesOf(b)
	if was["read"].Text != is["read"].Text {
		return false
	}
	some := false
	for k, v := range is {
		top, _, _ := strings.Cut(k, ".")
		if !slices.Contains(keys, top) {
			continue
		}
		if w, ok := was[k]; !ok || w.Text != v.Text {
			return false
		}
		some = true
	}
	return some
}
