package driveline

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/rules/vehicle"
)

// shaft is a [shaft.x] as it lies now: its readings carried over by what its
// ends moved since they were taken.
type shaft struct {
	*ledger.Shaft
	length, slope, plan q.Quantity
	grown               q.Quantity // since the readings
	speed               q.Quantity // at the vehicle's top speed
	fastest             q.Quantity // at what the vehicle comes to by itself
	faster              q.Truth    // that is more than it is judged at
	carried             q.Truth    // the readings are from before a move
	three, cv           q.Truth    // three joints; constant velocity at both ends
	joints              []joint
}

// joint is one joint of a shaft.
type joint struct {
	name string
	here q.Truth // the shaft has it
	cv   q.Truth
	bend Bend
}

type shaftsKey struct{}

// shafts are a build's shafts as they lie now, reckoned once.
func shafts(b *ledger.Build) []shaft {
	return ledger.Memo(b, shaftsKey{}, func() []shaft {
		out := make([]shaft, len(b.Shafts()))
		for i, s := range b.Shafts() {
			out[i] = now(b, s)
		}
		return out
	})
}

// smooth holds where a document proves that a shaft has constant-velocity
// joints at both ends: the word alone would switch off what shakes it.
func (l shaft) smooth(b *ledger.Build) q.Truth {
	return vehicle.Documented(b, false, l.Path()+".joints", "constant velocity at both ends is rare under a truck, and a photo of both joints shows it", l.Place())
}

func now(b *ledger.Build, s *ledger.Shaft) shaft {
	out := shaft{Shaft: s, length: s.Length, slope: s.Slopes.Shaft, plan: s.Plan.Shaft, grown: noLength,
		speed: vehicle.ShaftTopSpeed(b, s), three: s.Joints.Is("3"), cv: s.Joints.Is("cv")}
	out.fastest, out.faster = vehicle.ShaftFastest(b, s)
	from, to := b.Part(s.From), b.Part(s.To)
	moved := b.MovedSinceRead(s.Reading(), from).Some.Or(b.MovedSinceRead(s.Reading(), to).Some)
	out.carried = s.BeforeMove.Or(moved)
	if !out.carried.Fails() {
		l := lineOf(b, s).Moved(moveOf(b, s, from), moveOf(b, s, to))
		const carried = "as read + move of its end - move of its start"
		out.carry(moved, l.named("shaft now", carried, carried, carried))
	}
	out.joints = out.lay()
	return out
}

// lineOf is a shaft as it was read.
func lineOf(b *ledger.Build, s *ledger.Shaft) Line {
	const root = " / sqrt(1 + tan^2 t + tan^2 p)"
	ahead := b.Part(s.To).Role.Is("front-axle")
	as, up := "L", "-L"
	if ahead.Holds() {
		as, up = up, as
	}
	way := q.Choose(ahead, minus, one)
	return LineOf(s.Length, s.Slopes.Shaft, s.Plan.Shaft, way).named("shaft as read", as+root, as+" tan p"+root, up+" tan t"+root)
}

// named names the three measures of a line for the worked solution.
func (l Line) named(name, back, right, up string) Line {
	return Line{l.Back.As(name+", x back", back), l.Right.As(name+", y right", right), l.Up.As(name+", z up", up)}
}

// moveOf is how far an end has come since the readings.
func moveOf(b *ledger.Build, s *ledger.Shaft, p *ledger.Part) Line {
	way := func(along string) q.Quantity {
		return b.MovedSinceRead(s.Reading(), p).Along(q.Written(along, nil)).
			As("move of "+p.Path()+" "+along, "its place now - its place when read")
	}
	return Line{way("back"), way("right"), way("up")}
}

// carry puts the line as it is now in place of the readings. Readings from
// before a move are worth something only where the ledger knows the move, and
// on a shaft whose middle stands still it does not say enough.
func (s *shaft) carry(moved q.Truth, l Line) {
	lost := func(as q.Quantity) q.Quantity {
		return q.Choose(s.three, q.Waits(as.Dim(), s.Path()+" read again after the move", s.Place()), as)
	}
	over := func(read, as q.Quantity, name, formula string) q.Quantity {
		unknown := q.Waits(as.Dim(), "where what moved stood before (was-at)", s.Place())
		still := q.Choose(s.BeforeMove, unknown, read)
		return q.Choose(moved, lost(as).As(name, formula), still)
	}
	length := l.Length().As("length now", "sqrt(x^2 + y^2 + z^2)")
	s.length = over(s.Length, length, "length now", "sqrt(x^2 + y^2 + z^2)")
	s.slope = over(s.Slopes.Shaft, l.Slope(), "slope now", "atan(-z/x)")
	s.plan = over(s.Plan.Shaft, l.Plan(), "slope in plan now", "atan(y/x)")
	s.grown = over(noLength, length.Sub(s.Length), "growth since the readings", "length now - length as read")
}

