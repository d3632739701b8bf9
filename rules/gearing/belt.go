package gearing

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
)

var beltSpeed = &lint.Rule{
	Name:    "gearing/belt-speed",
	Title:   "at governed speed the accessory belt runs no faster than 50 m/s",
	Should:  true,
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{data.Source("ribbed-belt")},
	Note:    "By the crankshaft pulley's pitch diameter, which is asked for where a pulley is another than the engine's own. The 50 m/s is of one small ribbed section and a benchmark for others: the belt's maker has the figure of yours.",
	Caution: "A belt that is thrown takes the charging, the water pump and the steering's assist with it. Keep hands and sleeves out while the engine turns.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		e, other := b.Engine(), q.Is(b.IsPhantom())
		for p := range b.Fitted() {
			other = other.Or(p.Role.Is("pulley").And(p.Origin.Is("made", "bought")).OrElse(false))
		}
		s.On(e, "").When(e.CrankPulley.Given().Or(other), "no pulley but the engine's own").
			AtMost(BeltSpeed(e.CrankPulley, e.Governed).As("belt speed at governed speed", "n d/2"), data.Value("belt-speed"))
	},
}

// BeltSpeed is how fast a belt runs over a pulley:
//
//	v = pi d n = d w / 2
//
// d pitch diameter, n revolutions a time, w the same as an angle a time. Left out:
// creep. PIX catalog of ribbed belts (RMA IP-26), as v = pi d n / 60000 in mm and
// rpm.
func BeltSpeed(diameter, speed q.Quantity) q.Quantity {
	return diameter.Mul(q.Radians(speed)).Times(0.5)
}
