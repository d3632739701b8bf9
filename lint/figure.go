package lint

import (
	"fmt"
	"slices"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
)

// figured and byRespect keep what a rule reckoned on a build.
type (
	figured   struct{ rule *Rule }
	byRespect struct{ rule *Rule }
)

// reckoned is what a rule reckons on a build, worked out once for Figure.
func reckoned(b *ledger.Build, rule *Rule, work func() []*Result) []*Result {
	return ledger.Memo(b, figured{rule}, work)
}

// Figure is the value that a rule reckons on an entry of a build, in one respect;
// missing where it reckons none.
func Figure(b *ledger.Build, rule *Rule, entry, aspect string) quantity.Quantity {
	of := ledger.Memo(b, byRespect{rule}, func() map[respect]*Result {
		out := map[respect]*Result{}
		for _, r := range reckoned(b, rule, func() []*Result {
			results, _ := evaluate(rule, b)
			return results
		}) {
			out[respect{r.Entry, r.Aspect}] = r
		}
		return out
	})
	name := "a figure of " + rule.Name + " on " + entry
	if aspect != "" {
		name += fmt.Sprintf(" (%s)", aspect)
	}
	r := of[respect{entry, aspect}]
	switch {
	case r == nil:
		return quantity.Waits(quantity.Any, name, b.Main())
	case r.Verdict == NotApplicable:
		return quantity.Waits(quantity.Any, name+", which does not apply: "+r.Reason, r.Place)
	case !r.Numeric():
		return quantity.Waits(quantity.Any, name+", which reckons none", r.Place)
	}
	return r.Value
}

// FigureOf is what a rule reckons on some kind of entry, in one respect.
type FigureOf struct {
	Entry  string // the kind of entry: "tank", "vehicle.front"
	Aspect string // the respect, or ""
	Dim    quantity.Dim
}

// Figures are what a rule reckons, found where nothing is known. A respect that is
// made of a ledger's own words is not among them.
func (r *Rule) Figures() (out []FigureOf) {
	results, _ := evaluate(r, ledger.Phantoms())
	for _, c := range results {
		if !c.Numeric() {
			continue
		}
		f := FigureOf{c.Entry, c.Aspect, c.Value.Dim()}
		if k := ledger.KindOf(c.Entry); k != nil {
			f.Entry = k.Name
		}
		i := slices.IndexFunc(out, func(g FigureOf) bool { return g.Entry == f.Entry && g.Aspect == f.Aspect })
		switch {
		case i < 0:
			out = append(out, f)
		case out[i].Dim != f.Dim:
			out[i].Dim = quantity.Any
		}
	}
	return out
}