// lay lists the joints. A plain joint's driving yoke stands across the one
// before it where the yokes of the tube between them are in line, so signs
// take turns; where they are not all have the same, which is the worst.
func (s *shaft) lay() []joint {
	turns := q.Choose(s.Phased, minus, one)
	last := q.Choose(s.Joints.Is("2"), turns, one)
	behind := q.Choose(s.three, s.Slopes.Second, s.slope)
	behindPlan := q.Choose(s.three, s.Plan.Second, s.plan)
	at := func(name string, here, cv q.Truth, sign q.Quantity, before, after, beforePlan, afterPlan q.Quantity) joint {
		return joint{name, here, cv, Bend{sign,
			after.Sub(before).As("bend at the "+name+" in side view", "slope after - slope before"),
			afterPlan.Sub(beforePlan).As("bend at the "+name+" in plan", "slope after - slope before")}}
	}
	return []joint{
		at("driving end", q.Is(true), s.Joints.Is("cv", "cv-plain"), one, s.Slopes.From, s.slope, s.Plan.From, s.plan),
		at("middle", s.three, q.Is(false), turns, s.slope, s.Slopes.Second, s.plan, s.Plan.Second),
		at("driven end", q.Is(true), s.cv, last, behind, s.Slopes.To, behindPlan, s.Plan.To),
	}
}

// angle is how far a joint is bent.
func (j joint) angle() q.Quantity {
	return TrueAngle(j.bend.Side, j.bend.Plan).As("angle of the joint at the "+j.name, "tan^2 b = tan^2 side + tan^2 plan")
}

// resultant is that of the plain joints: another does nothing.
func (s *shaft) resultant() q.Quantity {
	var bends []Bend
	for _, j := range s.joints {
		if plain := j.here.And(j.cv.Not()); !plain.Fails() {
			bends = append(bends, Bend{j.bend.Sign, q.Choose(plain, j.bend.Side, noAngle), q.Choose(plain, j.bend.Plan, noAngle)})
		}
	}
	return Resultant(bends...).As("resultant angle", "sqrt|sum of s (side + i plan)^2|")
}

// critical is the first critical speed of a tube of that length.
func (s *shaft) critical(length q.Quantity) q.Quantity {
	metal := func(column string, dim q.Dim) q.Quantity {
		return tubes.Look(s.Material, column, dim, "a "+column+" of the tube")
	}
	inside := s.Tube.Sub(s.Wall.Times(2)).As("inside diameter", "D - 2 wall")
	return Whirling(metal("modulus", q.Pressure), metal("density", q.Density), s.Tube, inside, length).
		As("first critical speed", "1 rev (pi / (8 L^2)) sqrt(E (D^2 + d^2) / rho)")
}

// stirred is what was done to either end after the readings.
func (s *shaft) stirred(b *ledger.Build) string {
	if from := vehicle.Stirred(b, b.Part(s.From), s.Read); from != "" {
		return from
	}
	return vehicle.Stirred(b, b.Part(s.To), s.Read)
}

// fitted: the finished vehicle carries what the shaft joins.
func (s *shaft) fitted(b *ledger.Build) q.Truth {
	return vehicle.Aboard(b.Part(s.From)).And(vehicle.Aboard(b.Part(s.To)))
}

// reworked tells that what the shaft joins moved, or went on in this work.
func (s *shaft) reworked(b *ledger.Build) bool {
	for _, r := range []ledger.Ref{s.From, s.To} {
		p := b.Part(r)
		if b.MovedSinceWork(p).Some.Holds() || vehicle.FromElsewhere(p).Holds() {
			return true
		}
	}
	return b.IsPhantom()
}

// readOn says when a shaft was read, as far as it says so itself.
func readOn(day ledger.Date) string {
	if day.Known() {
		return "read on " + day.String() + ", "
	}
	return "read, for all that is written, "
}
