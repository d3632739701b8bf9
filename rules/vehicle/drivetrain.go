package vehicle

import (
	"fmt"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

// Sources of what turns and what pulls, for the rules that rest on it.
var (
	RollingSource  = data.Source("etrto")
	TractionSource = data.Source("dry-road")
)

var (
	radial   = data.Value("rolling-factor-radial")
	diagonal = data.Value("rolling-factor-diagonal")
	gravity  = data.Value("gravity")
	friction = assumed("friction-of-tire-on-dry-road")
	one      = q.Number(1)
	leastTop = data.Value("least-top-speed")
)

// assumed is an interval of the data as a default.
func assumed(key string) q.Quantity {
	v := data.Value(key)
	return q.AssumedValue(v.Source().Key, v.Spelling(), v.Source().Cite)
}

// TireTurns is how often a tire turns over a distance: as it was counted, else
// by its diameter, taken for a radial unless its size says otherwise.
func TireTurns(b *ledger.Build, t *ledger.Tire) q.Quantity {
	return q.FirstOf(t.RevsPerMile, turnsOf(t, Diameter(b, t)))
}

// SizeTurns is the same by the size alone, whatever was counted or measured.
func SizeTurns(b *ledger.Build, t *ledger.Tire) q.Quantity { return turnsOf(t, Nominal(b, t)) }

func turnsOf(t *ledger.Tire, diameter q.Quantity) q.Quantity {
	factor := q.Choose(t.Size.Contains("R").OrElse(true), radial, diagonal)
	return Turns(diameter, factor).As("turns a mile of "+t.Path(), "1 rev / (F D)")
}

// Driven tells whether the engine turns an axle. Both are driven where
// vehicle.drive says neither rear nor front.
func Driven(b *ledger.Build, a *ledger.Axle) q.Truth {
	if a.Path() == b.Rear().Path() {
		return b.Vehicle().Drive.Is("front").Not()
	}
	return b.Vehicle().Drive.Is("rear").Not()
}

// Tows tells whether the vehicle is to tow: the ledger has a trailer, or the
// vehicle a hitch or a brake controller.
func Tows(b *ledger.Build) q.Truth {
	out := b.Trailer().Given()
	for p := range b.Fitted() {
		out = out.Or(p.Role.Is("hitch", "brake-controller").OrElse(false))
	}
	return out
}

// MainAxle is the axle that road speed is reckoned by: the rear one, unless
// only the front one is driven.
func MainAxle(b *ledger.Build) *ledger.Axle {
	if Driven(b, b.Rear()).Fails() {
		return b.Front()
	}
	return b.Rear()
}

// TopGear is the transmission's least ratio.
func TopGear(b *ledger.Build) q.Quantity {
	g := gears(b)
	return q.Min(g[0], g[1:]...).As("top gear", "the least of the ratios")
}

// LowGear is the transmission's greatest ratio.
func LowGear(b *ledger.Build) q.Quantity {
	g := gears(b)
	return q.Max(g[0], g[1:]...).As("low gear", "the greatest of the ratios")
}

func gears(b *ledger.Build) []q.Quantity {
	t := b.Transmission()
	return t.Quantities(t.Gears, "gears", q.Ratio)
}

// HighRange is the transfer case's high ratio; 1 where there is none.
func HighRange(b *ledger.Build) q.Quantity {
	return q.Choose(b.Transfer().Given(), b.Transfer().High, one)
}

// LowRange is the transfer case's low ratio; 1 where there is none.
func LowRange(b *ledger.Build) q.Quantity {
	return q.Choose(b.Transfer().Given(), b.Transfer().Low, one)
}

// TopRatio is the ratio from engine to wheel in top gear and high range.
func TopRatio(b *ledger.Build) q.Quantity {
	return TopGear(b).Mul(HighRange(b)).Mul(MainAxle(b).FinalDrive).As("ratio in top gear", "top gear * high range * final drive")
}

// EngineSpeed is the engine's speed in top gear at a road speed.
func EngineSpeed(b *ledger.Build, at q.Quantity) q.Quantity {
	return Rotation(at, TireTurns(b, b.Tire(MainAxle(b).Tire)), TopRatio(b))
}

// EngineSpeedIn is the engine's speed at a road speed in the gear of a test, with
// the transfer case in high; a converter that slips lets it turn faster.
func EngineSpeedIn(b *ledger.Build, t *ledger.Test, at q.Quantity) q.Quantity {
	var ratio q.Quantity
	if gear := t.Readings.Gear; gear.Known() {
		ratio = q.Waits(q.Ratio, fmt.Sprintf("gear %s of %s, which transmission.gears does not have", gear.Spelling(), t.Path()), gear.Source().Place)
		if g, n := gears(b), gear.Value(); n >= 1 && int(n) <= len(g) {
			ratio = g[int(n)-1]
		}
	} else {
		ratio = q.Waits(q.Ratio, t.Path()+".readings.gear", t.Place())
	}
	through := ratio.Mul(HighRange(b)).Mul(MainAxle(b).FinalDrive).As("ratio in the test's gear", "gear * high range * final drive")
	return Rotation(at, TireTurns(b, b.Tire(MainAxle(b).Tire)), through).As("engine speed in the test", "v * turns a mile * ratio")
}

// TopGearSpeed is the road speed in top gear at an engine's speed.
func TopGearSpeed(b *ledger.Build, engine q.Quantity) q.Quantity {
	return RoadSpeed(engine, TireTurns(b, b.Tire(MainAxle(b).Tire)), TopRatio(b))
}

// ShaftTopSpeed is how fast a shaft turns at vehicle.top-speed, or at the speed
// that any road vehicle meets once where that is more: a ledger does not set its
// own bar. It turns with
// the pinion of the axle that it goes to: the front one where that is its
// part's role, else the rear one. A shaft to a transfer case turns faster than
// the axle's by the high range.
func ShaftTopSpeed(b *ledger.Build, s *ledger.Shaft) q.Quantity {
	return shaftSpeedAt(b, s, topToTurnAt(b)).As("shaft speed at top speed", "v * turns a mile * final drive")
}

// topToTurnAt is the road speed that what turns with the wheels has to stand.
func topToTurnAt(b *ledger.Build) q.Quantity {
	return q.Max(b.Vehicle().TopSpeed, leastTop).As("road speed to turn at", "max(top speed, 85 mph)")
}

func shaftSpeedAt(b *ledger.Build, s *ledger.Shaft, road q.Quantity) q.Quantity {
	to := b.Part(s.To).Role
	pinion := func(a *ledger.Axle) q.Quantity {
		return Rotation(road, TireTurns(b, b.Tire(a.Tire)), a.FinalDrive)
	}
	ahead := q.Choose(to.Is("transfer-case"), HighRange(b), one)
	return q.Choose(to.Is("front-axle"), pinion(b.Front()), pinion(b.Rear()).Mul(ahead))
}

// StallTorque is what the transmission is driven with at most: an automatic's
// converter, at stall, multiplies the engine's greatest torque.
func StallTorque(b *ledger.Build) q.Quantity {
	stall := Through(b.Engine().PeakTorque, b.Transmission().StallRatio).As("torque out of the converter at stall", "T_e * stall ratio")
	return q.Choose(b.Transmission().Kind.Is("manual"), b.Engine().PeakTorque, stall)
}

// LowGearTorque is what leaves the transmission at most: StallTorque in low
// gear.
func LowGearTorque(b *ledger.Build) q.Quantity {
	return Through(StallTorque(b), LowGear(b)).As("torque out of the transmission in low gear", "T * low gear")
}

// GearedTorque is what the gears can put to an axle at most, were the tires to
// hold: all of it, for a locked transfer case lets one axle take it all.
func GearedTorque(b *ledger.Build, a *ledger.Axle) q.Quantity {
	return Through(Through(LowGearTorque(b), LowRange(b)), a.FinalDrive).As("axle torque by the gears", "torque in low gear * low range * final drive")
}

// AxleSlipTorque is the torque at which an axle's tires spin on a dry road,
// loaded, with the load that pulling alone shifts to the rear where the height of
// the center of gravity is known.
func AxleSlipTorque(b *ledger.Build, a *ledger.Axle) q.Quantity {
	still, diameter := WeightsOf(b).Of(a).Loaded, Diameter(b, b.Tire(a.Tire))
	h, l := HeightsOf(b).Now, b.Vehicle().Wheelbase
	text := "W / (1 - mu h/L)"
	if a.Path() == b.Front().Path() {
		h, text = h.Neg(), "W / (1 + mu h/L)"
	}
	pulling := PullingLoad(still, friction, h, l).As("load on "+a.Path()+" while it pulls", text)
	return SlipTorque(friction, q.FirstOf(pulling, still), gravity, diameter).As("axle torque at which the tires spin", "mu W g D/2")
}

// Traction is what the driven tires can pull with on a dry road, loaded.
func Traction(b *ledger.Build) q.Quantity {
	var on []q.Quantity
	for _, a := range b.Axles() {
		on = append(on, q.Choose(Driven(b, a), WeightsOf(b).Of(a).Loaded, q.SI(0, q.Mass)))
	}
	return friction.Mul(Weight(q.Sum(q.Mass, on...))).As("pull at which the driven tires spin", "mu W g")
}

// Weight is the force that gravity puts on a mass:
//
//	G = m g
func Weight(mass q.Quantity) q.Quantity { return mass.Mul(gravity) }
