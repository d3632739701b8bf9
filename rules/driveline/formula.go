package driveline

import (
	"math"

	q "fishplate/ledger/quantity"
)

// TrueAngle is how far a joint is bent in space:
//
//	tan^2 b = tan^2 side + tan^2 plan
//
// side, plan differences of slope at the joint in side view and seen from
// above, each with its sign: a shaft at 5 deg behind a transmission at 3 deg
// bends by 2, ahead of a pinion at -3 by 8. Adding the two views is wrong by up
// to 41 %. Exact where nothing slants in plan or one of the two runs along the
// vehicle; within 0.1 deg where no slope is more than 4 deg. Solid geometry.
func TrueAngle(side, plan q.Quantity) q.Quantity {
	return q.Atan(q.Hypot(q.Tan(side), q.Tan(plan)))
}

// Bend is a plain joint of a shaft: its differences of slope in the two views,
// and the sign that the position of its driving yoke gives it, 1 or -1.
type Bend struct{ Sign, Side, Plan q.Quantity }

// along and across are the bend's part in the resultant's square, by twice the
// angle of the joint's plane.
func (b Bend) along() q.Quantity {
	return b.Sign.Mul(b.Side.Mul(b.Side).Sub(b.Plan.Mul(b.Plan)))
}

func (b Bend) across() q.Quantity { return b.Sign.Mul(b.Side.Mul(b.Plan).Times(2)) }

// Resultant is the one joint angle that would make the axle turn as unevenly as
// all plain joints of a shaft together:
//
//	b_res^2 = |sum of s (side + i plan)^2|
//
// s 1 or -1 by the position of each driving yoke. In one plane this is the
// makers' sqrt(|sum of s b^2|): two equal angles cancel where the tube's yokes
// are in line, and make 1.41 of one where they are not. Joints in different
// planes cancel in part only: the unevenness comes twice a turn, so that a
// plane turned by 90 deg has the opposite effect. Left out: angles so large
// that b and sin b differ (2 % at 20 deg), and the twist of the tube.
// Joint-shaft maker's technical section; the planes by geometry.
//
// Of two joints the sum is a product of two, and the angle their geometric mean:
//
//	b1^2 - b2^2 = (b1 - b2) (b1 + b2),  b1^2 + b2^2 = (b1 - i b2) (b1 + i b2)
func Resultant(bends ...Bend) q.Quantity {
	if len(bends) == 2 && bends[0].Sign.Known() && bends[1].Sign.Known() {
		one, other := bends[0], bends[1]
		if one.Sign.Mul(other.Sign).Value() > 0 { // turned by i
			other.Side, other.Plan = other.Plan.Neg(), other.Side
		}
		apart := q.Hypot(one.Side.Sub(other.Side), one.Plan.Sub(other.Plan))
		together := q.Hypot(one.Side.Add(other.Side), one.Plan.Add(other.Plan))
		return q.Sqrt(apart.Mul(together))
	}
	var along, across []q.Quantity
	for _, b := range bends {
		along, across = append(along, b.along()), append(across, b.across())
	}
	return q.Sqrt(q.Hypot(q.Sum(squared, along...), q.Sum(squared, across...)))
}

var squared = q.Dim{Angle: 2}

// AngleAt is the joint angle at which what one joint drives is accelerated so
// much, twice a turn, at a speed:
//
//	U = a / w^2,  U = 1/cos b - cos b = sin b tan b
//
// a greatest angular acceleration, w speed, U the share of the speed by which
// the driven side swings. For small angles a = (w b)^2: twice the speed allows
// half the angle. Solved for b: sin^2 b = U cos b. Left out: that the greatest
// acceleration is w^2 U only to first order. Khurmi and Gupta, ch. 9.
func AngleAt(acceleration, speed q.Quantity) q.Quantity {
	w := q.Radians(speed)
	return AngleOfSwing(q.Radians(acceleration).Div(w.Mul(w)))
}

// AngleOfSwing is the joint angle that makes the driven side swing by a share U
// of its speed, from least to greatest:
//
//	cos b = (sqrt(U^2 + 4) - U) / 2,  sin^2 b = U cos b
//
// Khurmi and Gupta, ch. 9, Examples 9.4 and 9.5.
func AngleOfSwing(u q.Quantity) q.Quantity {
	cos := q.Sqrt(u.Mul(u).Add(q.Number(4))).Sub(u).Div(q.Number(2))
	return q.Asin(q.Sqrt(u.Mul(cos)))
}

