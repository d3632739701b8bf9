package wiring

import (
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/circuits"
)

var groundDuty = &lint.Rule{
	Name:    "wiring/ground-duty",
	Title:   "a circuit of duty ground has the engine, the frame or the body at one end, and nothing that feeds it",
	Due:     ledger.AtFirstStart,
	Sources: cited("practice"),
	Note:    "The word ground exempts a circuit from fuse, amperage and voltage drop. What it goes to is known by the role of the part; it may begin at a circuit of duty ground, and at no other. A feed from the battery to a harness of the body that is called a ground is not told from one.",
	Caution: fire,
	Check:   checkGroundDuty,
}

// listed are the roles of a row of the table of roles.
func listed(row string) []string { return strings.Split(data.Table("roles").Word(row, "are"), ", ") }

func checkGroundDuty(b *ledger.Build, s *lint.Sheet) {
	earth := listed("earth")
	for _, r := range circuits.Of(b).Runs {
		one, fed := quantity.Is(false), r.From.Names("relay").OrElse(false)
		for _, end := range append([]ledger.Ref{r.From}, r.To...) {
			one = one.Or(end.Names("part").And(b.Part(end).Role.Is(earth...)))
			if end.Kind() == "circuit" {
				is := b.Circuit(end).Duty.Is("ground")
				one, fed = one.Or(is), fed.Or(is.Not())
			}
		}
		s.On(r, "").When(r.Duty.Is("ground"), "it is not said to be a ground").
			Holds(one.And(fed.Not()), "its duty is ground, and it does not lead from battery or part to engine, frame or body: it needs a fuse like any other circuit")
	}
}

// critical tells that something dangerous fails with a run: where it says so,
// and where it leads to what stops the engine or the wheels.
func critical(b *ledger.Build, r *circuits.Run) quantity.Truth {
	out := r.Critical
	for _, to := range r.To {
		out = out.Or(quantity.Is(is(b, to, listed("critical"))))
	}
	return out
}

// steady tells that a run is on as long as the engine is: where it says so, and
// where it leads to what the engine cannot do without, whatever its duty says.
func steady(b *ledger.Build, r *circuits.Run) quantity.Truth {
	out := r.Duty.Is("continuous")
	for _, to := range r.To {
		out = out.Or(quantity.Is(is(b, to, listed("steady")) && r.Duty.Is("signal", "ground").Fails()))
	}
	return out
}

// byTheEngine tells that a run leads from or to what sits on the engine.
func byTheEngine(b *ledger.Build, r *circuits.Run) bool {
	for _, end := range append([]ledger.Ref{r.From}, r.To...) {
		if is(b, end, listed("on-the-engine")) {
			return true
		}
	}
	return false
}
