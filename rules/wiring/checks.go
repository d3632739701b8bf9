package wiring

import (
	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/circuits"
	"fishplate/rules/vehicle"
)

// Why a check does not apply.
const (
	ofCranking = "wiring/cranking-drop judges a starter's cable"
	notSteady  = "it is not continuous"
	notBrief   = "it is not momentary"
	noPower    = "a signal or a ground: its drop is not judged"
	noFuse     = "a signal, a ground or the starter's cable needs no fuse"
	ofStarter  = "33 CFR 183.425 exempts the starter's cable"
	noLoad     = "a ground that states no load"
	ownFuse    = "it has no fuse of its own"
	noBundle   = "the ledger does not say how many wires run with it"
	noSwitch   = "no rated switch in it"
	noFault    = "neither a fault current nor a clearing time is stated"
	noClearing = "no clearing time is stated"
	notMain    = "it is not fed straight from the battery"
	noCircuits = "the ledger has no circuit"
)

func checkDrop(b *ledger.Build, s *lint.Sheet) {
	n := circuits.Of(b)
	for _, r := range n.Runs {
		check := s.On(r, "")
		if critical(b, r).Fails() {
			check.Recommended()
		}
		check.When(power(r), noPower).When(r.Duty.Is("cranking").Not(), ofCranking).AtMost(circuits.DropShare(n.AtEnd(r), b.Supply().Voltage), dropLimit(b, r))
	}
}

func checkAmpacity(b *ledger.Build, s *lint.Sheet) {
	n := circuits.Of(b)
	for _, r := range n.Runs {
		brief := r.Duty.Is("momentary").And(steady(b, r).Not())
		current := n.Current(r, circuits.Everything)
		on := quantity.FirstOf(r.OnTime, onTime)
		steady := quantity.Choose(brief, circuits.RootMeanSquare(current, on, quantity.FirstOf(r.OffTime, on)), current)
		aircraft(carries(b, s, r), r).AtMost(steady, n.Allowable(r))
		s.On(r, "while on").When(brief, notBrief).AtMost(circuits.Heat(current, on), n.Stands(r))
	}
}

func checkBundle(b *ledger.Build, s *lint.Sheet) {
	n := circuits.Of(b)
	for _, r := range n.Runs {
		carries(b, s, r).When(circuits.Stated(b, r.Bundle), noBundle).AtMost(n.Current(r, circuits.Everything), n.InBundle(r))
	}
}

// carries begins a check of what a wire carries.
func carries(b *ledger.Build, s *lint.Sheet, r *circuits.Run) *lint.Subject {
	return s.On(r, "").When(r.Duty.Is("cranking").Not(), ofStarter).When(r.Duty.Is("ground").Not().Or(circuits.Stated(b, r.Load, r.Power)), noLoad)
}

// aircraft says why so little is allowed of the thinnest sizes.
func aircraft(u *lint.Subject, r *circuits.Run) *lint.Subject {
	if circuits.IsAircraftSize(r.Gauge) {
		u.Says("%s is thinner than 33 CFR's table goes: it takes the aircraft table, for wires in bundles at 70 °C, which allows far less; 18 AWG takes 33 CFR's", r.Gauge)
	}
	return u
}

func checkProtects(b *ledger.Build, s *lint.Sheet) {
	n := circuits.Of(b)
	for _, r := range n.Runs {
		bare := r.Duty.Is("signal").And(plays(b, r.From, "battery").Or(plays(b, r.From, "starter")))
		aircraft(s.On(r, "").When(r.Fused().Or(bare), noFuse), r).AtMost(n.Fuse(r), n.FuseFor(r))
	}
}

func checkCarries(b *ledger.Build, s *lint.Sheet) {
	n := circuits.Of(b)
	for _, r := range n.Runs {
		share := quantity.Choose(steady(b, r), continuousShare, otherShare)
		full := n.Fuse(r).Mul(share).As("what the fuse carries", "share × rating")
		own := circuits.Stated(b, r.Fuse, r.Breaker)
		s.On(r, "").When(own, ownFuse).AtMost(n.Current(r, circuits.Everything), full)
		s.On(r, "where it is hot").Recommended().When(own, ownFuse).When(steady(b, r), notSteady).When(r.Breaker.Given().Not(), "a breaker").
			AtMost(n.Current(r, circuits.Everything), HotFuse(n.Fuse(r), n.FuseTemperature(r)))
	}
}

func checkStandard(b *ledger.Build, s *lint.Sheet) {
	for _, r := range circuits.Of(b).Runs {
		made := standardRatings.At(r.Fuse).As("nearest rating that is made", "the same, or the next below")
		s.On(r, "").When(circuits.Stated(b, r.Fuse), ownFuse).Says("no blade or bolt-in fuse is made of this rating; the one shown is the next below").Same(r.Fuse, made, quantity.Number(0))
	}
}

