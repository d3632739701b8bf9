package layout

import "math"

// Point is a place on a sheet.
type Point struct{ X, Y float64 }

// Box is a rectangle on a sheet, by its upper left corner.
type Box struct{ X, Y, W, H float64 }

// Overlaps tells that two boxes have more than an edge in common.
func (b Box) Overlaps(c Box) bool {
	return b.X < c.X+c.W && c.X < b.X+b.W && b.Y < c.Y+c.H && c.Y < b.Y+b.H
}

// Within tells that the box leaves another nowhere.
func (b Box) Within(c Box) bool {
	return b.X >= c.X && b.Y >= c.Y && b.X+b.W <= c.X+c.W && b.Y+b.H <= c.Y+c.H
}

// Grown is the box with so much more on every side.
func (b Box) Grown(by float64) Box { return Box{b.X - by, b.Y - by, b.W + 2*by, b.H + 2*by} }

// Middle is its middle.
func (b Box) Middle() Point { return Point{b.X + b.W/2, b.Y + b.H/2} }

// Nearest is the point of the box that is nearest to another.
func (b Box) Nearest(p Point) Point {
	return Point{min(max(p.X, b.X), b.X+b.W), min(max(p.Y, b.Y), b.Y+b.H)}
}

// distance of two points.
func distance(p, o Point) float64 { return math.Hypot(p.X-o.X, p.Y-o.Y) }

// crosses tells that the way from p to o passes through the box.
func (b Box) crosses(p, o Point) bool {
	from, to := 0.0, 1.0
	for _, side := range [][3]float64{{p.X - o.X, p.X - b.X, b.W}, {p.Y - o.Y, p.Y - b.Y, b.H}} {
		way, past, size := -side[0], side[1], side[2]
		if way == 0 {
			if past < 0 || past > size {
				return false
			}
			continue
		}
		in, out := -past/way, (size-past)/way
		from, to = max(from, min(in, out)), min(to, max(in, out))
	}
	return from < to
}
