package drawing

import (
	"math"
	"strconv"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint/report/drawing/layout"
)

// arrow is a line with a head at its end, and without where it is too short for
// one.
func (s *Sheet) arrow(line, head Look, from, to layout.Point) {
	s.line(line, from, to)
	x, y := to.X-from.X, to.Y-from.Y
	if l := math.Hypot(x, y); l >= 5 {
		s.head(head, to, x/l, y/l)
	}
}

// head is an arrow's head, pointing along a direction of length 1.
func (s *Sheet) head(look Look, at layout.Point, x, y float64) {
	const long, half = 6, 2
	s.area(look, at, layout.Point{X: at.X - long*x - half*y, Y: at.Y - long*y + half*x}, layout.Point{X: at.X - long*x + half*y, Y: at.Y - long*y - half*x})
}

// dimension is a dimension line with a head at both ends and the figure in the
// middle, on white.
func (s *Sheet) dimension(left, right, y float64, text string) {
	s.line("", layout.Point{X: left, Y: y}, layout.Point{X: right, Y: y})
	s.head("d-ink", layout.Point{X: left, Y: y}, -1, 0)
	s.head("d-ink", layout.Point{X: right, Y: y}, 1, 0)
	b := boxOf(plain, Middle, (left+right)/2, y+4, text).Grown(3)
	s.rect("d-white", b, "")
	s.words("", plain, Middle, (left+right)/2, y+4, text)
}

// drawGravity draws the centers of gravity: a disc in quarters, and about it the
// box in which it lies. It gives what they take up.
func (c *scene) drawGravity(s *Sheet, z scale) []layout.Box {
	var taken []layout.Box
	for _, g := range c.gravity {
		at, low, high := z.at(g.x, g.y), z.at(g.left, g.high), z.at(g.right, g.low)
		box := layout.Box{X: low.X, Y: low.Y, W: high.X - low.X, H: high.Y - low.Y}
		look, fill := Look("d-ghost"), Look("d-ink")
		if g.now {
			look, fill = "d-now", "d-nowfill"
		}
		s.rect(look, box, g.name)
		s.quartered(fill, at, 6.5, g.now, g.name)
		taken = append(taken, layout.Box{X: at.X - 7, Y: at.Y - 7, W: 14, H: 14})
	}
	return taken
}

// quartered is the sign of a center of gravity; filled for the one now, and only
// its cross for the one before.
func (s *Sheet) quartered(fill Look, at layout.Point, r float64, filled bool, told string) {
	ring := Look("")
	if filled {
		ring = "d-now"
	}
	s.disc("d-white", at, r, "")
	if filled {
		for _, turn := range []float64{0, math.Pi} {
			points := []layout.Point{at}
			for k := range 7 {
				a := turn + math.Pi/2*float64(k)/6
				points = append(points, layout.Point{X: at.X + r*math.Cos(a), Y: at.Y + r*math.Sin(a)})
			}
			s.area(fill, points...)
		}
	}
	s.disc(ring, at, r, told)
	s.line(ring, layout.Point{X: at.X - r, Y: at.Y}, layout.Point{X: at.X + r, Y: at.Y})
	s.line(ring, layout.Point{X: at.X, Y: at.Y - r}, layout.Point{X: at.X, Y: at.Y + r})
}

// drawFoot draws what stands under a view: the wheelbase, the scale, what the
// signs mean, what moved.
func (c *scene) drawFoot(s *Sheet, z scale, y, width float64) {
	l := c.Build.Vehicle().Wheelbase
	if c.long && c.breaks == 0 && known(l) {
		front, rear := z.at(0, 0).X, z.at(l.Value(), 0).X
		y += 16
		for _, x := range []float64{front, rear} {
			s.line("d-thin", layout.Point{X: x, Y: y - 22}, layout.Point{X: x, Y: y + 5})
		}
		s.dimension(front, rear, y, c.style.Plain(l))
	}
	y += 24
	f := flow{s: s, x: 6, y: y, width: width}
	f.scaleBar(z, c.style)
	f.legend(c, width)
	f.y += 6
	if c.breaks > 0 {
		text := "in " + strconv.Itoa(c.breaks) + " pieces, the front one on top"
		if known(l) {
			text += "; wheelbase " + c.style.Plain(l)
		}
		f.note(text)
	}
	for _, m := range c.moves() {
		f.note(m)
	}
	s.Height = f.y + 8
}

// flow sets signs with their words one after another, in lines.
type flow struct {
	s           *Sheet
	x, y, width float64
}

const signGap = 18.0