func checkNear(b *ledger.Build, s *lint.Sheet) {
	for _, r := range circuits.Of(b).Runs {
		main := plays(b, r.From, "battery").Or(plays(b, r.From, "starter")).Or(charges(b, r))
		limit := quantity.Choose(main, quantity.Choose(r.Sheathed, mainInSheath, mainBare), quantity.Choose(r.Sheathed, unfusedInSheath, unfused))
		own := circuits.Stated(b, r.Fuse, r.Breaker)
		s.On(r, "").When(own, ownFuse).AtMost(r.FuseFromSource, limit)
		s.On(r, "bare").When(own, ownFuse).When(main, notMain).When(r.Sheathed.Not(), "it is sheathed").
			Recommended().AtMost(r.FuseFromSource, unfused)
	}
}

func checkRelay(b *ledger.Build, s *lint.Sheet) {
	n := circuits.Of(b)
	for _, relay := range b.Relays() {
		runs := n.SwitchedBy(relay)
		var terms []quantity.Quantity
		for _, r := range runs {
			terms = append(terms, n.Current(r, circuits.Everything))
		}
		load := quantity.Sum(quantity.Current, terms...).As("current through "+relay.Path(), "sum of what it switches")
		s.On(relay, "").When(quantity.Is(len(runs) > 0), "it switches no circuit of the ledger").AtMost(load, relay.ContactRating)
	}
}

func checkSwitch(b *ledger.Build, s *lint.Sheet) {
	n := circuits.Of(b)
	for _, r := range n.Runs {
		s.On(r, "").When(circuits.Stated(b, r.SwitchRating), noSwitch).AtMost(n.Current(r, circuits.Everything), r.SwitchRating)
	}
}

func checkInsulation(b *ledger.Build, s *lint.Sheet) {
	n := circuits.Of(b)
	for _, r := range n.Runs {
		s.On(r, "zone").When(quantity.Is(byTheEngine(b, r)), "it leads to nothing that is known to sit on the engine").Holds(r.Zone.Required(), "")
		hot := b.Zone(r.Zone).Temperature
		s.On(r, "heat by the engine").When(quantity.Is(byTheEngine(b, r)), "it leads to nothing that is known to sit on the engine").When(hot.Given().Or(quantity.Is(b.IsPhantom())), "its zone states no temperature").Work().
			Holds(vehicle.PlausibleAtLeast(b, hot, engineSpaceLeast), "")
		s.On(r, "").AtLeast(circuits.InsulationRating(r.Insulation), n.Temperature(r).Add(insulationSpare).As("temperature that it must stand", "T + 10 K"))
	}
}

func checkShort(b *ledger.Build, s *lint.Sheet) {
	n := circuits.Of(b)
	for _, r := range n.Runs {
		stands := circuits.Withstand(circuits.KSquared(circuits.InsulationRating(r.Insulation), circuits.FinalTemperature(r.Insulation)), n.Area(r))
		either := circuits.Stated(b, r.FaultCurrent, r.ClearingTime)
		s.On(r, "").When(either, noFault).AtMost(circuits.LetThrough(r.FaultCurrent, r.ClearingTime), stands)
		s.On(r, "clearing time").When(circuits.Stated(b, r.ClearingTime), noClearing).Says("the formula holds for no longer").AtMost(r.ClearingTime, circuits.LongestFault())
	}
}

func checkCharging(b *ledger.Build, s *lint.Sheet) {
	n := circuits.Of(b)
	var terms []quantity.Quantity
	for _, r := range n.Runs {
		end := steady(b, r).And(charges(b, r).Not())
		terms = append(terms, quantity.Choose(end, r.Own, quantity.SI(0, quantity.Current)))
	}
	loads := quantity.Sum(quantity.Current, terms...).As("continuous loads", "sum of the own loads of continuous circuits")
	for _, r := range n.Runs {
		s.On(r, "alternator").When(feedsBattery(b, r), "it does not lead from the alternator to the battery").
			When(r.Duty.Is("signal", "ground").Not(), noPower).AtLeast(n.Current(r, circuits.Everything), b.Supply().AlternatorCruise.Mul(chargeShare).As("load that the cable is to state", "0.9 I_alt"))
	}
	checkCharged(b, n, s)
	any := quantity.Is(len(n.Runs) > 0)
	checkSystemVoltage(b, s, any)
	s.On(b.Supply(), "cruise").When(any, noCircuits).AtLeast(b.Supply().AlternatorCruise, loads)
	s.On(b.Supply(), "idle").When(any, noCircuits).Recommended().AtLeast(b.Supply().AlternatorIdle, loads.Mul(idleShare).As("loads to carry at idle", "0.8 * continuous loads"))
}

