package harness

import (
	"fmt"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

func checkCutEnds(b *ledger.Build, s *lint.Sheet) {
	l := loomOf(b)
	for _, p := range l.plugs {
		p.pins(s, "", (*cavity).cut, "no wire was cut off", func(c *cavity, u *lint.Subject) {
			spliced := c.row.To.Names("splice").OrElse(false)
			u.Work().Holds(c.now.Is("capped").Or(spliced), "the wire was cut off at %s, and its end is neither capped nor spliced", c.ref())
		})
		left := func(c *cavity) quantity.Truth { return c.cut().Or(c.displaced()) }
		p.pins(s, ", other end", left, "no wire was cut off or pulled out", func(c *cavity, u *lint.Subject) {
			ok, why := l.rest(b, c)
			u.Work().Holds(ok, "%s", why)
		})
	}
}

// rest tells whether the rest of a wire that was cut off or pulled out here is
// accounted for.
func (l *loom) rest(b *ledger.Build, c *cavity) (ok quantity.Truth, why string) {
	said := c.row.OtherEnd.Is("capped", "spliced", "removed")
	if said.Known() {
		return said, fmt.Sprintf("the other end of the %swire that was in %s is %s", named(c.row.ColorWas), c.ref(), c.row.OtherEnd)
	}
	if c.row.To.Kind() == "plug" && c.cut().Holds() {
		_, far := l.find(b, c.row.To)
		return quantity.FirstTruth(far.carries().Not(), said), fmt.Sprintf("%s is %s, and its wire was cut off at %s", far.ref(), far.now, c.ref())
	}
	if l.settled[c] {
		return quantity.Is(true), ""
	}
	return said, ""
}

func named(color quantity.Word) string {
	if color.Known() {
		return color.String() + " "
	}
	return ""
}

// listed joins names as a sentence does.
func listed(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " and " + names[last]
}
