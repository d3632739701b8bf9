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
	balanced    bool // centers of gravity are seen: how far to a side they lie is not known
}

func side(s *subject) Drawing {
	return s.view(view{title: "From the left side", from: "the left side, front to the left",
		across: func(p ledger.Point) float64 { return p.X.Value() }, up: func(p ledger.Point) float64 { return p.Z.Value() },
		ground: true, balanced: true, wheels: (*subject).wheelsBeside})
}

func plan(s *subject) Drawing {
	return s.view(view{title: "From above", from: "above, front to the left",
		across: func(p ledger.Point) float64 { return p.X.Value() }, up: func(p ledger.Point) float64 { return p.Y.Value() },
		wheels: (*subject).wheelsBelow})
}

func front(s *subject) Drawing {
	return s.view(view{title: "From ahead", from: "ahead, its right side to the left",
		across: func(p ledger.Point) float64 { return -p.Y.Value() }, up: func(p ledger.Point) float64 { return p.Z.Value() },
		ground: true, wheels: (*subject).wheelsAhead})
}

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
}

// gravity is a center of gravity: where it is and how far off it may be.
type gravity struct {
	name        string
	x, y        float64
	left, right float64
	low, high   float64
	now         bool
}

func (s *subject) view(v view) Drawing {
	c := scene{subject: s, view: v, area: nothing}
	var beside []string
	c.items, beside = s.items()
	c.wheels = v.wheels(s)
	for _, w := range c.wheels {
		c.area.take(w.x-max(w.r, w.w/2), w.y-max(w.r, w.h/2))
		c.area.take(w.x+max(w.r, w.w/2), w.y+max(w.r, w.h/2))
	}
	for _, i := range c.items {
		c.area.take(v.across(i.at), v.up(i.at))
		if i.mass.Known() {
			c.most = max(c.most, i.mass.Value())
		}
	}
	d := Drawing{Title: v.title, Beside: beside}
	if math.IsInf(c.area.left, 0) {
		return d
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
	d.Panels = []Panel{both("", c.lay)}
	d.Tables = []Table{s.keyOf(c.items)}
	d.Text = c.told()
	return d
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

// tallest is how high a view is at most, in widths of the sheet.
const tallest = 0.62

func (c *scene) lay(width float64) Sheet {
	s := Sheet{Width: width}
	across, up := c.area.right-c.area.left, c.area.high-c.area.low
	edge := 26.0
	k := min((width-2*edge)/max(across, 0.1), width*tallest/max(up, 0.1))
	z := scale{k, width/2 - k*(c.area.left+c.area.right)/2, edge + 8 + k*c.area.high}
	var taken []layout.Box
	bottom := z.y - k*c.area.low
	if c.ground {
		c.drawGround(&s, z, width)
	} else {
		s.line("d-center", at(6, z.y), at(width-6, z.y))
	}
	c.drawWheels(&s, z)
	discs := c.drawItems(&s, z, width)
	taken = append(taken, c.drawGravity(&s, z)...)
	taken = append(taken, c.drawHeight(&s, z, width)...)
	area := layout.Box{X: 2, Y: 2, W: width - 4, H: bottom + 4}
	if c.ground {
		area.H = z.y - 4
	}
	foot := c.label(&s, z, discs, area, taken)
	c.drawFoot(&s, z, max(foot, bottom+8), width)
	return s
}

func (c *scene) drawGround(s *Sheet, z scale, width float64) {
	s.line("d-heavy", at(6, z.y), at(width-6, z.y))
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
		return 15
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
	for rank, i := range c.heaviestFirst() {
		it := c.items[i]
		c.labels[i] = it.number
		at := z.at(c.across(it.at), c.up(it.at))
		r := 0.0
		if known(it.mass) {
			r = c.perRoot(width) * math.Sqrt(max(it.mass.Value(), 0))
		}
		told := it.number + " " + it.name
		if it.mass.Known() {
			told += ", " + c.style.Format(it.mass)
		}
		if it.was != nil {
			shape(s, it.sort, "d-ghost", z.at(c.across(*it.was), c.up(*it.was)), r, "")
		}
		shape(s, it.sort, [...]Look{"d-part", "d-load", "d-tank"}[it.sort], at, r, told)
		labels[i] = layout.Label{At: at, R: max(r, 1), W: layout.Width(it.number, small), H: small, In: true}
		if rank < named(width) && known(it.mass) {
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
	add := func(name string, front, rear, height q.Quantity, now bool) {
		at := ledger.Point{X: l.Mul(rear.Div(front.Add(rear))), Y: q.SI(0, q.Length), Z: height}
		if !known(at.X, at.Z) {
			return
		}
		xl, xh := at.X.Bounds()
		zl, zh := at.Z.Bounds()
		low, high := ledger.Point{X: q.SI(xl, q.Length), Y: at.Y, Z: q.SI(zl, q.Length)}, ledger.Point{X: q.SI(xh, q.Length), Y: at.Y, Z: q.SI(zh, q.Length)}
		g := gravity{name: fmt.Sprintf("Center of gravity %s: %s behind the front axle, %s up", name, s.style.Format(at.X), s.style.Format(at.Z)),
			x: v.across(at), y: v.up(at), now: now}
		g.left, g.right = min(v.across(low), v.across(high)), max(v.across(low), v.across(high))
		g.low, g.high = min(v.up(low), v.up(high)), max(v.up(low), v.up(high))
		out = append(out, g)
	}
	add("as received", s.Front.Received, s.Rear.Received, s.HeightWas, false)
	add("now, at curb", s.Front.Curb, s.Rear.Curb, s.HeightNow, true)
	return out
}
