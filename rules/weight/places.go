package weight

import (
	"fmt"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

var cgHeight = &lint.Rule{
	Name: "weight/cg-height", Title: "the height of the center of gravity as received is one that such a vehicle has, and leaves what stayed above the wheels' middles",
	Due: ledger.AtPlan, Sources: []q.Citation{data.Source("practice"), data.Source("moments"), data.Source("raised-axle"), vehicle.TireSource},
	Backs: []string{"practice"},
	Note: "Rolling over and the order of locking rest on it, and what is too low makes both look good, what is too high the first. From 0.28 to 0.5 of the overall height, and no less than 1.4 of the tire's radius (both common practice): another figure waits for a document, such as two scale tickets, level and with one axle raised: h = R + L (F' - F) / (W tan phi). " +
		"What stays on the vehicle, the height as received less what came off at its own height, is no lower than the wheels' middles: frame, axles, cab and load space stand there or above. That is common practice too, and a must, for people die of a vehicle that rolls over.",
	Caution: "A vehicle on one raised axle rolls and falls: chock it, lift by a rated hoist, and keep away. Where your local code asks a height or stability test, that decides.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		v, phantom := b.Vehicle(), q.Is(b.IsPhantom())
		given := v.CGHeight.Given().Or(phantom)
		const none = "not in the ledger yet"
		r := radius(b)
		s.On(v, "against its height").When(given, none).When(v.Height.Given().Or(phantom), "the overall height is not in the ledger").
			Holds(vehicle.Plausible(b, v.CGHeight, data.Value("cg-share-least").Mul(v.Height), data.Value("cg-share-most").Mul(v.Height)), "")
		s.On(v, "against its wheels").When(given, none).When(r.Given().Or(phantom), "its tires are not in the ledger").
			Holds(vehicle.PlausibleAtLeast(b, v.CGHeight, data.Value("cg-over-radius").Mul(r)), "")
		stayed := vehicle.StayedHeight(b)
		s.On(v, "of what stayed").When(given, none).When(r.Given().And(stayed.Given()).Or(phantom), "places, masses or tires are not all in the ledger").
			AtLeast(stayed, r)
	},
}

// radius is that of the smaller tires as received.
func radius(b *ledger.Build) q.Quantity {
	of := func(a *ledger.Axle) q.Quantity {
		return q.Choose(a.TireWas.Given(), vehicle.Diameter(b, b.Tire(a.TireWas)), vehicle.Diameter(b, b.Tire(a.Tire)))
	}
	return q.Min(of(b.Front()), of(b.Rear())).Div(q.Number(2)).As("radius of the tires as received", "min(D_f, D_r) / 2")
}

