package drawing

import (
	"fmt"
	"math"
	"strings"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint/report/drawing/layout"
)

func driveline(s *subject) Drawing {
	d := Drawing{Title: "Driveline"}
	for _, shaft := range s.Build.Shafts() {
		if s.hides(shaft.Path(), "from", "to", "length", "length-second", "joints", "slip-engaged", "slip-left", "slip-used") {
			continue
		}
		c := s.chainOf(shaft)
		for _, v := range []angles{{"from the left side", "slopes", shaft.Slopes, false}, {"from above", "plan", shaft.Plan, true}} {
			if s.hides(shaft.Path(), v.key) {
				continue
			}
			name := s.called(shaft.Path(), "Shaft "+spaced(idOf(shaft.Path()))) + ", " + v.seen
			name = strings.ToUpper(name[:1]) + name[1:]
			a, lacks := c.read(v)
			if lacks != "" {
				d.Beside = append(d.Beside, name+": "+lacks)
				continue
			}
			d.Text += fmt.Sprintf("%s: %s. ", name, strings.Join(c.says(v), "; "))
			d.Panels = append(d.Panels, both("", func(width float64) Sheet { return c.lay(name, v, a, width) }))
		}
	}
	return d
}

// angles are those of one view.
type angles struct {
	seen, key string
	ledger.ShaftAngles
	above bool
}

// chain is a shaft with what it joins: one tube, or two where it has three
// joints.
type chain struct {
	*subject
	shaft   *ledger.Shaft
	lengths []q.Quantity
	ahead   bool // it goes forward
}

func (s *subject) chainOf(shaft *ledger.Shaft) chain {
	c := chain{subject: s, shaft: shaft, lengths: []q.Quantity{shaft.Length}}
	if shaft.Joints.Is("3").Holds() {
		c.lengths = append(c.lengths, shaft.LengthSecond)
	}
	from, to := s.Build.Now(s.Build.Part(shaft.From).At).X, s.Build.Now(s.Build.Part(shaft.To).At).X
	c.ahead = known(from, to) && to.Value() < from.Value()
	return c
}

// parts are the angles in their order: what drives, the tubes, what is driven.
func (c chain) parts(v angles) []q.Quantity {
	if len(c.lengths) == 2 {
		return []q.Quantity{v.From, v.Shaft, v.Second, v.To}
	}
	return []q.Quantity{v.From, v.Shaft, v.To}
}

// read gives the angles in radians, or says what of them is not known.
func (c chain) read(v angles) ([]float64, string) {
	for _, l := range c.lengths {
		if !known(l) || l.Value() <= 0 {
			return nil, "its length is not known"
		}
	}
	var out []float64
	for _, a := range c.parts(v) {
		if !known(a) || math.Abs(a.Value()) > math.Pi/3 {
			return nil, "not every angle is known"
		}
		out = append(out, a.Value())
	}
	return out, ""
}

// factorFor is how much larger angles are drawn so that they are seen and none is
// steep.
func factorFor(angles []float64) float64 {
	most := 0.0
	for _, a := range angles {
		most = max(most, math.Abs(a))
	}
	for _, f := range []float64{10, 5, 4, 3, 2} {
		if most*f <= 18*math.Pi/180 {
			return f
		}
	}
	return 1
}

const stubShare = 0.14 // of the width, for what is joined at either end

