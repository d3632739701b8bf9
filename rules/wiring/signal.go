package wiring

import (
	"fishplate/ledger"
	"fishplate/lint"
	"fishplate/rules/circuits"
)

var signalDuty = &lint.Rule{
	Name:    "wiring/signal-duty",
	Title:   "a circuit of duty signal carries no more than 1 A",
	Due:     ledger.AtFirstStart,
	Sources: cited("practice"),
	Note:    "The word signal exempts a circuit from fuse and voltage drop. A signal that states no load is taken to carry 0 to 0.5 A, save where it leads to a part that works by power: there the load is asked for. What a relay switches for it is not its own.",
	Caution: fire,
	Check:   checkSignal,
}

func checkSignal(b *ledger.Build, s *lint.Sheet) {
	n := circuits.Of(b)
	hungry := listed("power")
	for _, r := range n.Runs {
		const not = "it is not said to be a signal"
		s.On(r, "").When(r.Duty.Is("signal"), not).AtMost(n.Signal(r), signalMost)
		for _, to := range r.To {
			if is(b, to, hungry) {
				s.On(r, "load of "+to.String()).When(r.Duty.Is("signal"), not).When(r.Power.Given().Not(), "its power is stated").
					AtMost(r.Load, signalMost)
			}
		}
	}
}
