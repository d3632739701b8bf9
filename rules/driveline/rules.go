package driveline

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

// Pack is the pack driveline.
var Pack = &lint.Pack{
	Name:  "driveline",
	Title: "Driveline: joint angles, what whips and shakes, slip, and the torque that gears and axles bear",
	Rules: []*lint.Rule{inLedger, remeasured, jointAngle, jointsCancel, torsional, criticalSpeed, slip, torque, shaftTorque, axlesMatch, alignment, mounts},
}

const (
	off    = "what it joins came off"
	thrown = "A shaft that comes apart at speed goes through floors, tanks and brake lines, or digs in. " +
		"Read it with the wheels chocked, in neutral, key out, and the vehicle on rated stands under the axles at ride height; let a driveline shop balance it."
)

var inLedger = &lint.Rule{
	Name:    "driveline/in-ledger",
	Title:   "the shaft of every driven axle is in the ledger, and a transfer case with its ratios",
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{data.Source("practice")},
	Note:    "A shaft that is not written down cannot be found too short, too steep or too fast, and low range that is not written down multiplies no torque. A vehicle with only its front wheels driven has none of this kind.",
	Caution: thrown,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		frontOnly := vehicle.Driven(b, b.Rear()).Not()
		for _, a := range b.Axles() {
			s.On(a, "").When(vehicle.Driven(b, a), "the axle is not driven").When(frontOnly.Not(), "front wheels driven by half shafts").
				Holds(shaftTo(b, a), "")
		}
		cased, ratios := q.Is(false), b.Transfer().Given().Or(q.Unknown([]q.Need{{Key: "transfer.high, low and torque-rating, as there is a part with the role transfer-case", Place: b.Main()}}))
		for p := range b.Fitted() {
			cased = cased.Or(p.Role.Is("transfer-case").OrElse(b.IsPhantom()))
		}
		s.On(b.Transfer(), "").When(cased, "no transfer case is fitted").Holds(ratios, "")
	},
}

// ownAxle tells that the vehicle's own axle is there still, at its own ratio.
func ownAxle(b *ledger.Build, a *ledger.Axle) q.Truth {
	own := a.FinalDriveWas.Given().Not()
	found := q.Is(false)
	for p := range b.Fitted() {
		found = found.Or(p.Role.Is(axleRoles[a.Path()]).And(p.Origin.Is("original")).OrElse(false))
	}
	return own.And(found)
}

// axleRoles are the roles of the parts that are the axles.
var axleRoles = map[string]string{"vehicle.front": "front-axle", "vehicle.rear": "rear-axle"}

// shaftTo holds where a shaft goes to an axle, and is missing until one does.
func shaftTo(b *ledger.Build, a *ledger.Axle) q.Truth {
	role := axleRoles[a.Path()]
	has := q.Unknown([]q.Need{{Key: "a shaft to a part with the role " + role, Place: b.Main()}})
	for _, s := range b.Shafts() {
		has = has.Or(b.Part(s.To).Role.Is(role).OrElse(false))
	}
	return has
}

var remeasured = &lint.Rule{
	Name:    "driveline/remeasured",
	Was:     "driveline/reread",
	Title:   "no shaft still rests on readings from before the move",
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{data.Source("practice")},
	Note:    "Carrying length, angles and slip over by the move is for planning: it takes it that what moved did not tip, and only an angle finder tells. Readings whose date is before a part at either end moved, went on, came off or was worked on count as from before it; the same day counts as after, and no date at all as before a move that has one. They are carried over from was-at, or from measured-at. At delivery the readings of a shaft whose ends moved or went on have their date.",
	Caution: thrown,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, l := range shafts(b) {
			s.On(l, "dated").When(l.fitted(b), off).When(q.Is(l.reworked(b)), "neither end moved, nor went on in this work").Due(ledger.AtDelivery).Reading().
				Holds(l.Read.Required(), "")
			check := s.On(l, "").When(l.fitted(b), off).Reading()
			if stirred := l.stirred(b); stirred != "" && !l.BeforeMove.Holds() {
				check.Holds(q.Is(false), "%sbefore %s: take length, angles and slip again", readOn(l.Read), stirred)
				continue
			}
			check.Holds(l.carried.Not(), "its readings are from before the move: take length, angles and slip again")
		}
	},
}