// Whirling is the speed at which a uniform tube on two joints bows out and whips,
// its first bending critical speed:
//
//	n_c = (pi / (2 L^2)) sqrt(E I / m') = (pi / (8 L^2)) sqrt(E (D^2 + d^2) / rho) rev/s
//
// E elastic modulus, rho density, D and d outside and inside diameter, L joint
// center to joint center; I = pi (D^4 - d^4) / 64 is the section's second moment
// and m' = rho pi (D^2 - d^2) / 4 the mass a length, of which D^2 - d^2 cancels:
// so a thicker wall hardly helps. Twice the length has a quarter of it. Left
// out: the yokes' and the slip's mass, and give of what holds the joints, all of
// which lower it: so only a share of it may be used. Beam theory; B. K. Sarkar,
// ch. 11.
func Whirling(modulus, density, outside, inside, length q.Quantity) q.Quantity {
	squares := q.Pow(outside, 2).Add(q.Pow(inside, 2))
	perSecond := q.Sqrt(modulus.Mul(squares).Div(density)).Div(q.Pow(length, 2))
	return q.InRadians(perSecond.Times(math.Pi * math.Pi / 4))
}

// TorqueAt is the torque that makes a power at a speed:
//
//	T = P / w
//
// In shop units lb-ft = 5252 hp / rpm. By definition.
func TorqueAt(power, speed q.Quantity) q.Quantity {
	return q.PerRadian(power.Div(speed))
}

// Line is a shaft in space, from where it is driven to what it drives: back,
// right and up.
type Line struct{ Back, Right, Up q.Quantity }

// LineOf is the line of a shaft from its readings:
//
//	k = way L / sqrt(1 + tan^2 t + tan^2 p),  (k, k tan p, -k tan t)
//
// L joint center to joint center, t slope in side view (down to the rear
// positive), p slope in plan (to the right, rearward, positive), way 1 for a
// shaft that runs back and -1 for one that runs ahead. Geometry.
func LineOf(length, slope, plan, way q.Quantity) Line {
	t, p := q.Tan(slope), q.Tan(plan)
	back := way.Mul(length).Div(q.Sqrt(q.Number(1).Add(t.Mul(t)).Add(p.Mul(p))))
	return Line{back, back.Mul(p), back.Mul(t).Neg()}
}

// Moved is the line after its two ends moved.
func (l Line) Moved(from, to Line) Line {
	return Line{l.Back.Add(to.Back).Sub(from.Back), l.Right.Add(to.Right).Sub(from.Right), l.Up.Add(to.Up).Sub(from.Up)}
}

// Length is the line's, sqrt(x^2 + y^2 + z^2).
func (l Line) Length() q.Quantity { return q.Hypot(q.Hypot(l.Back, l.Right), l.Up) }

// Slope is the line's in side view, down to the rear positive: atan(-z/x).
func (l Line) Slope() q.Quantity { return q.Atan(l.Up.Neg().Div(l.Back)) }

// Plan is the line's seen from above, to the right positive: atan(y/x).
func (l Line) Plan() q.Quantity { return q.Atan(l.Right.Div(l.Back)) }

// Overhang is what lies between the middles of the two things that a shaft joins and
// its joints, along the vehicle:
//
//	o = |x_b - x_a| - L
//
// x how far behind the front axle line each middle is, L joint center to joint center.
// Left out: slopes, which make the shaft's run along the vehicle shorter than L, by 1.5 %
// at 10 deg. Geometry.
func Overhang(from, to, length q.Quantity) q.Quantity { return q.Abs(to.Sub(from)).Sub(length) }

// SlipLeft is the spline that stays engaged, or the travel that is left, when
// the suspension has taken its share:
//
//	s = s_0 - dL - u
//
// s_0 as read at ride height, dL what the shaft has grown since (shrunk, for
// travel left before it bottoms), u what the suspension takes, each way.
func SlipLeft(read, grown, used q.Quantity) q.Quantity { return read.Sub(grown).Sub(used) }
