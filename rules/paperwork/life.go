package paperwork

import (
	"fmt"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

var wearing = data.Table("wearing").Rows()

var serviceable = &lint.Rule{
	Name:    "paperwork/serviceable",
	Title:   "every fitted part or hose that wears says what to ask for at a parts counter",
	Should:  true,
	Due:     ledger.AtDelivery,
	Sources: practice,
	Note:    "What wears is the ledger's to say (wears = true, of parts, hoses and what the fuel touches). Belts and filters always do.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for p := range b.Fitted() {
			s.On(p, "").When(p.Wears.Or(p.Role.Is(wearing...).OrElse(false)), "it does not wear").Holds(p.OrderAs.Required(), "")
		}
		for _, h := range b.Hoses() {
			s.On(h, "").When(h.Wears, "it does not wear").Holds(h.OrderAs.Required(), "")
		}
		for _, w := range b.Wetted() {
			s.On(w, "").When(w.Wears, "it does not wear").Holds(w.OrderAs.Required(), "")
		}
	},
}

var fate = &lint.Rule{
	Name:    "paperwork/fate",
	Title:   "the ledger says what became of every donor or original part that is not fitted",
	Should:  true,
	Due:     ledger.AtDelivery,
	Sources: practice,
	Note: "fate says kept, sold, scrapped, returned or refused; refused says why. The owner gets back what is theirs, and nobody looks for a starter that was sold years ago. " +
		"Whether the old part is in the ledger at all is asked by weight/replaced.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, p := range b.Parts() {
			off := p.Origin.Is("original", "donor").And(p.Fitted.Not().Or(p.RemovedOn.Given()))
			s.On(p, "").When(off, "it is fitted, or neither original nor from a donor").
				Holds(p.Fate.Required().And(unless(p.Fate.Is("refused"), p.Why.Required())), "")
		}
	},
}

var arrived = &lint.Rule{
	Name:    "paperwork/arrived",
	Title:   "nothing was fitted before it arrived, nor arrived before it was ordered, and what is fitted by delivery has come in",
	Due:     ledger.AtIntake,
	Sources: practice,
	Note:    "It compares dates that the ledger gives. A part that says fitted = false and no date may be on its way forever.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, p := range b.Parts() {
			checkArrival(b, s, p, p.Ordered, p.Arrived, p.FittedOn, p.Fitted)
		}
		for _, h := range b.Hoses() {
			checkArrival(b, s, h, h.Ordered, h.Arrived, ledger.Date{}, quantity.Is(true))
		}
	},
}

func checkArrival(b *ledger.Build, s *lint.Sheet, e ledger.Subject, ordered, came, fittedOn ledger.Date, fitted quantity.Truth) {
	wrong := ""
	switch {
	case came.After(fittedOn).Holds():
		wrong = fmt.Sprintf("it went on on %s and came in on %s: one of the two is wrong", fittedOn, came)
	case ordered.After(came).Holds():
		wrong = fmt.Sprintf("it came in on %s and was ordered on %s: one of the two is wrong", came, ordered)
	}
	s.On(e, "").When(came.Given().And(ordered.Given().Or(fittedOn.Given())).Or(quantity.Is(b.IsPhantom())), "no two of its dates to compare").Holds(quantity.Is(wrong == ""), "%s", wrong)
	s.On(e, "came in").Due(ledger.AtDelivery).Work().When(ordered.Given().And(fitted), "it was not ordered, or is not fitted").
		Holds(came.Given(), "it was ordered on %s and has not come in: write arrived when it does", ordered)
}
