package main

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
)

// toy is a pack of made-up rules, so that these tests do not change when a
// real rule does.
func toy() []*lint.Pack {
	book := q.Citation{Key: "handbook", Text: "A Handbook of Scales, page 12"}
	hearsay := q.Citation{Key: "hearsay", Text: "A Talk on Gaps, slide 3", Memory: true}
	return []*lint.Pack{{Name: "toy", Title: "made-up rules for trying things out", Rules: []*lint.Rule{
		{Name: "toy/front-axle", Title: "the front axle carries no more than its rating", Due: ledger.AtPlan,
			Sources: []q.Citation{book}, Caution: "An overloaded axle steers badly and may break.", Check: frontAxle},
		{Name: "toy/gap", Title: "an inch is left between what moves", Due: ledger.AtAssembly,
			Sources: []q.Citation{hearsay, q.Practice}, Note: "Leaves out how the frame twists.", Check: gaps},
		{Name: "toy/label", Title: "the filler says what to fill in", Due: ledger.AtDelivery, Sources: []q.Citation{q.Practice}, Check: label},
		{Name: "toy/cruise", Title: "the engine idles well below its cruise limit", Should: true, Due: ledger.AtPlan, Sources: []q.Citation{q.Practice}, Check: cruise},
	}}}
}

func frontAxle(b *ledger.Build, s *lint.Sheet) {
	base := b.Vehicle().Wheelbase
	var terms []q.Quantity
	for _, p := range b.Parts() {
		share := q.Number(1).Sub(b.Now(p.At).X.Div(base))
		terms = append(terms, p.Count.Mul(p.Mass).Mul(share).As("share of "+p.Path(), "count × mass × (1 - behind / wheelbase)"))
	}
	load := q.Sum(q.Mass, terms...).As("front load", "sum of the parts' shares")
	s.On(b.Front(), "").AtMost(load, b.Front().Rating)
}

func gaps(b *ledger.Build, s *lint.Sheet) {
	for _, g := range b.Gaps() {
		left := g.Measured.Sub(g.Motion).Add(g.Relief).As("gap left", "measured - motion + relief")
		s.On(g, "").When(g.Kind.Is("hose-to-sharp").Not(), "a hose may touch").AtLeast(left, q.FirstOf(g.Least, q.Cited("least gap", "1 in", "A Talk on Gaps, slide 3")))
	}
}

func label(b *ledger.Build, s *lint.Sheet) {
	f := b.Fuel()
	s.On(f, "").Work().Holds(f.FillerLabel.Given(), "no label at the filler")
	s.On(f, "words").Holds(f.FillerLabel.Is("diesel"), "the label says %q", f.FillerLabel)
}

func cruise(b *ledger.Build, s *lint.Sheet) {
	e := b.Engine()
	s.On(e, "").Between(e.Idle, e.CruiseLimit.Times(0.2), e.CruiseLimit.Times(0.5))
}
