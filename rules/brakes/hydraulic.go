package brakes

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

// The two hookups of a booster that fluid works: what pressure it needs, and how
// much flow.
const (
	assistPressure = "hydraulic-assist"
	assistFlow     = "hydraulic-flow"
)

var hydraulicPower = &lint.Rule{
	Name: "brakes/hydraulic-power", Title: "the pump of a hydraulic booster is enough for brakes and steering at once, and both were worked together on the road",
	Due: ledger.AtRoadTest, Sources: []q.Citation{data.Source("practice"), data.Source("pump-margin"), data.Source("pump-data")},
	Note: "Booster and steering gear stand in series: the same flow runs through both, and the pressures that they take add up only where both work. At idle the pump's flow is to be the larger need of the two, its relief the highest need plus 200 psi: shoulds, second-hand. " +
		"That both were worked together, hard, at a crawl and at idle, and neither went heavy, is a must: a [test.x] of kind road with braked-and-steered, dated after the last change to booster, pump or engine. " +
		"Pumps of light trucks gave 1.4 gpm at idle against 740 psi and relieve at 1,400 to 1,530 psi; one pickup with such a booster asks 3.5 to 4.0 gpm.",
	Caution: "A pump that does one and not the other leaves you without brakes in a turn. Try it standing, then in an empty yard. A licensed brake shop has the last word.",
	Check:   checkHydraulicPower,
}

func checkHydraulicPower(b *ledger.Build, s *lint.Sheet) {
	boosters := fittedAs(b, boosterRoles...)
	if b.IsPhantom() {
		boosters = b.Parts()
	}
	fed := 0
	for _, p := range boosters {
		need, ok := p.Needs[assistPressure]
		if !ok && !b.IsPhantom() {
			continue
		}
		fed++
		pump := b.Part(need.From)
		most := greatestNeed(b, need.From, assistPressure, q.Pressure).Add(data.Value("relief-margin")).As("relief that is wanted", "the highest need + 200 psi")
		s.On(p, "relief").Recommended().AtLeast(supplied(b, pump, assistPressure, q.Pressure), most)
		s.On(p, "flow at idle").Recommended().AtLeast(supplied(b, pump, assistFlow, q.Flow), greatestNeed(b, need.From, assistFlow, q.Flow).As("flow that is wanted", "the larger need"))
		s.On(p, "worked with the steering").Holds(workedTogether(b), "brakes and steering together were more than the pump gives")
	}
	if fed == 0 {
		s.None(b.Vehicle(), "no booster that fluid works")
	}
}

var boosterRoles = []string{"brake-booster", "hydraulic-booster"}

// supplied is what a pump is said to give of a hookup.
func supplied(b *ledger.Build, pump *ledger.Part, kind string, dim q.Dim) q.Quantity {
	if gift, gives := pump.Gift(kind); gives.Holds() {
		return gift.Level
	}
	return q.Waits(dim, pump.Path()+".gives."+kind, pump.Place())
}

// greatestNeed is the largest need of a hookup among the fitted parts that a pump
// feeds.
func greatestNeed(b *ledger.Build, pump ledger.Ref, kind string, dim q.Dim) q.Quantity {
	var all []q.Quantity
	for p := range b.Fitted() {
		if need, ok := p.Needs[kind]; ok && need.From.Same(pump.Word).Holds() {
			all = append(all, need.Least)
		}
	}
	if len(all) == 0 {
		return q.Waits(dim, "a part that "+pump.String()+" feeds, with needs."+kind, b.Part(pump).Place())
	}
	return q.Max(all[0], all[1:]...)
}

// workedTogether holds where a road test found both enough.
func workedTogether(b *ledger.Build) q.Truth {
	out := q.Unknown([]q.Need{{Key: "a test.x of kind road with braked-and-steered, from after the last change to booster, pump or engine", Place: b.Vehicle().Place()}})
	for _, t := range vehicle.Latest(b, "road") {
		now, _ := vehicle.Untouched(b, t.Date, vehicle.Assist)
		counts := t.Kind.Is("road").And(now).OrElse(false)
		switch tried := t.Readings.BrakedAndSteered; {
		case counts.Holds() && tried.Known():
			return tried
		case b.IsPhantom():
			return tried
		}
	}
	return out
}
