package packtest

import (
	"testing"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

// TestArchive: the cases of a rule may all stand in one file.
func TestArchive(t *testing.T) {
	Run(t, &lint.Pack{Name: "toy", Title: "made up", Rules: []*lint.Rule{{
		Name: "toy/mass", Title: "a part weighs no more than ten pounds", Due: ledger.AtPlan, Sources: []quantity.Citation{quantity.Practice},
		Check: func(b *ledger.Build, s *lint.Sheet) {
			for _, p := range b.Parts() {
				s.On(p, "").AtMost(p.Mass, quantity.Cited("ten", "10 lb", "made up"))
			}
		},
	}}}, "testdata")
}
