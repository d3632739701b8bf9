package compare

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/schema"
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

// notices tells packs, limits, waivers, the shop's own rules and the stage apart.
func notices(c *Comparison, packs []*lint.Pack) []*Notice {
	a, b := c.Before.Build, c.After.Build
	out := slices.Concat(packNotices(a, b, packs), limitNotices(c, a, b), waiverNotices(a, b, c.Edits), placeNotices(a, b), ruleNotices(c.Edits))
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
		if !hasPack(is, p.Name) {
			out = append(out, &Notice{Kind: "pack dropped", Subject: p.Name, Place: place, Loosens: true})
		}
	}
	for _, p := range is {
		if !hasPack(was, p.Name) {
			out = append(out, &Notice{Kind: "pack added", Subject: p.Name, Place: place})
		}
	}
	return out
}

func hasPack(packs []*lint.Pack, name string) bool {
	return slices.ContainsFunc(packs, func(p *lint.Pack) bool { return p.Name == name })
}

// ruleNotices tells the shop's own rules apart. One that is altered is taken for
// looser: which it is only a reader can tell.
func ruleNotices(edits []*Edit) []*Notice {
	var out []*Notice
	for _, e := range edits {
		id, ok := strings.CutPrefix(e.Entry, "rule.")
		if !ok {
			continue
		}
		n := &Notice{Subject: ledger.OwnRules + "/" + id, Place: e.Place}
		switch e.Kind {
		case Added:
			n.Kind = "rule added"
		case Removed:
			n.Kind, n.Loosens = "rule dropped", true
		case Altered:
			n.Kind = "rule altered"
		default:
			continue
		}
		var was, is []string
		for _, v := range e.Values {
			if top, _, _ := strings.Cut(v.Key, "."); e.Kind == Altered && !toldOnly(ledger.KindOf(e.Entry).Field(top)) {
				was, is, n.Loosens = append(was, v.Key+" "+cmp.Or(v.Before, "not said")), append(is, v.Key+" "+cmp.Or(v.After, "not said")), true
			}
		}
		n.Before, n.After = strings.Join(was, ", "), strings.Join(is, ", ")
		out = append(out, n)
	}
	return out
}

// toldOnly tells that a key of a shop's own rule says nothing of what it finds: it is
// sentences for people and no expression, or no part of what is signed.
func toldOnly(f *schema.Field) bool {
	return f != nil && (f.Undigest || f.Free && !f.Format)
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

// waiverOf is the waiver of that name; nil where there is none.
func waiverOf(b *ledger.Build, name string) *ledger.Waiver {
	if e, ok := b.Entry(name); ok {
		w, _ := b.View(e).(*ledger.Waiver)
		return w
	}
	return nil
}

func waiverNotices(a, b *ledger.Build, edits []*Edit) []*Notice {
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
		was, is := says(waiverOf(a, e.Entry)), says(waiverOf(b, e.Entry))
		for i, what := range [...]string{"entry", "rule", "until"} {
			if was[i] != is[i] {
				said = append(said, what+" "+cmp.Or(is[i], was[i]))
			}
		}
		n.After = strings.Join(said, ", ")
		out = append(out, n)
	}
	return out
}

// says is of which entry a waiver is, of which rule, and until when.
func says(w *ledger.Waiver) (out [3]string) {
	if w != nil {
		out = [3]string{w.Entry.String(), w.Rule.String(), w.Until.String()}
	}
	return out
}

// placeNotices tell the places that say to have been put right without a move:
// what was read there then counts as read there; and the parts that no longer go
// along with an assembly, which then moves without them.
func placeNotices(a, b *ledger.Build) []*Notice {
	var out []*Notice
	for _, e := range b.PutRight(a) {
		v, _ := b.Value(e.Path(), "corrected")
		out = append(out, &Notice{Kind: "place put right, and not moved", Subject: e.Path(), After: "on " + v.Text, Place: v.Place, Loosens: true})
	}
	was := map[string]string{}
	for _, p := range a.Parts() {
		was[p.Path()] = p.At.From.String()
	}
	for _, p := range b.Parts() {
		if from := was[p.Path()]; from != "" && b.HangsOn(p.At, ledger.Ref{Word: quantity.Written(from, nil)}).Fails() {
			out = append(out, &Notice{Kind: "no longer goes along", Subject: p.Path(), Before: from, Place: p.Place(), Loosens: true})
		}
	}
	return out
}
