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
			u.Holds(c.color(b).Said(), "")
		})
		alike := map[string][]*cavity{}
		for _, c := range p.cavities {
			if color := c.color(b); p.opened.And(color.Said()).And(c.carries()).Holds() {
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

// clashing finds the first two wires of one color that nothing tells apart.
func clashing(b *ledger.Build, cs []*cavity) (x, y *cavity, clash bool) {
	for i, y := range cs {
		for _, x := range cs[:i] {
			if toldApart(b, x, y).Fails() {
				return x, y, true
			}
		}
	}
	return cs[0], cs[0], false
}

// toldApart: by a mark, or by a gauge that the eye sees.
func toldApart(b *ledger.Build, x, y *cavity) quantity.Truth {
	marked := x.row.Mark.Given().Or(y.row.Mark.Given()).And(x.row.Mark.Same(y.row.Mark).OrElse(false).Not())
	return marked.Or(gauge(b, x).Same(gauge(b, y)).OrElse(true).Not())
}

// plain spells a color one way: "Red - White" is "red/white".
func plain(color string) string {
	return strings.ToLower(stripe.Replace(strings.TrimSpace(color)))
}

var stripe = strings.NewReplacer(" / ", "/", " - ", "/", "-", "/", " with ", "/")
