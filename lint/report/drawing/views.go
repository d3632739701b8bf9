package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint/report/drawing/layout"
)

// view is a way to look at the vehicle: which coordinates go across the sheet and
// up it, and which way.
type view struct {
	title, from string
	across, up  func(ledger.Point) float64
	wheels      func(*subject) []wheel
	ground      bool // the ground is seen from its edge
	long        bool // it goes along the vehicle
	breaks      int  // in how many pieces it is broken
	balanced    bool // centers of gravity are seen: how far to a side they lie is not known
}

func side(s *subject) Drawing  { return s.view(sideView) }
func plan(s *subject) Drawing  { return s.view(planView) }
func front(s *subject) Drawing { return s.view(frontView) }

var (
	sideView = view{title: "From the left side", from: "the left side, front to the left",
		across: func(p ledger.Point) float64 { return p.X.Value() }, up: func(p ledger.Point) float64 { return p.Z.Value() },
		ground: true, long: true, balanced: true, wheels: (*subject).wheelsBeside}
	planView = view{title: "From above", from: "above, front to the left",
		across: func(p ledger.Point) float64 { return p.X.Value() }, up: func(p ledger.Point) float64 { return p.Y.Value() },
		long: true, wheels: (*subject).wheelsBelow}
	frontView = view{title: "From ahead", from: "ahead, its right side to the left",
		across: func(p ledger.Point) float64 { return -p.Y.Value() }, up: func(p ledger.Point) float64 { return p.Z.Value() },
		ground: true, wheels: (*subject).wheelsAhead}
)

// wheel is a tire seen from a side: a circle, or the rectangle that it is seen as
// from elsewhere. Lengths are in m.
type wheel struct {
	x, y float64 // of its middle
	r    float64 // of a circle
	w, h float64 // of a rectangle
}

// span is a stretch of both coordinates, in m.
type span struct{ left, right, low, high float64 }

func (a *span) take(x, y float64) {
	a.left, a.right, a.low, a.high = min(a.left, x), max(a.right, x), min(a.low, y), max(a.high, y)
}

var nothing = span{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)}

// scene is what a view shows, before it is laid out.
type scene struct {
	*subject
	view
	items   []item
	labels  []string // of the items, on the sheet that is being laid out
	wheels  []wheel
	gravity []gravity
	area    span
	most    float64 // the largest mass, kg
	over    bool    // two states over each other
}

// gravity is a center of gravity: where it is and how far off it may be.
type gravity struct {
	name, words string
	x, y        float64
	left, right float64
	low, high   float64
	now         bool
}

func (s *subject) view(v view) Drawing {
	items, beside := s.items()
	c := s.sceneOf(v, items)
	d := Drawing{Title: v.title, Beside: beside}
	if math.IsInf(c.area.left, 0) {
		return d
	}
	d.Panels = []Panel{both("", c.lay)}
	d.Tables = []Table{s.keyOf(items)}
	d.Text = c.told()
	return d
}

// sceneOf is what a view of some things shows.
func (s *subject) sceneOf(v view, items []item) *scene {
	c := &scene{subject: s, view: v, area: nothing, items: items}
	c.wheels = v.wheels(s)
	for _, w := range c.wheels {
		c.area.take(w.x-max(w.r, w.w/2), w.y-max(w.r, w.h/2))
		c.area.take(w.x+max(w.r, w.w/2), w.y+max(w.r, w.h/2))
	}
	for _, i := range c.items {
		c.area.take(v.across(i.at), v.up(i.at))
		if i.was != nil {
			c.area.take(v.across(*i.was), v.up(*i.was))
		}
		if known(i.mass) {
			c.most = max(c.most, i.mass.Value())
		}
	}
	if math.IsInf(c.area.left, 0) {
		return c
	}
	if v.balanced {
		c.gravity = s.gravities(v)
	}
	for _, g := range c.gravity {
		c.area.take(g.left, g.low)
		c.area.take(g.right, g.high)
	}
	if v.ground {
		c.area.take(c.area.left, 0)
	}
	if h := s.Build.Vehicle().Height; v.ground && known(h) {
		c.area.take(c.area.left, h.Value())
	}
	return c
}

// told says in words what a view shows.
func (c *scene) told() string {
	n := map[sort]int{}
	for _, i := range c.items {
		n[i.sort]++
	}
	text := fmt.Sprintf("The vehicle seen from %s: %s, %s and %s at their places, each as large as its mass.", c.from, counted(n[part], "part"), counted(n[load], "load"), counted(n[tank], "tank"))
	if l := c.Build.Vehicle().Wheelbase; known(l) {
		text += " Wheelbase " + c.style.Format(l) + "."
	}
	for _, g := range c.gravity {
		text += " " + g.name + "."
	}
	return text
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

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

// gravities are the centers of gravity before and now, as far as they are known.
func (s *subject) gravities(v view) []gravity {
	l := s.Build.Vehicle().Wheelbase
	var out []gravity
	add := func(name, words string, front, rear, height q.Quantity, now bool) {
		at := ledger.Point{X: l.Mul(rear.Div(front.Add(rear))), Y: q.SI(0, q.Length), Z: height}
		if !known(at.X, at.Z) {
			return
		}
		xl, xh := at.X.Bounds()
		zl, zh := at.Z.Bounds()
		low, high := ledger.Point{X: q.SI(xl, q.Length), Y: at.Y, Z: q.SI(zl, q.Length)}, ledger.Point{X: q.SI(xh, q.Length), Y: at.Y, Z: q.SI(zh, q.Length)}
		g := gravity{name: fmt.Sprintf("Center of gravity %s: %s behind the front axle, %s up", name, s.style.Format(at.X), s.style.Format(at.Z)),
			words: words, x: v.across(at), y: v.up(at), now: now}
		g.left, g.right = min(v.across(low), v.across(high)), max(v.across(low), v.across(high))
		g.low, g.high = min(v.up(low), v.up(high)), max(v.up(low), v.up(high))
		out = append(out, g)
	}
	add("as received", "center of gravity as received", s.Front.Received, s.Rear.Received, s.HeightWas, false)
	add("now, at curb", "now, at curb; the box is how far off it may be", s.Front.Curb, s.Rear.Curb, s.HeightNow, true)
	return out
}
