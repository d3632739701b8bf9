package wiring

import (
	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/circuits"
	"fishplate/rules/vehicle"
)

// checkDraw holds what the ledger says that the starter draws, the largest of it,
// against the engine that it turns. Who writes too little makes battery, cable
// and drop look good.
func checkDraw(b *ledger.Build, s *lint.Sheet) {
	most := b.Supply().StarterCurrent
	for _, r := range circuits.Of(b).Runs {
		if r.Cranking && r.Load.Known() && (!most.Known() || r.Load.Value() > most.Value()) {
			most = r.Load
		}
	}
	s.On(b.Supply(), "for such an engine").When(most.Given().Or(quantity.Is(b.IsPhantom())), "not in the ledger yet").Work().
		Holds(vehicle.PlausibleAtLeast(b, most, LeastDraw(b.Engine().Displacement, b.Supply().Voltage)), "")
}

// checkSystemVoltage asks for more than a word where the ledger says 24 V: by
// that all losses may be twice as large. A meter on the vehicle says it as well.
func checkSystemVoltage(b *ledger.Build, s *lint.Sheet, any quantity.Truth) {
	volts := b.Supply().Voltage
	read := quantity.Is(false)
	for _, t := range b.Tests() {
		v := t.Readings.Voltage
		if !v.Known() && !b.IsPhantom() {
			continue
		}
		s.On(t, "system voltage").When(t.Date.Given().Or(quantity.Is(b.IsPhantom())), "it has no date").
			Says("one of the two is of another system: 12 V and 24 V do not mix").
			Same(v, volts, voltsAgree)
		read = read.Or(t.Date.Given())
	}
	s.On(b.Supply(), "voltage").When(any, noCircuits).When(volts.Given().Or(quantity.Is(b.IsPhantom())), "not in the ledger yet").Work().
		Holds(read.Or(vehicle.PlausibleAtMost(b, volts, between12And24)), "")
}