// lay draws a shaft in one view. Lengths are in proportion along it; angles are
// larger by a factor, which is stated.
func (c chain) lay(name string, v angles, read []float64, width float64) Sheet {
	s := Sheet{Width: width}
	f := factorFor(read)
	total := 0.0
	for _, l := range c.lengths {
		total += l.Value()
	}
	stub := stubShare * width
	k := (width - 2*stub - 60) / total
	direction := 1.0
	if c.ahead {
		direction = -1
	}
	// Down to the rear is positive, and seen from above to the right: which is up
	// on the sheet, with the front to the left.
	down := 1.0
	if v.above {
		down = -1
	}
	step := func(p layout.Point, a, long, way float64) layout.Point {
		return at(p.X+way*long*math.Cos(a*f), p.Y+way*down*long*math.Sin(a*f))
	}
	joints := []layout.Point{{}}
	for i, l := range c.lengths {
		joints = append(joints, step(joints[i], read[i+1], l.Value()*k, direction))
	}
	last := joints[len(joints)-1]
	start, end := step(joints[0], read[0], stub, -direction), step(last, read[len(read)-1], stub, direction)
	all := append([]layout.Point{start, end}, joints...)
	area := nothing
	for _, p := range all {
		area.take(p.X, p.Y)
	}
	dx, dy := width/2-(area.left+area.right)/2, 52-area.low
	move := func(p layout.Point) layout.Point { return at(p.X+dx, p.Y+dy) }
	s.words("d-bold", small, Start, 2, 14, name)
	for i := range joints {
		p := move(joints[i])
		s.line("d-center", at(p.X-46, p.Y), at(p.X+46, p.Y))
	}
	s.line("d-heavy", move(start), move(joints[0]))
	s.line("d-heavy", move(last), move(end))
	for i := range c.lengths {
		s.tube(move(joints[i]), move(joints[i+1]))
	}
	labels := []layout.Label{}
	texts := []string{}
	for i := range joints {
		p := move(joints[i])
		s.disc("d-open", p, 5, "")
		texts = append(texts, string(rune('A'+i))+" "+degrees(read[i+1]-read[i]))
		labels = append(labels, labelOf(p, 9, plain, texts[i]))
	}
	for i, l := range c.lengths {
		a, b := move(joints[i]), move(joints[i+1])
		texts = append(texts, c.style.Plain(l))
		labels = append(labels, labelOf(at((a.X+b.X)/2, (a.Y+b.Y)/2), 8, plain, c.style.Plain(l)))
	}
	for _, e := range []struct {
		p    layout.Point
		part ledger.Ref
	}{{move(start), c.shaft.From}, {move(end), c.shaft.To}} {
		name, _, _ := strings.Cut(c.nameOf(e.part), ",")
		text := layout.Cut(name, small, max(stub+20, 100))
		texts = append(texts, text)
		labels = append(labels, labelOf(e.p, 4, small, text))
	}
	lines := [][2]layout.Point{{move(start), move(joints[0])}, {move(last), move(end)}}
	for i := range c.lengths {
		lines = append(lines, [2]layout.Point{move(joints[i]), move(joints[i+1])})
	}
	for i := range joints {
		p := move(joints[i])
		lines = append(lines, [2]layout.Point{{X: p.X - 46, Y: p.Y}, {X: p.X + 46, Y: p.Y}})
	}
	bottom := area.high + dy + 30
	placed, grown := layout.Place(labels, layout.Box{X: 2, Y: 20, W: width - 4, H: bottom - 20}, layout.Avoid{Lines: lines})
	for i, p := range placed {
		size := plain
		if p.Box.H < lineOf(plain) {
			size = small
		}
		s.inBox("d-halo", size, p.Box, texts[i])
	}
	y := max(bottom, grown.Y+grown.H)
	notes := c.says(v)
	if f != 1 {
		notes = append(notes, fmt.Sprintf("angles drawn %g times as large", f))
	}
	for _, line := range layout.Wrap(strings.Join(notes, "; "), small, width-4) {
		y += 14
		s.words("d-gray", small, Start, 2, y, line)
	}
	s.Height = y + 12
	return s
}

// tube draws a shaft's tube as two lines.
func (s *Sheet) tube(a, b layout.Point) {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	if l == 0 {
		return
	}
	x, y := (b.X-a.X)/l, (b.Y-a.Y)/l
	from, to := at(a.X+9*x, a.Y+9*y), at(b.X-9*x, b.Y-9*y)
	s.area("d-part", at(from.X-3*y, from.Y+3*x), at(to.X-3*y, to.Y+3*x), at(to.X+3*y, to.Y-3*x), at(from.X+3*y, from.Y-3*x))
	s.line("", a, from)
	s.line("", to, b)
}

// degrees is an angle between two parts, in degrees.
func degrees(radians float64) string {
	return fmt.Sprintf("%.1f°", math.Abs(radians)*180/math.Pi)
}

// says gives the readings of a view in words, and what the slip has.
func (c chain) says(v angles) []string {
	var out []string
	names := []string{c.nameOf(c.shaft.From), "shaft", c.nameOf(c.shaft.To)}
	if len(c.lengths) == 2 {
		names = []string{names[0], "first tube", "second tube", names[2]}
	}
	for i, a := range c.parts(v) {
		if known(a) {
			name, _, _ := strings.Cut(names[i], ",")
			out = append(out, name+" "+c.style.Format(a))
		}
	}
	if v.above {
		return out
	}
	if known(c.shaft.SlipEngaged) {
		out = append(out, "slip engaged "+c.style.Plain(c.shaft.SlipEngaged))
	}
	if known(c.shaft.SlipLeft) {
		out = append(out, "slip left "+c.style.Plain(c.shaft.SlipLeft))
	}
	if known(c.shaft.SlipUsed) {
		out = append(out, "the suspension takes "+c.style.Plain(c.shaft.SlipUsed)+" each way")
	}
	return out
}
