package drawing

import (
	"math"

	"fishplate/lint/report/drawing/layout"
)

// chart is lines of figures beside one another on one axis.
type chart struct {
	axis
	rows  []line
	ruled float64 // where a heavy line goes from top to bottom; NaN for none
	over  string  // what stands over it
	names float64 // the share of the width that the lines' names take
	says  float64 // and that of the words on the right
}

// axis is what goes across a chart.
type axis struct {
	from, to float64
	step     float64
	text     func(float64) string
}

// line is one line of a chart: its name, what is drawn, and the figures in words.
type line struct {
	name, brief string // brief where the name has no room
	says        string // cut where it has no room
	figure      string // behind it, and the last to be cut
	look        Look   // of the words
	head        bool   // it is a heading over others
	draw        func(p plot)
}

// plot is where a line's figures go: a height on a sheet, and the axis.
type plot struct {
	*Sheet
	y, left, k float64
	axis
}

// x is where a figure stands on the sheet; those that are off the axis stand at
// its ends.
func (p plot) x(v float64) float64 { return p.left + (min(max(v, p.from), p.to)-p.from)*p.k }

// whisker draws how far a figure may be off.
func (p plot) whisker(look Look, low, high float64) {
	if p.x(high)-p.x(low) < 1 {
		return
	}
	p.line(look, layout.Point{X: p.x(low), Y: p.y}, layout.Point{X: p.x(high), Y: p.y})
	for _, v := range []float64{low, high} {
		if v >= p.from && v <= p.to {
			p.line(look, layout.Point{X: p.x(v), Y: p.y - 3}, layout.Point{X: p.x(v), Y: p.y + 3})
		}
	}
}

// dot draws a figure; one that is off the axis as an arrowhead at its end.
func (p plot) dot(look Look, v, r float64, told string) {
	switch {
	case v > p.to:
		p.head(look, layout.Point{X: p.x(v) + 3, Y: p.y}, 1, 0)
	case v < p.from:
		p.head(look, layout.Point{X: p.x(v) - 3, Y: p.y}, -1, 0)
	default:
		p.disc(look, layout.Point{X: p.x(v), Y: p.y}, r, told)
	}
}

// tick draws a limit.
func (p plot) tick(look Look, v, half float64) {
	if v >= p.from && v <= p.to {
		p.line(look, layout.Point{X: p.x(v), Y: p.y - half}, layout.Point{X: p.x(v), Y: p.y + half})
	}
}

// bar draws a figure from zero.
func (p plot) bar(look Look, v float64, told string) {
	p.rect(look, layout.Box{X: p.x(0), Y: p.y - 5, W: p.x(v) - p.x(0), H: 10}, told)
}

const (
	lineHigh  = 17.0
	perPanel  = 28 // lines of a chart that stay together on a page
	plotSpace = 14.0
)

// panels lays a chart out, so many lines to a panel.
func (c chart) panels(caption string) []Panel {
	return inPanels(caption, len(c.rows), func(i int) bool { return c.rows[i].head }, func(from, to int, width float64) Sheet {
		part := c
		part.rows = c.rows[from:to]
		return part.lay(width)
	})
}

// inPanels lays so many lines out in panels, none of which has a heading for its
// last line.
func inPanels(caption string, lines int, head func(i int) bool, lay func(from, to int, width float64) Sheet) (out []Panel) {
	for from := 0; from < lines; {
		to := min(from+perPanel, lines)
		for to > from+1 && head(to-1) {
			to--
		}
		first := from
		out = append(out, both(caption, func(width float64) Sheet { return lay(first, to, width) }))
		from, caption = to, ""
	}
	return out
}

func (c chart) lay(width float64) Sheet {
	s := Sheet{Width: width}
	p := plot{Sheet: &s, left: 4, axis: c.axis}
	right := width - 8
	stacked := width < wide
	if !stacked {
		p.left, right = 4+c.names*width+plotSpace, width-c.says*width-plotSpace
	}
	p.k = (right - p.left) / (c.to - c.from)
	y := 18.0
	if c.over != "" {
		y += 14
	}
	top := y
	type text struct {
		look Look
		end  Anchor
		x, y float64
		text string
		most float64
	}
	var texts []text
	var draws []func()
	var rails []float64 // where the axis is drawn, where lines have words between
	for _, l := range c.rows {
		look := l.look
		if l.head {
			y += 6
			look = "d-bold"
		}
		y += lineHigh
		name := text{look, Start, 2, y, l.name, c.names * width}
		if l.head || stacked {
			name.most = width - 4
		}
		if l.brief != "" && layout.Width(l.name, small) > name.most {
			name.text = l.brief
		}
		figure := text{l.look, End, width - 2, y, l.figure, c.says * width}
		if stacked {
			figure.most = width - 4
		}
		says := text{"d-gray", Start, right + plotSpace, y, l.says, c.says*width - layout.Width(l.figure, small) - 8}
		mid := y - 4
		if !stacked && l.says != "" && layout.Width(l.says, small) > says.most { // the figure under it
			y += 13
			figure.y, says.most = y, c.says*width
		}
		if stacked && !l.head {
			shared := layout.Width(name.text, small)+layout.Width(l.figure, small)+12 <= width
			if l.says != "" || !shared {
				y += 13
			}
			if says.x, says.y, says.most = 2, y, width-4; !shared {
				figure.y, says.most = y, width-12-layout.Width(l.figure, small)
			}
			y += 13
			mid = y - 2
			rails = append(rails, mid)
			y += 6
		}
		texts = append(texts, name, says, figure)
		if l.draw != nil {
			q := p
			q.y = mid
			draws = append(draws, func() { l.draw(q) })
		}
	}
	bottom := y + 4
	c.scale(p, top, bottom, rails)
	for _, d := range draws {
		d()
	}
	for _, t := range texts {
		if short := layout.Cut(t.text, small*bolder(t.look), t.most); short != "" {
			s.words(t.look, small, t.end, t.x, t.y, short)
		}
	}
	s.Height = bottom + 6
	return s
}

// scale draws the axis: its marks, their figures over them, and the one that is ruled.
func (c chart) scale(p plot, top, bottom float64, beside []float64) {
	for v := math.Ceil(c.from/c.step-1e-9) * c.step; v <= c.to*(1+1e-9); v += c.step {
		p.rail("d-rule", p.x(v), top, bottom, beside)
		end := Middle
		if p.x(v)+layout.Width(c.text(v), small)/2 > p.Width {
			end = End
		} else if p.x(v)-layout.Width(c.text(v), small)/2 < 0 {
			end = Start
		}
		p.words("d-gray", small, end, p.x(v), top-5, c.text(v))
	}
	if !math.IsNaN(c.ruled) {
		p.rail("d-heavy", p.x(c.ruled), top-2, bottom, beside)
		if c.over != "" {
			p.words("", small, Start, max(2, p.x(c.ruled)-layout.Width(c.over, small)/2), top-20, c.over)
		}
	}
}

// rail draws a line down a chart; where its lines have words between, only beside
// their figures.
func (s *Sheet) rail(look Look, x, top, bottom float64, beside []float64) {
	for _, y := range beside {
		s.line(look, at(x, y-8), at(x, y+7))
	}
	if len(beside) == 0 {
		s.line(look, at(x, top), at(x, bottom))
	}
}

// stepFor is a round step that cuts a length into no more than so many.
func stepFor(length float64, most int) float64 {
	for step := math.Pow(10, math.Floor(math.Log10(length/float64(most)))); ; step *= 10 {
		for _, k := range []float64{1, 2, 5} {
			if length/(step*k) <= float64(most) {
				return step * k
			}
		}
	}
}
