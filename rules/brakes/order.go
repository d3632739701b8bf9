package brakes

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

// checkOrder checks at what braking the order of locking turns, in a state of
// load.
func checkOrder(b *ledger.Build, s *lint.Sheet, at laden, p q.Quantity) {
	v := b.Vehicle()
	z := TurnsAt(p, at.front, at.total, v.Wheelbase, at.h).As("braking at which the rear wheels come to lock first, "+at.when, "(p - W_f/W) L / h")
	must := s.On(v, "front wheels lock first to 0.5 g, "+at.when)
	if asReceived(b, p) {
		must.Recommended()
	}
	settled, how := lockOrderSettled(b)
	known := p.Given().Or(q.Is(b.IsPhantom()))
	const unknown = "how the braking is shared is not in the ledger yet"
	must.When(known, unknown).When(settled.Not(), how).AtLeast(z, data.Value("turns-light-truck"))
	s.On(v, "front wheels lock first to 0.8 g, "+at.when).Recommended().When(known, unknown).When(settled.Not(), how).AtLeast(z, data.Value("turns-passenger"))
}

// checkWatched checks what was seen of the order in a stop test.
func checkWatched(b *ledger.Build, s *lint.Sheet) {
	for _, t := range vehicle.Latest(b, "stop") {
		s.On(t, "front wheels lock first").When(t.Readings.FrontFirst.Given(), "nobody watched which wheels lock first").
			Holds(t.Readings.FrontFirst, "the rear wheels locked before the front ones")
	}
}

// lockOrderSettled tells what shows without a sum that the rear wheels do not
// lock first: an anti-lock with its document, or a stop test that was watched.
func lockOrderSettled(b *ledger.Build) (q.Truth, string) {
	a := b.Brakes()
	settled, how := a.AntiLock.Given().And(proved(a)), "a working anti-lock keeps the rear wheels rolling"
	for _, t := range vehicle.Latest(b, "stop") {
		now, _ := vehicle.Untouched(b, t.Date, stops...)
		watched := t.Kind.Is("stop").And(t.Readings.FrontFirst.OrElse(false)).And(t.Date.Given()).And(now)
		if watched.Holds() && !settled.Holds() {
			settled, how = watched, "in "+t.Path()+" the front wheels locked first"
		}
	}
	return settled, how
}

// proved is that the anti-lock has its document, and missing where not.
func proved(a *ledger.Brakes) q.Truth {
	if a.Document.Known() {
		return q.Is(true)
	}
	return q.Unknown(a.Document.Needs())
}

// asReceived tells that the brakes are the vehicle's own and that the turn of
// the order, empty, fell by little: what the maker chose was about right, and is
// nearly so still.
func asReceived(b *ledger.Build, p q.Quantity) bool {
	w, l := vehicle.WeightsOf(b), b.Vehicle().Wheelbase
	was := TurnsAt(p, w.Front.Received, w.Total.Received, l, b.Vehicle().CGHeight)
	now := TurnsAt(p, w.Front.Curb, w.Total.Curb, l, vehicle.CurbHeight(b))
	fell := was.Sub(now)
	return !vehicle.Reworked(b, vehicle.Brakes) && fell.Known() && fell.Value() <= data.Value("turns-little").Value()
}