// checkCharged asks for the cable of every alternator that went on.
func checkCharged(b *ledger.Build, n *circuits.Network, s *lint.Sheet) {
	for p := range b.Fitted() {
		is := p.Role.Is("alternator").OrElse(b.IsPhantom())
		if is.Fails() {
			continue
		}
		led := quantity.Unknown([]quantity.Need{{Key: "a circuit from " + p.Path() + " to what it charges", Place: p.Place()}})
		for _, r := range n.Runs {
			led = led.Or(r.From.Is(p.Path()).And(power(r)).OrElse(false))
		}
		s.On(p, "its cable").When(is, "").When(p.Origin.Is("original").OrElse(false).Not(), "it came with the vehicle, and so did its cable").Holds(led, "")
	}
}

// charges tells that a run is a way between sources and no load: it comes from
// a part whose role is alternator, or ends at one whose role is battery.
func charges(b *ledger.Build, r *circuits.Run) quantity.Truth {
	out := plays(b, r.From, "alternator")
	for _, to := range r.To {
		out = out.Or(plays(b, to, "battery"))
	}
	return out
}

// feedsBattery tells that a run leads from the alternator to the battery.
func feedsBattery(b *ledger.Build, r *circuits.Run) quantity.Truth {
	out := quantity.Is(b.IsPhantom())
	for _, to := range r.To {
		out = out.Or(plays(b, to, "battery").Or(plays(b, to, "starter")))
	}
	return out.And(plays(b, r.From, "alternator"))
}

// plays tells that an end of a run is a part that says that it has the role.
func plays(b *ledger.Build, end ledger.Ref, role string) quantity.Truth {
	return end.Names("part").And(b.Part(end).Role.Is(role)).OrElse(false)
}

func checkCranking(b *ledger.Build, s *lint.Sheet) {
	var draws []quantity.Quantity
	for _, r := range circuits.Of(b).Runs {
		if r.Cranking && r.Load.Known() {
			draws = append(draws, r.Load)
		}
	}
	starter := b.Supply().StarterCurrent
	if len(draws) > 0 {
		starter = quantity.Max(starter, draws...).As("starter's current", "max(supply, circuits)")
	}
	cca := b.Supply().BatteryCCA
	s.On(b.Supply(), "").AtLeast(cca.Mul(rollingDraw).As("what the battery turns a starter with", "1.56 CCA"), starter)
	s.On(b.Supply(), "all of it").Recommended().AtLeast(cca, starter)
	apart(b, s, draws)
	checkDraw(b, s)
}

// apart tells where supply and circuits state currents of the starter that are
// not of one starter in one weather.
func apart(b *ledger.Build, s *lint.Sheet, draws []quantity.Quantity) {
	const one = "only one of supply and circuits states what the starter draws"
	stated := b.Supply().StarterCurrent
	both := quantity.Is(len(draws) > 0).And(stated.Given())
	if b.IsPhantom() {
		both, draws = quantity.Unknown(stated.Needs()), []quantity.Quantity{stated}
	}
	if len(draws) == 0 {
		draws = []quantity.Quantity{stated}
	}
	s.On(b.Supply(), "the two currents").Recommended().When(both, one).
		Says("say which was taken warm and which cold, or mend one").Same(quantity.Max(draws[0], draws[1:]...), stated, startersAgree)
}

// checkCrankingDuty keeps the word that exempts a circuit from its fuse to the
// cables of starters.
func checkCrankingDuty(b *ledger.Build, s *lint.Sheet) {
	for _, r := range circuits.Of(b).Runs {
		starts := quantity.Is(len(r.To) > 0 || b.IsPhantom())
		for _, to := range r.To {
			on := to.Names("circuit").And(b.Circuit(to).Duty.Is("cranking")).OrElse(false)
			starts = starts.And(on.Or(to.Names("part").And(b.Part(to).Role.Is("starter"))))
		}
		s.On(r, "").When(r.Duty.Is("cranking"), "it is not said to be a starter's cable").
			Holds(starts, "its duty is cranking, and it leads to what is no part of role starter: that needs a fuse like any other circuit")
		s.On(r, "from").When(r.Duty.Is("cranking"), "it is not said to be a starter's cable").Holds(r.From.Required(), "")
	}
}

// power tells that a run carries power: neither a signal nor what a ground
// returns.
func power(r *circuits.Run) quantity.Truth { return r.Duty.Is("signal", "ground").Not() }

// dropLimit is the share of the voltage that a run may lose: what its kind may,
// or less where the ledger says so.
func dropLimit(b *ledger.Build, r *circuits.Run) quantity.Quantity {
	usual := quantity.Choose(critical(b, r), criticalDrop, otherDrop)
	if !r.DropLimit.Known() {
		return usual
	}
	return quantity.Min(r.DropLimit, usual).As("share that it may lose", "its own drop-limit, or the usual if less")
}
