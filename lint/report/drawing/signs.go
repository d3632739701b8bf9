package drawing

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"fishplate/lint/report/drawing/layout"
)

// drawHeight draws the vehicle's height above the ground.
func (c *scene) drawHeight(s *Sheet, z scale, width float64) []layout.Box {
	h := c.Build.Vehicle().Height
	if !c.ground || !known(h) {
		return nil
	}
	y := z.at(0, h.Value()).Y
	s.line("d-center", at(6, y), at(width-6, y))
	return []layout.Box{s.words("d-gray", small, End, width-6, y-4, c.style.Plain(h)+" high")}
}

func (c *scene) drawWheels(s *Sheet, z scale) {
	for _, w := range c.wheels {
		at := z.at(w.x, w.y)
		if w.r > 0 {
			s.disc("d-heavy", at, w.r*z.k, "")
			s.line("d-thin", layout.Point{X: at.X - 6, Y: at.Y}, layout.Point{X: at.X + 6, Y: at.Y})
			s.line("d-thin", layout.Point{X: at.X, Y: at.Y - 6}, layout.Point{X: at.X, Y: at.Y + 6})
		} else {
			s.rect("d-heavy", layout.Box{X: at.X - w.w*z.k/2, Y: at.Y - w.h*z.k/2, W: w.w * z.k, H: w.h * z.k}, "")
		}
	}
}

// largest is the radius of the heaviest thing's disc.
func largest(width float64) float64 {
	if width < wide {
		return 22
	}
	return 27
}

// perRoot is how a disc's radius goes with the square root of its mass, so that
// its area goes with the mass.
func (c *scene) perRoot(width float64) float64 {
	if c.most <= 0 {
		return 0
	}
	return largest(width) / math.Sqrt(c.most)
}

// drawItems draws the things, the heaviest first so that no small one is hidden,
// and gives the labels that they want in their own order.
func (c *scene) drawItems(s *Sheet, z scale, width float64) []layout.Label {
	labels := make([]layout.Label, len(c.items))
	c.labels = make([]string, len(c.items))
	names := named(width)
	for _, i := range c.heaviestFirst() {
		it := c.items[i]
		c.labels[i] = it.number
		at := z.at(c.across(it.at), c.up(it.at))
		r := 0.0
		if known(it.mass) {
			r = c.perRoot(width) * math.Sqrt(max(it.mass.Value(), 0))
		}
		told := strings.TrimSpace(it.number + " " + it.name)
		if it.mass.Known() {
			told += ", " + c.style.Format(it.mass)
		}
		if it.was != nil {
			old := r
			if known(it.massWas) {
				old = c.perRoot(width) * math.Sqrt(max(it.massWas.Value(), 0))
			}
			shape(s, it.sort, "d-ghost", z.at(c.across(*it.was), c.up(*it.was)), old, "")
		}
		shape(s, it.sort, it.look(), at, r, told)
		labels[i] = labelOf(at, max(r, 1), small, it.number)
		labels[i].In, labels[i].Mute = true, it.number == ""
		if names > 0 && it.number != "" && known(it.mass) {
			names--
			it.number += " " + brief(it.name)
			c.labels[i] = it.number
			labels[i].W = layout.Width(it.number, small)
		}
	}
	for _, it := range c.items {
		if it.was != nil {
			s.arrow("d-now", "d-nowfill", z.at(c.across(*it.was), c.up(*it.was)), z.at(c.across(it.at), c.up(it.at)))
		}
	}
	return labels
}

// named is how many of the heaviest things carry their names on a sheet.
func named(width float64) int {
	if width < wide {
		return 3
	}
	return 9
}

// brief is a name up to its first comma, and no longer than a label may be.
func brief(name string) string {
	name, _, _ = strings.Cut(name, ",")
	return layout.Cut(name, small, 130)
}

// shape is a disc; of a tank, a square of the same area.
func shape(s *Sheet, of sort, look Look, at layout.Point, r float64, told string) {
	switch {
	case r <= 0:
		s.line(look, layout.Point{X: at.X - 3, Y: at.Y - 3}, layout.Point{X: at.X + 3, Y: at.Y + 3})
		s.line(look, layout.Point{X: at.X - 3, Y: at.Y + 3}, layout.Point{X: at.X + 3, Y: at.Y - 3})
	case of == tank:
		h := r * math.Sqrt(math.Pi) / 2
		s.rect(look, layout.Box{X: at.X - h, Y: at.Y - h, W: 2 * h, H: 2 * h}, told)
	default:
		s.disc(look, at, r, told)
	}
}

// label puts every number where it has room, and tells how far down they go.
func (c *scene) label(s *Sheet, z scale, labels []layout.Label, area layout.Box, taken []layout.Box) float64 {
	order := c.heaviestFirst()
	sorted := make([]layout.Label, len(order))
	for i, j := range order {
		sorted[i] = labels[j]
	}
	placed, area := layout.Place(sorted, area, c.avoid(z, taken))
	for _, p := range placed {
		if p.Led() {
			s.line("d-thin", p.From, p.To)
		}
	}
	for i, p := range placed {
		if sorted[i].Mute {
			continue
		}
		s.inBox("d-halo", small, p.Box, c.labels[order[i]])
	}
	return area.Y + area.H
}

// avoid is what labels keep off: what is taken, and the outlines of wheels and
// the ways that things moved.
func (c *scene) avoid(z scale, taken []layout.Box) layout.Avoid {
	a := layout.Avoid{Taken: taken}
	for _, w := range c.wheels {
		if w.r > 0 {
			a.Rings = append(a.Rings, layout.Ring{At: z.at(w.x, w.y), R: w.r * z.k})
			continue
		}
		p, o := z.at(w.x-w.w/2, w.y+w.h/2), z.at(w.x+w.w/2, w.y-w.h/2)
		a.Lines = append(a.Lines, [2]layout.Point{p, {X: o.X, Y: p.Y}}, [2]layout.Point{{X: p.X, Y: o.Y}, o}, [2]layout.Point{p, {X: p.X, Y: o.Y}}, [2]layout.Point{{X: o.X, Y: p.Y}, o})
	}
	for _, i := range c.items {
		if i.was != nil {
			a.Lines = append(a.Lines, [2]layout.Point{z.at(c.across(*i.was), c.up(*i.was)), z.at(c.across(i.at), c.up(i.at))})
		}
	}
	return a
}

func (c *scene) heaviestFirst() []int {
	order := make([]int, len(c.items))
	for i := range order {
		order[i] = i
	}
	mass := func(i int) float64 {
		if m := c.items[i].mass; known(m) {
			return m.Value()
		}
		return 0
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(mass(b), mass(a)) })
	return order
}
