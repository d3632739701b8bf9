package drawing

import (
	"math"

	"fishplate/lint/report/drawing/layout"
)

// scale turns the vehicle's lengths into the sheet's.
type scale struct {
	k    float64 // units of the sheet a meter
	x, y float64 // of the vehicle's origin on the sheet
}

func (k scale) at(x, y float64) layout.Point { return layout.Point{X: k.x + x*k.k, Y: k.y - y*k.k} }

// tallest is how high a view, or a piece of one, is at most, in widths of the
// sheet; one from ahead may be higher where there is much to show.
func (c *scene) tallest(width float64) float64 {
	most := 0.62
	if width < wide {
		most = 1.25
	}
	if !c.long && c.numbered() > crowded {
		most *= 1.6
	}
	return most
}

// crowded is how many numbers a view has on a page before it is broken in two.
const crowded = 100

// numbered is how many things carry a number.
func (c *scene) numbered() int {
	n := 0
	for _, i := range c.items {
		if i.number != "" {
			n++
		}
	}
	return n
}

// pieces is in how many pieces a view along the vehicle is broken: on a page one,
// or two where there is much to show; on a phone two to four.
func (c *scene) pieces(width float64) int {
	n := c.numbered()
	switch {
	case !c.long:
		return 1
	case width >= wide:
		return min(1+n/(crowded+1), 2)
	}
	return min(2+n/(crowded*3/4), 4)
}

// edge is what is left free on either side of a view, for labels.
const edge = 26.0

// lay lays a view out, in as many pieces as it takes, the front one on top.
func (c *scene) lay(width float64) Sheet {
	if n := c.pieces(width); n > 1 {
		return c.broken(n, width)
	}
	s := Sheet{Width: width}
	z, y := c.layPart(&s, c.scaleFor(width), 0, width)
	c.drawFoot(&s, z, y, width)
	return s
}

// scaleFor is the scale at which a view fills the width and is not too high.
func (c *scene) scaleFor(width float64) float64 {
	across, up := c.area.right-c.area.left, c.area.high-c.area.low
	return min((width-2*edge)/max(across, 0.1), width*c.tallest(width)/max(up, 0.1))
}

// broken lays a view out in pieces of one scale and one length.
func (c *scene) broken(n int, width float64) Sheet {
	s := Sheet{Width: width}
	var parts []*scene
	k, each := math.Inf(1), (c.area.right-c.area.left)/float64(n)
	for i := range n {
		from, to := c.area.left+each*float64(i), c.area.left+each*float64(i+1)
		if i == n-1 {
			to = math.Inf(1)
		}
		p := c.piece(from, to)
		parts, k = append(parts, p), min(k, p.scaleFor(width))
	}
	var z scale
	y := 0.0
	for _, p := range parts {
		z, y = p.layPart(&s, k, y, width)
		y += 6
	}
	all := *c // the legend and the moves are of all
	all.breaks = n
	all.drawFoot(&s, z, y, width)
	return s
}

// piece is what of a scene lies between two places along the vehicle.
func (c *scene) piece(from, to float64) *scene {
	h := *c
	h.items, h.wheels, h.gravity = nil, nil, nil
	h.area.left, h.area.right = max(c.area.left, from), min(c.area.right, to)
	within := func(x float64) bool { return from <= x && x < to }
	for _, i := range c.items {
		if within(c.across(i.at)) {
			h.items = append(h.items, i)
		}
	}
	for _, w := range c.wheels {
		if within(w.x) {
			h.wheels = append(h.wheels, w)
			h.area.left, h.area.right = min(h.area.left, w.x-max(w.r, w.w/2)), max(h.area.right, w.x+max(w.r, w.w/2))
		}
	}
	for _, g := range c.gravity {
		if within(g.x) {
			h.gravity = append(h.gravity, g)
		}
	}
	return &h
}

// layPart lays a view, or a piece of one, out below a height, and tells how far down
// it goes.
func (c *scene) layPart(s *Sheet, k, top, width float64) (scale, float64) {
	z := scale{k, width/2 - k*(c.area.left+c.area.right)/2, top + edge + 8 + k*c.area.high}
	bottom := z.y - k*c.area.low
	if c.ground {
		s.line("d-heavy", at(6, z.y), at(width-6, z.y))
	} else {
		s.line("d-center", at(6, z.y), at(width-6, z.y))
	}
	c.drawWheels(s, z)
	discs := c.drawItems(s, z, width)
	taken := append(c.drawGravity(s, z), c.drawHeight(s, z, width)...)
	area := layout.Box{X: 2, Y: top + 2, W: width - 4, H: bottom + 4 - top}
	if c.ground {
		area.H = z.y - 4 - top
	}
	foot := c.label(s, z, discs, area, taken)
	return z, max(foot, bottom+8)
}