// sign makes room for a sign of some width with its words.
func (f *flow) sign(w float64, text string, draw func(at layout.Point)) {
	need := w + 6 + layout.Width(text, small)
	if f.x > 6 && f.x+need > f.width-6 {
		f.x, f.y = 6, f.y+22
	}
	draw(layout.Point{X: f.x + w/2, Y: f.y})
	f.s.words("d-gray", small, Start, f.x+w+6, f.y+4, layout.Cut(text, small, f.width-12-w))
	f.x += need + signGap
}

// note is a line of words of its own.
func (f *flow) note(text string) {
	for _, line := range layout.Wrap(text, small, f.width-12) {
		f.x, f.y = 6, f.y+16
		f.s.words("d-gray", small, Start, f.x, f.y+4, line)
	}
}

// steps are the lengths that a scale's bar may have, by the system of units.
var steps = map[bool][]struct {
	text string
	long float64
}{
	false: {{"1 in", 0.0254}, {"6 in", 0.1524}, {"1 ft", 0.3048}, {"2 ft", 0.6096}, {"5 ft", 1.524}, {"10 ft", 3.048}, {"50 ft", 15.24}},
	true:  {{"10 mm", 0.01}, {"100 mm", 0.1}, {"500 mm", 0.5}, {"1 m", 1}, {"2 m", 2}, {"10 m", 10}},
}

// scaleBar draws the longest of the usual lengths that has room, half of it
// filled.
func (f *flow) scaleBar(z scale, style q.Style) {
	best := steps[style.SI][0]
	for _, st := range steps[style.SI] {
		if st.long*z.k <= f.width/4 {
			best = st
		}
	}
	w := best.long * z.k
	f.sign(w, best.text, func(at layout.Point) {
		f.s.rect("", layout.Box{X: at.X - w/2, Y: at.Y - 2, W: w, H: 4}, "")
		f.s.rect("d-ink", layout.Box{X: at.X - w/2, Y: at.Y - 2, W: w / 2, H: 4}, "")
	})
}

// legend says what the signs are, of those that there are.
func (f *flow) legend(c *scene, width float64) {
	has, states := map[sort]bool{}, map[state]bool{}
	for _, i := range c.items {
		has[i.sort], states[i.state] = true, true
	}
	unit, text := 45.359237, "100 lb"
	if c.style.SI {
		unit, text = 50, "50 kg"
	}
	r := c.perRoot(width) * math.Sqrt(unit)
	sign := func(i item, what string) {
		if r > 0 {
			f.sign(2*r, what+" of "+text, func(at layout.Point) { shape(f.s, i.sort, i.look(), at, r, "") })
		}
	}
	if c.over {
		sign(item{state: same}, "as before, one")
	}
	for of, what := range []string{"a part", "a load", "a full tank"} {
		if i := (item{sort: sort(of)}); has[i.sort] && !c.over {
			sign(i, what)
		}
	}
	for _, k := range []struct {
		of   state
		what string
	}{{added, "added"}, {changed, "other than before"}, {gone, "gone, or the place before"}} {
		if states[k.of] || k.of == gone && states[changed] {
			f.sign(12, k.what, func(at layout.Point) { shape(f.s, part, item{state: k.of}.look(), at, 6, "") })
		}
	}
	for _, g := range c.gravity {
		f.sign(13, g.words, func(at layout.Point) { f.s.quartered("d-nowfill", at, 6.5, g.now, "") })
	}
}

// moves says which assemblies and which of the vehicle's own things moved, and how
// far.
func (c *scene) moves() []string {
	var out []string
	b := c.Build
	for _, a := range b.Assemblies() {
		if c.over || !a.WasAt.Known() || c.hides(a.Path(), "at", "was-at") {
			continue
		}
		by := b.Now(a.At).Minus(b.Before(a.At, a.WasAt))
		if known(by.X, by.Y, by.Z) {
			out = append(out, c.called(a.Path(), spaced(idOf(a.Path())))+" moved "+c.way(by))
		}
	}
	for _, i := range c.items {
		if by := i.moved; i.state == only && i.was != nil && known(by.X, by.Y, by.Z) {
			out = append(out, i.number+" "+i.name+" moved "+c.way(by))
		}
	}
	return out
}

// way says a move in words: "1.5 in ahead, 0.5 in up".
func (c *scene) way(by ledger.Point) string {
	text := ""
	for _, d := range []struct {
		by          q.Quantity
		plus, minus string
	}{{by.X, "back", "ahead"}, {by.Y, "to the right", "to the left"}, {by.Z, "up", "down"}} {
		v := d.by.Shown()
		if math.Abs(v) < 1e-6 {
			continue
		}
		if text != "" {
			text += ", "
		}
		if v > 0 {
			text += c.short(d.by) + " " + d.plus
		} else {
			text += c.short(d.by.Neg()) + " " + d.minus
		}
	}
	if text == "" {
		return "nowhere"
	}
	return text
}