var jointAngle = &lint.Rule{
	Name:    "driveline/joint-angle",
	Title:   "each joint bends enough to turn its needles, and no more than the shaft's top speed allows",
	Should:  true,
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{angleCite, data.Source("joint-maker"), data.Source("service-manuals"), data.Source("solid-geometry"), vehicle.RollingSource},
	Backs:   []string{"angle-by-speed", "joint-maker", "service-manuals"},
	Note: "Side and plan combine as tan^2 b = tan^2 side + tan^2 plan, from differences of slope with their signs: 3 deg one way and 4 the other make 5, not 7. " +
		"The table is (speed * angle)^2 of about 1000 rad/s2, what shakes the shaft itself; slower than 1500 rpm its first row is kept. " +
		"A constant-velocity joint needs no least angle and is held to 10 deg. The forward tube of a shaft of three joints needs 1 to 1.5 deg where it is driven, and 3 at most. At ride height: full droop is for the shaft's maker to judge.",
	Caution: thrown,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, l := range shafts(b) {
			for _, j := range l.joints {
				most := q.Choose(j.cv, cvAngle, angleLimit(l.speed).As("angle allowed at the shaft's top speed", "by the table"))
				s.On(l, j.name).When(l.fitted(b), off).When(j.here, "not a shaft of three joints").
					Between(j.angle(), q.Choose(j.cv, noAngle, leastAngle), most)
			}
			s.On(l, "forward tube").When(l.fitted(b), off).When(l.three, "not a shaft of three joints").
				AtMost(l.joints[0].angle(), data.Value("forward-shaft-most"))
		}
	},
}

var jointsCancel = &lint.Rule{
	Name:    "driveline/joints-cancel",
	Title:   "the two joints of a shaft are bent alike, so that one undoes what the other does",
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{data.Source("joint-maker"), data.Source("joint-maker-table"), data.Source("khurmi")},
	Backs:   []string{"joint-maker", "joint-maker-table"},
	Note: "A single bent joint drives its far side fast and slow twice a turn, between cos b and 1/cos b of its speed; a second one, bent as far and in line, evens it out. " +
		"Sources allow from 1 to 3 deg of difference; this takes the joint maker's 1. What is left of the two is driveline/torsional's.",
	Caution: thrown,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, l := range shafts(b) {
			first, last := l.joints[0], l.joints[len(l.joints)-1]
			apart := q.Abs(first.angle().Sub(last.angle())).As("difference of the two angles", "|b1 - b2|")
			s.On(l, "").When(l.fitted(b), off).When(l.Joints.Is("2"), "not a shaft of two plain joints").
				When(l.Phased, "its yokes are out of line: the joints add up").AtMost(apart, difference)
			s.On(l, "ahead of a transfer case").Recommended().When(l.fitted(b), off).When(l.Joints.Is("2"), "not a shaft of two plain joints").
				When(b.Part(l.To).Role.Is("transfer-case").OrElse(false), "it does not go to a transfer case").AtMost(apart, data.Value("difference-ahead-of-transfer"))
		}
	},
}

