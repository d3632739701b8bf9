package layout

import "math"

// Label is a text that wants a place near what it is about: a disc about a
// point.
type Label struct {
	At   Point
	R    float64 // of the disc
	W, H float64 // of the text
	In   bool    // it may stand in the disc, where that is large enough
	Mute bool    // there is a disc and no text
}

// Ring is a circle.
type Ring struct {
	At Point
	R  float64
}

// Avoid is what is on a sheet already.
type Avoid struct {
	Taken []Box      // where no label may lie
	Rings []Ring     // outlines that labels had better not lie on
	Lines [][2]Point // lines of which the same holds
}

// Placed is where a label stands. From and To are the ends of its leader, which
// is drawn where they are apart.
type Placed struct {
	Box      Box
	From, To Point
	Inside   bool
}

// Led tells that a label stands so far off that it needs a leader.
func (p Placed) Led() bool { return !p.Inside && distance(p.From, p.To) > leaderFrom }

const (
	apart      = 1.0  // between two labels
	leaderFrom = 3.0  // the shortest leader
	ringStep   = 4.0  // between two rings of places that are tried
	ringWays   = 24   // places tried on a ring
	crowd      = 18.0 // what lying on a disc costs, in units of distance
	stroke     = 7.0  // what lying on an outline costs
	tangle     = 14.0 // what a leader through a label costs
)

// Place finds a place for every label, in their order: none lies on another or on
// what is taken, and none leaves the sheet, which is made higher where it has no
// room, downward. It gives back the sheet.
func Place(labels []Label, in Box, avoid Avoid) ([]Placed, Box) {
	p := placer{in: in, cells: map[[2]int][]int{}, all: labels, discs: map[[2]int][]int{}, Avoid: avoid}
	for i, l := range labels {
		cellsOf(l.box(), func(c [2]int) bool { p.discs[c] = append(p.discs[c], i); return true })
	}
	for _, b := range avoid.Taken {
		p.put(b)
	}
	out := make([]Placed, len(labels))
	for i, l := range labels {
		if l.Mute {
			continue
		}
		l.W = min(l.W, in.W)
		place, ok := p.find(l)
		for !ok {
			p.in.H += 2 * l.H
			place, ok = p.find(l)
		}
		p.put(place.Box)
		p.leaders = append(p.leaders, place)
		out[i] = place
	}
	return out, p.in
}

type placer struct {
	in      Box
	boxes   []Box
	cells   map[[2]int][]int // the boxes by the squares of the sheet that they touch
	leaders []Placed
	all     []Label
	discs   map[[2]int][]int // the discs by the same squares
	Avoid
}

// box is what a label's disc takes up.
func (l Label) box() Box { return Box{l.At.X - l.R, l.At.Y - l.R, 2 * l.R, 2 * l.R} }

const cell = 32.0

// cellOf is the square that a point is in.
func cellOf(p Point) [2]int {
	return [2]int{int(math.Floor(p.X / cell)), int(math.Floor(p.Y / cell))}
}

func cellsOf(b Box, visit func([2]int) bool) {
	for x := int(math.Floor(b.X / cell)); x <= int(math.Floor((b.X+b.W)/cell)); x++ {
		for y := int(math.Floor(b.Y / cell)); y <= int(math.Floor((b.Y+b.H)/cell)); y++ {
			if !visit([2]int{x, y}) {
				return
			}
		}
	}
}

func (p *placer) put(b Box) {
	p.boxes = append(p.boxes, b)
	cellsOf(b, func(c [2]int) bool { p.cells[c] = append(p.cells[c], len(p.boxes)-1); return true })
}

func (p *placer) free(b Box) bool {
	if !b.Within(p.in) {
		return false
	}
	b, free := b.Grown(apart), true
	cellsOf(b, func(c [2]int) bool {
		for _, i := range p.cells[c] {
			if p.boxes[i].Overlaps(b) {
				free = false
			}
		}
		return free
	})
	return free
}

// find looks for the best free place: in the disc, else on rings about it that
// grow until they have left the sheet. Nearness counts, and what is covered.
func (p *placer) find(l Label) (Placed, bool) {
	if l.In && math.Hypot(l.W, l.H) <= 2*l.R {
		if b := (Box{l.At.X - l.W/2, l.At.Y - l.H/2, l.W, l.H}); p.free(b) && p.covered(b, l) == 0 {
			return Placed{Box: b, Inside: true}, true
		}
	}
	best, cost, found := Placed{}, math.Inf(1), false
	for ring := l.R + 1.5; ring < p.in.W+p.in.H && (!found || ring < cost+l.R); ring += ringStep {
		for k := range ringWays {
			b := beside(l, ring, 2*math.Pi*(float64(k)+0.5)/ringWays)
			if !p.free(b) {
				continue
			}
			c := ring - l.R + stroke*float64(p.struck(b))
			if c < cost {
				c += crowd * float64(p.covered(b, l))
			}
			place := leader(l, b)
			if c < cost {
				c += tangle * float64(p.tangled(place))
			}
			if c < cost {
				best, cost, found = place, c, true
			}
		}
	}
	return best, found
}

// beside is a label's box outside a ring about its disc, in a direction.
func beside(l Label, ring, way float64) Box {
	x, y := math.Cos(way), math.Sin(way)
	at := Point{l.At.X + ring*x, l.At.Y + ring*y}
	return Box{at.X - l.W/2 + x*l.W/2, at.Y - l.H/2 + y*l.H/2, l.W, l.H}
}

// leader goes from the label's nearest edge to the disc's.
func leader(l Label, b Box) Placed {
	from := b.Nearest(l.At)
	d := distance(from, l.At)
	if d <= l.R {
		return Placed{Box: b, From: from, To: from}
	}
	return Placed{Box: b, From: from, To: Point{l.At.X + (from.X-l.At.X)*l.R/d, l.At.Y + (from.Y-l.At.Y)*l.R/d}}
}

// covered counts the discs of others that a box lies on. One that is in several
// squares counts once: it is looked for in the first that both are in.
func (p *placer) covered(b Box, l Label) int {
	n := 0
	cellsOf(b, func(c [2]int) bool {
		for _, i := range p.discs[c] {
			o := p.all[i]
			if o.At == l.At || o.R >= 4*b.H || distance(b.Nearest(o.At), o.At) >= o.R {
				continue
			}
			if disc := o.box(); c == cellOf(Point{max(disc.X, b.X), max(disc.Y, b.Y)}) {
				n++
			}
		}
		return true
	})
	return n
}

// struck counts the outlines that pass through a box.
func (p *placer) struck(b Box) int {
	n := 0
	for _, l := range p.Lines {
		if b.crosses(l[0], l[1]) {
			n++
		}
	}
	for _, r := range p.Rings {
		far := Point{max(math.Abs(b.X-r.At.X), math.Abs(b.X+b.W-r.At.X)), max(math.Abs(b.Y-r.At.Y), math.Abs(b.Y+b.H-r.At.Y))}
		if distance(b.Nearest(r.At), r.At) < r.R && math.Hypot(far.X, far.Y) > r.R {
			n++
		}
	}
	return n
}

// tangled counts the labels that a leader would pass through, and the leaders that
// would pass through the label.
func (p *placer) tangled(place Placed) int {
	n := 0
	for _, o := range p.leaders {
		if place.Led() && o.Box.crosses(place.From, place.To) || o.Led() && place.Box.crosses(o.From, o.To) {
			n++
		}
	}
	return n
}