var places = &lint.Rule{
	Name: "weight/places", Title: "axles, ball and masses are where such a vehicle can have them",
	Due: ledger.AtPlan, Sources: []q.Citation{data.Source("practice"), data.Source("moments")},
	Backs:   []string{"practice"},
	Note:    "An axle among the parts stands on its axle line, within 3 in: the wheelbase and its place say one thing. A tank of fuel is within 6 in of a fuel tank among the parts, where those are as many. The ball is within 24 in of the hitch among the parts, and no further ahead of the rear axle than a gooseneck's, 24 in. Nothing of mass lies below the ground, and what is further than a wheelbase ahead of the front axle, two behind it, or 60 in from the center line waits for a document that proves its place; so do a track outside 40 to 84 in and two that are more than 10 in apart. All are common practice.",
	Caution: overloaded,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		v, phantom := b.Vehicle(), q.Is(b.IsPhantom())
		lines := map[string]q.Quantity{"front-axle": q.SI(0, q.Length), "rear-axle": v.Wheelbase}
		with := map[string][]*ledger.Part{} // parts by their role
		for p := range b.Fitted() {
			with[p.Role.String()] = append(with[p.Role.String()], p)
		}
		for p := range b.Fitted() {
			line, axle := lines[p.Role.String()]
			if b.IsPhantom() {
				line, axle = v.Wheelbase, true
			}
			if axle {
				s.On(p, "").When(p.At.Behind.Given().Or(phantom), "it has no place of its own").When(q.Is(len(with[p.Role.String()]) == 1 || b.IsPhantom()), "one of several").
					AtMost(q.Abs(b.Now(p.At).X.Sub(line)).As("from its axle line", "|x - x_axle|"), data.Value("off-its-line"))
			}
		}
		ball := b.Now(b.Trailer().BallAt).X
		s.On(b.Trailer(), "ball and axle").When(ball.Given().Or(phantom), "no ball in the ledger").
			Holds(behind(b, ball), "")
		hitch := vehicle.Nearest(b, b.Trailer().BallAt, with["hitch"])
		from := q.Abs(ball.Sub(b.Now(hitch.At).X)).As("ball from hitch", "|x_ball - x_hitch|")
		s.On(b.Trailer(), "ball and hitch").When(from.Given().Or(phantom), "the place of the ball, or of a hitch among the parts, is not in the ledger").
			AtMost(from, data.Value("ball-from-hitch"))
		tracks := q.Abs(b.Front().Track.Sub(b.Rear().Track))
		for _, a := range b.Axles() {
			s.On(a, "track").When(a.Track.Given().Or(phantom), "not in the ledger yet").Work().
				Holds(vehicle.Plausible(b, a.Track, data.Value("track-least"), data.Value("track-most")), "")
		}
		s.On(v, "tracks").When(b.Front().Track.Given().And(b.Rear().Track.Given()).Or(phantom), "not both in the ledger yet").
			Holds(alike(b, tracks), "")
		tanks, parts := vehicle.FuelTanks(b)
		for _, t := range tanks {
			known := len(parts) >= len(tanks)
			away := vehicle.Apart(b.Now(t.At), b.Now(vehicle.Nearest(b, t.At, parts).At)).As("from the nearest fuel tank among the parts", "sqrt(back² + right² + up²)")
			s.On(t, "as its part").When(q.Is(known).And(away.Given()).Or(phantom), "not as many fuel tanks are among the parts, with their places").AtMost(away, vehicle.TankFromPart)
		}
		all, told := inPlace(b)
		s.On(v, "masses").Holds(all, "%s", told)
	},
}

// behind holds where the ball is where a tongue can be hung.
func behind(b *ledger.Build, ball q.Quantity) q.Truth {
	least := b.Vehicle().Wheelbase.Sub(data.Value("ball-ahead-of-axle"))
	if !ball.Known() || !least.Known() {
		return q.Unknown(append(ball.Needs(), least.Needs()...))
	}
	return vehicle.Documented(b, ball.Value() >= least.Value(), "trailer.ball-at", "it is ahead of the rear axle", b.Trailer().Place())
}

// alike holds where the two tracks are about as wide.
func alike(b *ledger.Build, apart q.Quantity) q.Truth {
	if !apart.Known() {
		return q.Unknown(apart.Needs())
	}
	return vehicle.Documented(b, apart.Value() <= data.Value("tracks-apart").Value(), "vehicle.front.track", "the two tracks are "+b.Style().Format(apart)+" apart", b.Front().Place())
}

// inPlace holds where all that has a mass is where a vehicle can have it, and waits for a
// document where not; nothing is below the ground.
func inPlace(b *ledger.Build) (all q.Truth, told string) {
	all = q.Is(true)
	look := func(e ledger.Subject, size q.Quantity, spot ledger.Spot) {
		if !size.Known() || !spot.Known() {
			return
		}
		at := b.Now(spot)
		switch within, below := inReach(b, at); {
		case below:
			all, told = q.Is(false), e.Path()+" lies below the ground"
		case !within:
			all = all.And(vehicle.Documented(b, false, e.Path()+".at", fmt.Sprintf("it stands %s behind the front axle and %s to the right", b.Style().Format(at.X), b.Style().Format(at.Y)), e.Place()))
		}
	}
	for _, p := range b.Parts() {
		look(p, p.Mass, p.At)
	}
	for _, l := range b.Loads() {
		look(l, l.Mass, l.At)
	}
	for _, t := range b.Tanks() {
		look(t, t.Capacity, t.At)
	}
	return all, told
}

// inReach tells whether a place is within the vehicle, as far as it is known, and
// whether it is below the ground.
func inReach(b *ledger.Build, at ledger.Point) (within, below bool) {
	side, l := data.Value("furthest-aside").Value(), b.Vehicle().Wheelbase
	within = true
	if at.X.Known() && l.Known() {
		within = at.X.Value() >= -l.Value() && at.X.Value() <= 2*l.Value()
	}
	if at.Y.Known() {
		within = within && at.Y.Value() <= side && at.Y.Value() >= -side
	}
	return within, at.Z.Known() && at.Z.Value() < 0
}
