package lint

import (
	"fmt"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
)

var deliveredRule = &Rule{
	Name: "ledger/delivered", Title: "a delivered build is at the stage delivery, and nothing that was signed is dated later", Due: ledger.AtIntake, Sources: format,
	Note: "A delivered build is judged as of the day in build.delivered, unless --as-of asks for another. What happens later is a visit, or work that the build is handed over again for: " +
		"then delivered takes the later day, and someone signs again.",
	Caution: "It was fit to leave on that day. What has worn, leaked or rusted since nobody finds in the ledger: look at the vehicle.",
}

// delivered checks that the day on which a build rests is no earlier than what
// the ledger tells of it.
func delivered(b *ledger.Build, s *Sheet) {
	at, wrong := b.Info().Delivered, ""
	if !at.Given().Fails() {
		wrong = undeliverable(b, at)
	}
	s.On(b.Info(), "").When(at.Given(), "it was not delivered").Holds(quantity.Is(wrong == ""), "%s", wrong)
}

// undeliverable says why a build cannot have been delivered on a day; "" where it can.
func undeliverable(b *ledger.Build, at ledger.Date) string {
	switch last := b.LastDated(); {
	case b.Stage() != ledger.AtDelivery:
		return fmt.Sprintf("it was delivered on %s, and its stage is %s", at, b.Stage())
	case last.Text > at.String():
		return fmt.Sprintf("%s is %s, later than the delivery on %s", last.Key, last.Text, at)
	}
	return ""
}
