package harness

import (
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

func checkColors(b *ledger.Build, s *lint.Sheet) {
	for _, p := range loomOf(b).plugs {
		fresh := func(c *cavity) quantity.Truth { return p.opened.And(c.now.Is("moved", "new")) }
		p.pins(s, "", fresh, "no wire was put into it", func(c *cavity, u *lint.Subject) {
			u.Holds(c.color(b).Required(), "")
		})
		alike := map[string][]*cavity{}
		for _, c := range p.cavities {
			if color := c.color(b); p.opened.And(color.Required()).And(c.carries()).Holds() {
				alike[plain(color.String())] = append(alike[plain(color.String())], c)
			}
		}
		for color, cs := range alike {
			x, y, clash := clashing(b, cs)
			s.On(y, color).When(p.off.Not(), cameOff).
				Holds(quantity.Is(!clash), "%s and %s are both %s, and nothing tells them apart: put a mark on one", x.ref(), y.ref(), color)
		}
	}
}

// clashing finds the first two wires of one color that nothing tells apart:
// neither a mark, nor a gauge that the eye sees.
func clashing(b *ledger.Build, cs []*cavity) (x, y *cavity, clash bool) {
	before := map[string]*firsts{}
	for i, c := range cs {
		mark, size := "none", gauge(b, c)
		if c.row.Mark.Known() {
			mark = "=" + strings.ToLower(c.row.Mark.String())
		}
		f := before[mark]
		if f == nil {
			f = &firsts{unsized: len(cs), sized: map[string]int{}}
			f.any, before[mark] = i, f
		} else if at := f.like(size); at < i {
			return cs[at], c, true
		}
		f.add(i, size)
	}
	return cs[0], cs[0], false
}

// firsts are the first of the wires with one mark: of all of them, of those whose
// gauge is not known, and of each gauge.
type firsts struct {
	any, unsized int
	sized        map[string]int
}

// like is the first that may be of the gauge given; past all where there is none.
func (f *firsts) like(size quantity.Word) int {
	if !size.Known() {
		return f.any
	}
	if at, ok := f.sized[strings.ToLower(size.String())]; ok {
		return min(at, f.unsized)
	}
	return f.unsized
}

func (f *firsts) add(i int, size quantity.Word) {
	key := strings.ToLower(size.String())
	if !size.Known() {
		f.unsized = min(f.unsized, i)
	} else if _, ok := f.sized[key]; !ok {
		f.sized[key] = i
	}
}

// plain spells a color one way: "Red - White" is "red/white".
func plain(color string) string {
	return strings.ToLower(stripe.Replace(strings.TrimSpace(color)))
}

var stripe = strings.NewReplacer(" / ", "/", " - ", "/", "-", "/", " with ", "/")
