package weight

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

var scaleAgrees = &lint.Rule{
	Name: "weight/scale-agrees", Title: "the scale finds on each axle what the ledger predicts, within 3 %",
	Should: true, Due: ledger.AtDelivery, Sources: []q.Citation{data.Source("practice"), data.Source("moments")},
	Note:    "Predicted from the received weighing, without what went on after the second. Where it fails, something on the vehicle is not in the ledger, or someone sat in it. The 3 % is common practice.",
	Caution: "A vehicle is heavy: chock it on the scale, and keep clear while it rolls on and off. What is not in the ledger may overload an axle; a certified scale has the last word.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, a := range b.Axles() {
			w := vehicle.WeightsOf(b).Of(a)
			s.On(a, "").When(w.Weighed, "").SaysWhy(func() string { return outBy(b, w) }).Same(w.Expected, w.Built, data.Value("scale-agreement"))
		}
	},
}

var rideHeight = &lint.Rule{
	Name: "weight/ride-height", Title: "ride height changes by no more than the stated limit at each axle",
	Should: true, Due: ledger.AtPlan, Sources: []q.Citation{data.Source("practice"), data.Source("nist-sp811")},
	Note:    "The limit is the ledger's own, ride-change-limit. Reckoned from the change of curb weight with the springs as they were. With other springs (spring-rate-was) the change is measured and written as ride-change, down positive. The tires' give is left out.",
	Caution: "Measure it on its wheels on level floor, with nobody under it; a spring under load maims, so leave changing one to a shop that has the tools. Alignment and headlamps go with ride height; local code may limit it.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, a := range b.Axles() {
			w := vehicle.WeightsOf(b).Of(a)
			reckoned := RideChange(w.Curb, w.Received, data.Value("gravity"), a.SpringRate).As("change of ride height", "(W' - W) g / (2 k)")
			change := q.Choose(a.SpringRateWas.Given(), a.RideChanged, reckoned)
			s.On(a, "").AtMost(q.Abs(change).As("change of ride height, either way", "|z|"), a.RideChange)
		}
	},
}

var frontShare = &lint.Rule{
	Name: "weight/front-share", Title: "the front axle's share of curb weight stays within 4 points of the received one",
	Should: true, Due: ledger.AtPlan, Sources: []q.Citation{data.Source("practice"), data.Source("moments")},
	Note:    "Within 4 points, by common practice. Brakes, springs and steering were chosen for the old share.",
	Caution: "A lighter rear axle locks its brakes sooner, and a heavier front one asks for more of them; see to the brakes' balance, and let a licensed brake shop judge it.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		w := vehicle.WeightsOf(b)
		was := FrontShare(w.Front.Received, w.Total.Received).As("front share as received", "W_f / W")
		now := FrontShare(w.Front.Curb, w.Total.Curb).As("front share now", "W_f / W")
		s.On(b.Vehicle(), "").AtMost(q.Abs(now.Sub(was)).As("change of the front share", "|now - as received|"), data.Value("share-drift"))
	},
}

var rollover = &lint.Rule{
	Name: "weight/rollover", Title: "loaded, the vehicle keeps 90 % of the resistance to rolling over that it had with the same loads as received, and 1.0 of it at curb",
	Should: true, Due: ledger.AtPlan, Sources: []q.Citation{data.Source("practice"), data.Source("ssf"), data.Source("star-bands"), vehicle.TireSource},
	Note: "Nine tenths of what it was, and 1.0 with only a driver aboard, are common practice; from memory, pickups and sport-utilities have 1.05 to 1.25. A measured ride-change raises or lowers the whole vehicle. The static stability factor is a benchmark, a consumer rating of new vehicles unloaded: it is no limit that a vehicle is certified to, and leaves out springs, tires and speed. " +
		riskBands(),
	Caution: "A vehicle that stands taller or carries more on high tips sooner. Load low, and drive it as what it is now. Where your local code asks a height or stability test, that decides.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		h, f, r := vehicle.HeightsOf(b), b.Front(), b.Rear()
		track := Track(f.Track, r.Track)
		now := Stability(track, h.Now).As("static stability factor", "T / (2 h)")
		was := Stability(Track(trackWas(f), trackWas(r)), h.Was).As("static stability factor as received, with the same loads", "T / (2 h)")
		s.On(b.Vehicle(), "").AtLeast(now, data.Value("stability-kept").Mul(was).As("what is to be kept of it", "0.9 SSF"))
		driven := Stability(track, withDriver(b)).As("static stability factor at curb, a driver aboard", "T / (2 h)")
		s.On(b.Vehicle(), "at curb, a driver aboard").When(b.Vehicle().CGHeight.Given().Or(q.Is(b.IsPhantom())), "the height of the center of gravity is not in the ledger yet").AtLeast(driven, data.Value("stability-floor"))
	},
}

// withDriver is the height of the center of gravity at curb with a driver aboard,
// at the height of the seats; of curb alone where the ledger does not have that.
func withDriver(b *ledger.Build) q.Quantity {
	curb, driver := vehicle.CurbHeight(b), data.Value("seat")
	seat := b.Now(b.Vehicle().SeatsAt).Z
	return q.FirstOf(vehicle.CenterHeight(curb, driver.Mul(seat.Sub(curb)), vehicle.WeightsOf(b).Total.Curb.Add(driver)).As("center of gravity with a driver", "h + m (z - h)/(W + m)"), curb)
}

func trackWas(a *ledger.Axle) q.Quantity { return q.Choose(a.TrackWas.Given(), a.TrackWas, a.Track) }
