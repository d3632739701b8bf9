package drawing

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/lint/report/shown"
)

// gapRule is the rule that says what is left of a gap in use, and the least.
const gapRule = "clearance/gap"

func gaps(s *subject) Drawing {
	d := Drawing{Title: "Gaps"}
	type one struct {
		*lint.Result
		gap       *ledger.Gap
		low, high float64
	}
	var list []one
	most := 0.0
	for _, r := range s.Results {
		if r.Rule.Name != gapRule || r.Aspect != "" || r.Verdict == lint.NotApplicable {
			continue
		}
		if s.hides(r.Entry, "between", "measured", "motion", "relief", "kind", "least", "along") {
			continue
		}
		g := s.gap(r.Entry)
		if g == nil || !known(r.Value, r.Limit) {
			d.Beside = append(d.Beside, s.called(r.Entry, r.Entry)+": what is left in use, or the least, is not known")
			continue
		}
		low, high := r.Analysis(r.Value).Bounds()
		list = append(list, one{r, g, low, high})
		most = max(most, high, r.Limit.Value())
	}
	slices.SortStableFunc(list, func(a, b one) int {
		return cmp.Or(cmp.Compare(a.low-a.Limit.Value(), b.low-b.Limit.Value()), lint.Natural(a.Entry, b.Entry))
	})
	if len(list) == 0 {
		return d
	}
	unit := s.style.Unit(q.SI(1, q.Length))
	most = min(most, farGap)
	c := chart{axis: axis{to: most * 1.04, step: stepFor(most/unit.Factor, 8) * unit.Factor, text: func(v float64) string { return unit.Number(v, 4) }}, ruled: math.NaN(), names: 0.38, says: 0.27}
	for _, o := range list {
		l := line{name: s.between(o.gap), brief: s.briefly(o.gap), figure: s.style.Format(o.Value) + ", least " + s.style.Plain(o.Limit)}
		if o.Verdict != lint.Pass {
			l.says = o.Word()
		}
		if o.Counts {
			l.look = "d-red"
		}
		d.Text += l.name + ": " + l.figure + ". "
		l.draw = func(p plot) {
			if m := o.gap.Measured; known(m) {
				p.line("d-thin", at(p.x(o.Value.Value()), p.y), at(p.x(m.Value()), p.y))
				p.tick("d-thin", m.Value(), 3.5)
			}
			p.tick("d-heavy", o.Limit.Value(), 7)
			p.whisker("", o.low, o.high)
			look := Look("d-ink")
			if o.Counts {
				look = "d-badfill"
			}
			p.dot(look, o.Value.Value(), 3, l.name)
		}
		c.rows = append(c.rows, l)
	}
	d.Panels = c.panels("In " + spelt(unit) + ". The dot is what is left in use, with how far off it may be; the thin tick what the tape read; the heavy one the least.")
	return d
}

// farGap is where the axis of gaps ends: what is left beyond it is plenty.
const farGap = 0.3048

// gap is a gap by its path.
func (s *subject) gap(path string) *ledger.Gap {
	for _, g := range s.Build.Gaps() {
		if g.Path() == path {
			return g
		}
	}
	return nil
}

// between names a gap's two ends.
func (s *subject) between(g *ledger.Gap) string { return strings.Join(s.endsOf(g), " – ") }

// briefly names them by what stands before the first comma.
func (s *subject) briefly(g *ledger.Gap) string {
	ends := slices.Clone(s.endsOf(g))
	for i := range ends {
		ends[i], _, _ = strings.Cut(ends[i], ",")
	}
	return strings.Join(ends, " – ")
}

func (s *subject) endsOf(g *ledger.Gap) []string {
	b := s.Build
	if s.Reader != nil && len(g.Between) == 2 {
		return []string{s.nameOf(g.Between[0]), s.nameOf(g.Between[1])}
	}
	if e, ok := b.Entry(g.Path()); ok {
		if ends := b.Ends(e); len(ends) == 2 {
			return []string{shown.Clean(ends[0]), shown.Clean(ends[1])}
		}
	}
	return []string{s.called(g.Path(), spaced(idOf(g.Path())))}
}

// spelt is a unit's whole name, where it is one that would not read as a word.
func spelt(u *q.Unit) string {
	if name, ok := map[string]string{"in": "inches", "lb": "pounds", "kg": "kilograms", "mm": "millimeters", "m": "meters", "ft": "feet"}[u.Symbol]; ok {
		return name
	}
	return u.Symbol
}