var torsional = &lint.Rule{
	Name:    "driveline/torsional",
	Title:   "the unevenness that all joints of a shaft leave together stays below 3 deg of one joint, and below 400 rad/s2",
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{data.Source("resultant"), data.Source("inertial"), data.Source("khurmi"), data.Source("solid-geometry"), vehicle.RollingSource, vehicle.DragSource},
	Note: "The 3 deg rule knows no speed. What shakes is (speed * angle)^2: 3 deg is 271 rad/s2 at 3000 rpm and 401 at 3650. " +
		"Above about 3650 rpm the 400 rad/s2 is the tighter of the two, below it the 3 deg is, so both are asked (second-hand, and a must all the same, for people die of a shaft that shakes itself loose): the second as the angle that makes 400 rad/s2 at the shaft's top speed; 300 rad/s2, from memory, is a should. " +
		"Joints bent in different planes cancel only in part, and angles alike in side view with plan angles unlike do not cancel at all. A shaft that is said to have constant-velocity joints at both ends is not judged here, and waits for a document that proves it: a photo of both does (common practice).",
	Caution: thrown,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, l := range shafts(b) {
			const smooth = "constant-velocity joints at both ends"
			s.On(l, "its joints").When(l.fitted(b), off).When(l.cv, "it has plain joints").Work().Holds(l.smooth(b), "")
			at := AngleAt(acceleration, l.speed).As("angle that makes 400 rad/s2 at top speed", "sin b tan b = a / w^2")
			left := l.resultant()
			s.On(l, "at any speed").When(l.fitted(b), off).When(l.cv.Not(), smooth).AtMost(left, resultant)
			s.On(l, "at top speed").When(l.fitted(b), off).When(l.cv.Not(), smooth).AtMost(left, at)
			byItself := AngleAt(acceleration, l.fastest).As("angle that makes 400 rad/s2 at the fastest by itself", "sin b tan b = a / w^2")
			s.On(l, "at the fastest by itself").Recommended().When(l.fitted(b), off).When(l.cv.Not(), smooth).When(l.faster, noFaster).AtMost(left, byItself)
			wished := AngleAt(data.Value("torsional-acceleration-wished"), l.speed).As("angle that makes 300 rad/s2 at top speed", "sin b tan b = a / w^2")
			s.On(l, "at top speed, 300 rad/s2").Recommended().When(l.fitted(b), off).When(l.cv.Not(), smooth).AtMost(left, wished)
		}
	},
}

var criticalSpeed = &lint.Rule{
	Name:    "driveline/critical-speed",
	Title:   "a shaft's top speed is no more than 75 % of that at which it whips",
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{data.Source("practice"), data.Source("beam-theory"), data.Source("handbook-metals"), vehicle.RollingSource, vehicle.DragSource},
	Note: "A tube on two joints, joint center to joint center and not the tube alone; yokes, slip and soft mounts take the rest of the way down, which the quarter is for. The 75 % stands in no standard that was read, and is a must all the same, for people die of a shaft that comes through the floor. " +
		"Twice the length whips at a quarter of the speed; a wider tube helps, a thicker wall hardly. At the vehicle's top speed as stated, 85 mph at the least (common practice), a must; where gearing and power let it go faster, at the lesser of the governed speed in top gear and what drag allows, a should. Half the critical speed, where the joints' two beats a turn meet it, is a place not to cruise at.",
	Caution: "A shaft that reaches its critical speed bows out and breaks within seconds. " + thrown,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, l := range shafts(b) {
			for _, tube := range []struct {
				aspect string
				here   q.Truth
				length q.Quantity
			}{{"", q.Is(true), l.length}, {"second tube", l.three, l.LengthSecond}} {
				limit := usable.Mul(l.critical(tube.length)).As("speed it may be turned at", "0.75 n_c")
				s.On(l, tube.aspect).When(l.fitted(b), off).When(tube.here, "not a shaft of three joints").AtMost(l.speed, limit)
				s.On(l, byItself[tube.aspect]).Recommended().When(l.fitted(b), off).When(tube.here, "not a shaft of three joints").When(l.faster, noFaster).AtMost(l.fastest, limit)
			}
		}
	},
}

// byItself are the aspects at the speed that the vehicle comes to by itself.
var byItself = map[string]string{"": "at the fastest by itself", "second tube": "second tube, at the fastest by itself"}

const noFaster = "by itself the vehicle gets no faster than what it is judged at"

var slip = &lint.Rule{
	Name:    "driveline/slip",
	Title:   "the slip stays engaged at full droop and does not bottom at full bump",
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{data.Source("practice")},
	Note: "A drivetrain moved forward lengthens the rear shaft and shortens the front one by as much, and the other way round moved back: readings from before a move are carried over by it. " +
		"The least engagement is the ledger's; no source gives one, and the spline's own diameter is what people go by: less than 1 in waits for a document.",
	Caution: "A slip that pulls out drops the shaft on the road; one that bottoms breaks the transmission's case. " + thrown,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, l := range shafts(b) {
			engaged := SlipLeft(l.SlipEngaged, l.grown, l.SlipUsed).As("spline engaged at full droop", "as read - growth - what the suspension takes")
			left := SlipLeft(l.SlipLeft, l.grown.Neg(), l.SlipUsed).As("travel left at full bump", "as read + growth - what the suspension takes")
			s.On(l, "engaged").When(l.fitted(b), off).AtLeast(engaged, l.SlipEngagedLeast)
			s.On(l, "travel").When(l.fitted(b), off).AtLeast(left, noLength)
			s.On(l, "least engagement").When(l.fitted(b), off).When(l.SlipEngagedLeast.Given().Or(q.Is(b.IsPhantom())), "not in the ledger yet").Work().
				Holds(vehicle.PlausibleAtLeast(b, l.SlipEngagedLeast, data.Value("slip-engaged-least")), "")
		}
	},
}

