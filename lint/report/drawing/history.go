package drawing

import (
	"fmt"
	"math"
	"slices"

	q "fishplate/ledger/quantity"
	"fishplate/lint/report/drawing/layout"
	"fishplate/lint/report/shown"
)

// Moment is a figure at one commit: what it was and may have been at least and at
// most, in SI. What was not known then is NaN.
type Moment struct {
	When             string // a date, or what else names the commit
	Value, Low, High float64
	Event            string // a move, a weighing, a stage; "" for none
}

// History draws a figure with its band over commits, the oldest first, and a limit
// where it is not NaN. A figure holds from its commit to the next. Commits stand
// evenly: how long they lie apart is not shown.
func History(id, title string, unit *q.Unit, moments []Moment, limit float64) Drawing {
	moments = slices.Clone(moments)
	for i := range moments {
		moments[i].When, moments[i].Event = shown.Clean(moments[i].When), shown.Clean(moments[i].Event)
	}
	d := Drawing{Kind: "history", ID: "drawing-" + id, Title: title}
	h := history{unit: unit, moments: moments, limit: limit, area: nothing}
	first, last := -1, -1
	for i, m := range moments {
		if math.IsNaN(m.Value) || math.IsInf(m.Value, 0) {
			continue
		}
		if first < 0 {
			first = i
		}
		last = i
		h.area.take(float64(i), m.Value)
		for _, v := range []float64{m.Low, m.High} {
			if !math.IsNaN(v) && !math.IsInf(v, 0) {
				h.area.take(float64(i), v)
			}
		}
	}
	if first < 0 {
		return d
	}
	if !math.IsNaN(limit) {
		h.area.take(float64(first), limit)
	}
	d.Text = fmt.Sprintf("%s over %s: %s at %s, %s at %s.", title, counted(len(moments), "commit"), h.says(moments[first].Value), moments[first].When, h.says(moments[last].Value), moments[last].When)
	if !math.IsNaN(limit) {
		d.Text += " The limit is " + h.says(limit) + "."
	}
	d.Panels = []Panel{both("", h.lay)}
	return d
}

type history struct {
	unit    *q.Unit
	moments []Moment
	limit   float64
	area    span
}

func (h history) says(v float64) string { return h.unit.Join(h.unit.Number(v, 4)) }

func (h history) lay(width float64) Sheet {
	s := Sheet{Width: width}
	size := (h.area.high - h.area.low) / h.unit.Factor
	if size <= 0 {
		size = max(math.Abs(h.area.high/h.unit.Factor), 1) / 10
	}
	step := stepFor(size*1.1, 5)
	from := math.Floor((h.area.low-h.unit.Offset)/h.unit.Factor/step) * step
	to := math.Ceil((h.area.high-h.unit.Offset)/h.unit.Factor/step) * step
	if to <= from {
		to = from + step
	}
	si := func(v float64) float64 { return v*h.unit.Factor + h.unit.Offset }
	label := 0.0
	for v := from; v <= to+step/2; v += step {
		label = max(label, layout.Width(h.unit.Number(si(v), 6), small))
	}
	left, right, top, high := label+10, width-14, 34.0, 190.0
	events := 0
	for _, m := range h.moments {
		if m.Event != "" {
			events++
		}
	}
	x := func(i int) float64 { return left + (right-left)*float64(i)/float64(len(h.moments)) }
	y := func(v float64) float64 { return top + high*(1-((v-h.unit.Offset)/h.unit.Factor-from)/(to-from)) }
	s.words("d-gray", small, Start, 2, 14, "in "+spelt(h.unit))
	for v := from; v <= to+step/2; v += step {
		s.line("d-rule", at(left, y(si(v))), at(right, y(si(v))))
		s.words("d-gray", small, End, left-6, y(si(v))+4, h.unit.Number(si(v), 6))
	}
	var taken []layout.Box
	h.stretches(func(part []int) {
		var band, line []layout.Point
		for _, i := range part {
			m := h.moments[i]
			line = append(line, at(x(i), y(m.Value)), at(x(i+1), y(m.Value)))
			most := y(orElse(m.High, m.Value))
			band = append(band, at(x(i), most), at(x(i+1), most))
		}
		for _, i := range slices.Backward(part) {
			m := h.moments[i]
			least := y(orElse(m.Low, m.Value))
			band = append(band, at(x(i+1), least), at(x(i), least))
		}
		s.area("d-tint", band...)
		s.line("d-now", line...)
		for k, i := range part {
			if len(h.moments) <= 60 || h.moments[i].Event != "" {
				s.disc("d-nowfill", line[2*k], 2, h.moments[i].When+": "+h.says(h.moments[i].Value))
			}
			taken = append(taken, layout.Box{X: line[2*k].X - 2, Y: line[2*k].Y - 2, W: 4, H: 4})
		}
	})
	if !math.IsNaN(h.limit) {
		s.line("d-heavy", at(left, y(h.limit)), at(right, y(h.limit)))
		taken = append(taken, s.words("d-halo", small, End, right, y(h.limit)-4, "limit "+h.says(h.limit)))
	}
	bottom := top + high
	s.line("", at(left, bottom), at(right, bottom))
	s.words("d-gray", small, Start, left, bottom+16, layout.Cut(h.moments[0].When, small, (right-left)/2-8))
	if n := len(h.moments); n > 1 {
		s.words("d-gray", small, End, right, bottom+16, layout.Cut(h.moments[n-1].When, small, (right-left)/2-8))
	}
	bottom += 24
	if events > 0 {
		bottom = h.label(&s, x, bottom, width)
	}
	s.Height = bottom + 8
	return s
}

// label numbers the events under the axis, in the order of time, and lists them.
func (h history) label(s *Sheet, x func(int) float64, y, width float64) float64 {
	var labels []layout.Label
	var texts []string
	for i, m := range h.moments {
		if m.Event == "" {
			continue
		}
		n := fmt.Sprint(len(texts) + 1)
		texts = append(texts, n+"  "+m.When+"  "+m.Event)
		l := labelOf(at(x(i), y+8), 10, small, n)
		l.In = true
		labels = append(labels, l)
		s.line("d-ghost", at(x(i), 34), at(x(i), y))
	}
	placed, area := layout.Place(labels, layout.Box{X: 2, Y: y, W: width - 4, H: 16}, layout.Avoid{})
	for i, p := range placed {
		if p.Led() {
			s.line("d-thin", p.From, p.To)
		}
		s.inBox("", small, p.Box, fmt.Sprint(i+1))
	}
	y = area.Y + area.H
	for _, t := range texts {
		for _, line := range layout.Wrap(t, small, width-4) {
			y += 14
			s.words("d-gray", small, Start, 2, y, line)
		}
	}
	return y
}

// stretches are the runs of moments at which the figure is known.
func (h history) stretches(each func([]int)) {
	var part []int
	for i, m := range h.moments {
		if !math.IsNaN(m.Value) && !math.IsInf(m.Value, 0) {
			part = append(part, i)
			continue
		}
		if len(part) > 0 {
			each(part)
		}
		part = nil
	}
	if len(part) > 0 {
		each(part)
	}
}

func orElse(v, other float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return other
	}
	return v
}
