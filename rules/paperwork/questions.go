package paperwork

import (
	"fmt"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

var shopQuestions = &lint.Rule{
	Name:    "paperwork/shop-questions",
	Title:   "each question that the shop asks of every build is answered, with a date, or settled by what is in the ledger",
	Due:     ledger.AtDelivery,
	Sources: practice,
	Note: "A shop writes [question.ID] in its shop.toml: what one build taught it. applies-when says where it is asked, settled-by what settles it beside an [answer] whose question is ID. " +
		"A build that was delivered before since is not asked.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, v := range b.Questions() {
			checkQuestion(b, s, v)
		}
	},
}

func checkQuestion(b *ledger.Build, s *lint.Sheet, v *ledger.Question) {
	due, err := ledger.StageNamed(v.Stage.String())
	if err != nil {
		due = ledger.AtDelivery
	}
	u := s.On(v, "").Due(due).When(b.Asks(v).OrElse(b.IsPhantom()), "this build is not asked")
	if by := b.SettledBy(v); by != "" {
		u.Settled("settled by %s", by)
		u.Holds(quantity.Is(true), "")
		return
	}
	needs := []quantity.Need{{Key: fmt.Sprintf("a dated answer to %s: %s", v.ID(), v.Ask), Place: b.Main()}}
	for _, a := range b.Answers() {
		switch {
		case a.Question.String() != v.ID() || !a.Says.Known() || !vehicle.Says(b, a, vehicle.Any):
		case a.Date.Known():
			u.Settled("answered in %s on %s", a.Path(), a.Date)
			u.Holds(quantity.Is(true), "")
			return
		default:
			needs = a.Date.Needs()
		}
	}
	u.Holds(quantity.Unknown(needs), "")
}
