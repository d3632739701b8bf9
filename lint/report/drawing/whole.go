package drawing

import "fishplate/lint/report/drawing/layout"

const (
	margin = 16.0 // about a drawing that is a file of its own
	row    = 16.0 // from one line of a table to the next
)

// whole is the drawing as one sheet: title, panels, tables, what is beside.
func (d Drawing) whole() Sheet {
	w := stack{Sheet: Sheet{Width: wide + 2*margin}, y: margin}
	w.paragraph("d-bold", 14, d.Title)
	for _, p := range d.Panels {
		w.y += 6
		w.paragraph("d-gray", plain, p.Caption)
		w.put(p.Wide)
	}
	for _, t := range d.Tables {
		w.y += 10
		w.paragraph("d-bold", plain, t.Caption)
		if t.Key {
			w.key(t)
		} else {
			w.table(t)
		}
	}
	if len(d.Beside) > 0 {
		w.y += 10
		w.paragraph("d-gray", plain, "Not drawn")
		for _, b := range d.Beside {
			w.paragraph("d-gray", small, b)
		}
	}
	w.Height = w.y + margin
	return w.Sheet
}

// stack is a sheet that is filled from the top.
type stack struct {
	Sheet
	y float64
}

// put sets another sheet under what is there.
func (w *stack) put(s Sheet) {
	for _, m := range s.Marks {
		w.Marks = append(w.Marks, m.moved(margin, w.y))
	}
	w.y += s.Height
}

// moved is a mark elsewhere on a sheet.
func (m Mark) moved(x, y float64) Mark {
	points := make([]layout.Point, len(m.Points))
	for i, p := range m.Points {
		points[i] = layout.Point{X: p.X + x, Y: p.Y + y}
	}
	m.Points, m.Box.X, m.Box.Y = points, m.Box.X+x, m.Box.Y+y
	return m
}

func (w *stack) paragraph(look Look, size float64, text string) {
	for _, line := range layout.Wrap(text, size*bolder(look), wide) {
		w.y += size * 1.3
		w.words(look, size, Start, margin, w.y-0.3*size, line)
	}
}

// bolder is how much wider bold letters are, at most.
func bolder(look Look) float64 {
	if look == "d-bold" {
		return 1.12
	}
	return 1
}

// key sets a key in three columns, downward.
func (w *stack) key(t Table) {
	const columns, gap = 3, 18.0
	width := (wide - (columns-1)*gap) / columns
	type entry struct {
		number, figure string
		lines          []string
	}
	var all []entry
	total := 0
	for _, r := range t.Rows {
		e := entry{number: r[0]}
		if len(r) > 2 {
			e.figure = r[2]
		}
		e.lines = layout.Wrap(r[1], small, width-34-layout.Width(e.figure, small))
		total += len(e.lines)
		all = append(all, e)
	}
	top, most, x, y := w.y, (total+columns-1)/columns, margin, w.y
	used, lowest := 0, top
	for _, e := range all {
		if used >= most {
			x, y, used = x+width+gap, top, 0
		}
		used += len(e.lines)
		for i, line := range e.lines {
			y += row
			if i == 0 {
				w.words("d-gray", small, End, x+22, y-4, e.number)
				w.words("", small, End, x+width, y-4, e.figure)
			}
			w.words("", small, Start, x+28, y-4, line)
		}
		lowest = max(lowest, y)
	}
	w.y = lowest
}

// table sets a table over the whole width: each column as wide as what it holds
// wants, and those that want most give way.
func (w *stack) table(t Table) {
	const gap = 10.0
	widths := columnWidths(t, wide-gap*float64(len(t.Head)-1))
	set := func(look Look, cells []string) {
		top, lowest := w.y, w.y+row
		x := margin
		for i, c := range cells {
			for j, line := range layout.Wrap(c, small, widths[i]) {
				y := top + row*float64(j+1)
				lowest = max(lowest, y)
				if t.Right(i) {
					w.words(look, small, End, x+widths[i], y-4, line)
				} else {
					w.words(look, small, Start, x, y-4, line)
				}
			}
			x += widths[i] + gap
		}
		w.y = lowest
	}
	set("d-gray", t.Head)
	w.line("", layout.Point{X: margin, Y: w.y}, layout.Point{X: margin + wide, Y: w.y})
	for _, r := range t.Rows {
		set("", r)
		w.line("d-rule", layout.Point{X: margin, Y: w.y}, layout.Point{X: margin + wide, Y: w.y})
	}
}

// columnWidths shares a width out: a column that wants no more than an even share
// of what is left gets what it wants.
func columnWidths(t Table, total float64) []float64 {
	wants := make([]float64, len(t.Head))
	for _, r := range append([][]string{t.Head}, t.Rows...) {
		for i, c := range r {
			wants[i] = max(wants[i], layout.Width(c, small)+2)
		}
	}
	out := make([]float64, len(wants))
	for left := len(wants); left > 0; {
		share, settled := total/float64(left), false
		for i, w := range wants {
			if out[i] == 0 && w <= share {
				out[i], total, left, settled = w, total-w, left-1, true
			}
		}
		if !settled {
			for i := range out {
				if out[i] == 0 {
					out[i] = share
				}
			}
			break
		}
	}
	return out
}