var torque = &lint.Rule{
	Name:    "driveline/torque",
	Title:   "transmission, transfer case and axles are rated for the torque that reaches them",
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{data.Source("practice"), vehicle.TractionSource},
	Note: "The limits are the torque-rating of each in the ledger; the vehicle's own axle without one should get no more than it got from the old engine through the same gears. An automatic's converter multiplies the engine's torque at stall, a gear by its ratio; an axle gets that through low gear and low range, or what makes its tires spin on a dry road (0.8 to 1.0 of their load, assumed) where that is less. Losses are left out; the load that pulling shifts to the rear counts where cg-height is known. " +
		"Ask what a rating means: of engine torque, of what comes out of the converter, or of what the axle bears all day.",
	Caution: "A gear or axle that breaks on a grade leaves you without drive, and with a transmission brake without hold. The ratings are their makers'; a licensed driveline or transmission shop has the last word.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		t, c := b.Transmission(), b.Transfer()
		s.On(t, "").AtMost(vehicle.StallTorque(b), t.TorqueRating)
		phantom := q.Is(b.IsPhantom())
		s.On(t, "rating").When(t.TorqueRating.Given().Or(phantom), "not in the ledger yet").Work().
			Holds(vehicle.PlausibleAtMost(b, t.TorqueRating, data.Value("transmission-rating-most")), "")
		e := b.Engine()
		rated := TorqueAt(e.RatedPower, e.RatedPowerAt).As("torque at rated power", "P / w")
		told := e.PeakTorque.Given().And(rated.Given()).Or(phantom)
		s.On(e, "torque and power").When(told, "not all of the engine's figures are in the ledger").AtMost(rated, e.PeakTorque.Times(1).As("greatest torque", "as written"))
		s.On(e, "power and torque").When(told, "not all of the engine's figures are in the ledger").Work().
			Holds(enough(b, rated, e), "")
		s.On(c, "").When(c.Given(), "no [transfer] in the ledger").AtMost(vehicle.LowGearTorque(b), c.TorqueRating)
		for _, a := range b.Axles() {
			reaches := q.Min(vehicle.GearedTorque(b, a), vehicle.AxleSlipTorque(b, a)).As("torque that reaches the axle", "min(by the gears, by the tires)")
			driven := vehicle.Driven(b, a)
			if old := b.EngineWas().PeakTorque; !a.TorqueRating.Known() && old.Known() && ownAxle(b, a).Holds() {
				bore := vehicle.Through(vehicle.GearedTorque(b, a), old.Div(b.Engine().PeakTorque)).As("axle torque by the gears with the old engine", "T * old peak torque / peak torque")
				s.On(a, "as with the old engine").Recommended().When(driven, "the axle is not driven").
					AtMost(reaches, q.Min(bore, vehicle.AxleSlipTorque(b, a)).As("torque that reached it", "min(by the gears, by the tires)"))
				continue
			}
			s.On(a, "").When(driven, "the axle is not driven").AtMost(reaches, a.TorqueRating)
		}
	},
}

// enough holds where the torque at rated power is no less than is usual of the
// greatest, and waits for a document of the power where it is less.
func enough(b *ledger.Build, rated q.Quantity, e *ledger.Engine) q.Truth {
	share := rated.Div(e.PeakTorque)
	if !share.Known() {
		return q.Unknown(share.Needs())
	}
	if _, most := share.Bounds(); most >= data.Value("rated-torque-least").Value() || vehicle.Proved(b, e.Path()+".rated-power") {
		return q.Is(true)
	}
	return q.Unknown([]q.Need{{Key: "a document that proves " + e.Path() + ".rated-power: it is little for that torque", Place: e.RatedPower.Source().Place}})
}
