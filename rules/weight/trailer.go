package weight

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

var trailer = &lint.Rule{
	Name: "weight/trailer", Title: "with the trailer on, axles, vehicle and both together are within their certified ratings",
	Due: ledger.AtDelivery, Sources: []q.Citation{data.Source("cfr-567-4"), data.Source("tongue"), data.Source("moments"), data.Source("practice")},
	Backs: []string{"cfr-567-4", "tongue"},
	Note: "The tongue counts on the vehicle: behind the rear axle it loads that by more than itself and lightens the front one. Below 10 % of the trailer it lets the trailer sway, above 15 % it is too much for most hitches: makers' figures, a should; the 9 % that the least of them asks is a must, for a trailer that sways kills. " +
		"A hitch or a brake controller asks for the trailer, as a should. With a hitch that distributes the weight only a scale tells the axles (front-load, rear-load). A combined rating over 3.5 times the gross one waits for a document (common practice). The hitch's and the ball's own ratings are left out.",
	Caution: overloaded + " A trailer that sways throws both off the road.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		t, v, w := b.Trailer(), b.Vehicle(), vehicle.WeightsOf(b)
		const none = "no [trailer] in the ledger"
		s.On(v, "what it tows").Recommended().When(vehicle.Tows(b), "nothing in the ledger says that it tows").
			Holds(t.Given().Or(q.Unknown([]q.Need{{Key: "a [trailer]: the heaviest that its hitch is to pull, and where the ball is", Place: b.Main()}})), "")
		for _, a := range b.Axles() {
			on, share := moments(b, a)
			weighed := t.RearLoad
			if a.Path() == b.Front().Path() {
				weighed = t.FrontLoad
			}
			hitched := w.Of(a).Loaded.Add(on(t.Tongue, b.Now(t.BallAt).X, v.Wheelbase)).As("load with the tongue on", "load + tongue "+share)
			s.On(a, "").When(t.Given(), none).AtMost(q.Choose(t.Distributing, weighed, hitched), a.Rating)
		}
		s.On(v, "gross").When(t.Given(), none).AtMost(w.Total.Loaded.Add(t.Tongue).As("vehicle with the tongue on", "load + tongue"), v.GrossRating)
		s.On(v, "combined").When(t.Given(), none).AtMost(w.Total.Loaded.Add(t.Mass).As("vehicle and trailer", "load + trailer"), v.CombinedRating)
		phantom := q.Is(b.IsPhantom())
		s.On(v, "combined rating").When(t.Given(), none).When(v.CombinedRating.Given().And(v.GrossRating.Given()).Or(phantom), "no combined rating in the ledger").Work().
			Holds(vehicle.PlausibleAtMost(b, v.CombinedRating, data.Value("combined-over-gross").Mul(v.GrossRating)), "")
		s.On(t, "tongue, at the least").When(t.Given(), none).AtLeast(t.Tongue.Div(t.Mass).As("tongue's share", "tongue / trailer"), data.Value("tongue-must"))
		s.On(t, "tongue").Recommended().When(t.Given(), none).
			Between(t.Tongue.Div(t.Mass).As("tongue's share", "tongue / trailer"), data.Value("tongue-least"), data.Value("tongue-most"))
	},
}
