package drawing

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

// axle is an axle with what is drawn of it, in m; what is not known is NaN, and
// no wheel is drawn that lacks its diameter.
type axle struct {
	*ledger.Axle
	x, diameter q.Quantity
	tire        *ledger.Tire
}

func (s *subject) axles() []axle {
	b := s.Build
	out := []axle{{Axle: b.Front(), x: q.SI(0, q.Length)}, {Axle: b.Rear(), x: b.Vehicle().Wheelbase}}
	for i := range out {
		out[i].tire = b.Tire(out[i].Tire)
		out[i].diameter = s.Diameter(out[i].tire)
	}
	return out
}

func (s *subject) wheelsBeside() []wheel {
	var out []wheel
	for _, a := range s.axles() {
		if known(a.x, a.diameter) {
			r := a.diameter.Value() / 2
			out = append(out, wheel{x: a.x.Value(), y: r, r: r})
		}
	}
	return out
}

func (s *subject) wheelsBelow() []wheel {
	var out []wheel
	for _, a := range s.axles() {
		if !known(a.x, a.diameter, a.Track) {
			continue
		}
		for _, side := range []float64{-0.5, 0.5} {
			out = append(out, wheel{x: a.x.Value(), y: side * a.Track.Value(), w: a.diameter.Value(), h: section(a.tire)})
		}
	}
	return out
}

func (s *subject) wheelsAhead() []wheel {
	a := s.axles()[0]
	if !known(a.diameter, a.Track) {
		return nil
	}
	var out []wheel
	for _, side := range []float64{-0.5, 0.5} {
		out = append(out, wheel{x: side * a.Track.Value(), y: a.diameter.Value() / 2, w: section(a.tire), h: a.diameter.Value()})
	}
	return out
}

// section is how wide a tire is; none where that is not known, and the wheel is
// then drawn as the line in its middle.
func section(t *ledger.Tire) float64 {
	if known(t.SectionWidth) {
		return t.SectionWidth.Value()
	}
	return 0
}
