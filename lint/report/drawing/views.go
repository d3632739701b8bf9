package drawing

import (
	"fmt"
	"math"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
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

func side(s *subject) Drawing { return s.view(sideView) }

func plan(s *subject) Drawing { return s.view(planView) }

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
	d.Beside = append(d.Beside, c.lacking()...)
	d.Panels = []Panel{both("", c.lay)}
	d.Tables = []Table{s.keyOf(items)}
	d.Text = c.told()
	return d
}

// lacking says what a view would show of the vehicle itself and is not known.
func (c *scene) lacking() []string {
	var out []string
	if c.long && !known(c.Build.Vehicle().Wheelbase) {
		out = append(out, "The wheelbase: not known")
	}
	seen := c.axles()
	if !c.long {
		seen = seen[:1]
	}
	for i, a := range seen {
		if name := [...]string{"front", "rear"}[i]; !known(a.diameter) {
			out = append(out, "The "+name+" wheels: their tires' diameter is not known")
		} else if !c.balanced && !known(a.Track) {
			out = append(out, "The "+name+" wheels: their track is not known")
		}
	}
	if c.balanced && len(c.gravity) < 2 {
		what := "The center of gravity now: not known"
		if len(c.gravity) == 0 {
			what = "The center of gravity: not known"
		}
		out = append(out, what)
	}
	return out
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
