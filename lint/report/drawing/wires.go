package drawing

import (
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/lint/report/drawing/layout"
	"fishplate/lint/report/shown"
)

// tree is the wiring laid out in lines.
type tree struct {
	*subject
	nodes []node
	lines []layout.Branch
}

const (
	indent    = 16.0
	deepest   = 7    // levels that are still set in
	wireLong  = 74.0 // of a line's own wire
	treeLeft  = 10.0
	groupLine = 7.0 // more above a source
	leadLines = 3   // that what a wire leads to may take
)

// lay lays some of the lines out. Figures stand in columns, and on a phone under
// the names.
func (t tree) lay(from, to int, width float64) Sheet {
	s := Sheet{Width: width}
	stacked := width < wide
	columns := []struct {
		head string
		at   float64
	}{{"wire", 0.58}, {"length", 0.82}, {"load", 0.9}, {"drop", 0.995}}
	long := wireLong
	y := 6.0
	if stacked {
		long = 56
	} else {
		y = 18
		for i, c := range columns {
			end := End
			if i == 0 {
				end = Start
			}
			s.words("d-gray", small, end, c.at*width, 12, c.head)
		}
	}
	at := map[int]float64{} // by line, its height
	for i := from; i < to; i++ {
		l, n := t.lines[i], t.nodes[t.lines[i].Node]
		if n.circuit == nil {
			y += lineHigh + groupLine
			s.words("d-bold", plain, Start, 2, y, layout.Cut(n.source, plain*bolder("d-bold"), width-4))
			at[i] = y - 4
			continue
		}
		y += lineHigh
		at[i] = y - 4
		x := treeLeft + indent*float64(min(l.Depth, deepest)-1)
		c := n.circuit
		base, tracer := wireLooks(c.Color.String())
		if l.Depth == 0 {
			x = treeLeft
		} else {
			top, ok := at[l.Parent]
			if ok {
				top += 7
			} else {
				top = at[from] - lineHigh
			}
			s.line("d-thin", layout.Point{X: x, Y: top}, layout.Point{X: x, Y: at[i]})
		}
		s.wire(base, tracer, x, x+long, at[i])
		t.switchgear(&s, c, x, at[i])
		text := x + long + 6
		f := t.figures(c)
		if stacked {
			y += s.lines(text, y, layout.Lines(t.leads(c), small, width-2-text, leadLines)) + textLine
			s.words("d-gray", small, Start, text, y, layout.Cut(strings.Join(slices.DeleteFunc(f, func(s string) bool { return s == "" }), ", "), small, width-2-text))
			y += 3
			continue
		}
		more := s.lines(text, y, layout.Lines(t.leads(c), small, columns[0].at*width-8-text, leadLines))
		for j, figure := range f {
			end := End
			if j == 0 {
				end = Start
				figure = layout.Cut(figure, small, (columns[1].at-columns[0].at)*width-58)
			}
			s.words("d-gray", small, end, columns[j].at*width, y, figure)
		}
		y += more
	}
	s.Height = y + 10
	return s
}

// textLine is from one line of a label to the next.
const textLine = 13.0

// lines writes the lines of a label, and tells how far the last stands below the first.
func (s *Sheet) lines(x, y float64, lines []string) float64 {
	for i, line := range lines {
		s.words("", small, Start, x, y+textLine*float64(i), line)
	}
	return textLine * float64(max(0, len(lines)-1))
}

// wire draws a wire in its color, within an outline that shows white on white. One
// whose color is not known is a thin line.
func (s *Sheet) wire(base, tracer Look, from, to, y float64) {
	a, b := at(from, y), at(to, y)
	if base == "" {
		s.line("", a, b)
		return
	}
	s.line("d-case", a, b)
	s.line("d-w "+base, a, b)
	if tracer != "" {
		s.line("d-w d-trace "+tracer, a, b)
	}
}

// switchgear draws the fuse of a circuit and the relay that works it, on its wire.
func (t tree) switchgear(s *Sheet, c *ledger.Circuit, x, y float64) {
	rating := c.Fuse
	if !known(rating) {
		rating = c.Breaker
	}
	if known(rating) {
		text := t.short(rating)
		w := layout.Width(text, 9) + 5
		b := layout.Box{X: x + 5, Y: y - 6.5, W: w, H: 13}
		s.rect("d-box", b, "fused at "+text)
		s.words("", 9, Middle, b.X+w/2, y+3.2, text)
	}
	if r := relayOf(c); r != "" {
		b := layout.Box{X: x + 55, Y: y - 6, W: 12, H: 12}
		if s.Width < wide {
			b.X = x + 42
		}
		s.rect("d-box", b, spaced(strings.Replace(r, ".", " ", 1)))
		s.line("", at(b.X, b.Y+12), at(b.X+12, b.Y))
	}
}

// relayOf is the relay that works a circuit, or that it comes from.
func relayOf(c *ledger.Circuit) string {
	switch {
	case c.Relay.Known():
		return c.Relay.String()
	case c.From.Kind() == "relay":
		return c.From.String()
	}
	return ""
}

// leads says what a circuit is called and what it leads to.
func (t tree) leads(c *ledger.Circuit) string {
	var to []string
	for _, r := range c.To {
		if r.Kind() != "circuit" {
			name, _, _ := strings.Cut(t.nameOf(r), ",")
			to = append(to, name)
		}
	}
	text := spaced(idOf(c.Path()))
	if c.Duty.Is("ground").Holds() && c.From.Known() {
		from, _, _ := strings.Cut(t.nameOf(c.From), ",")
		text += " from " + from
	}
	if len(to) > 0 {
		text += " to " + strings.Join(to, ", ")
	}
	return text
}

// figures are a wire's size and color, its length, load and drop, as far as they
// are known.
func (t tree) figures(c *ledger.Circuit) []string {
	out := make([]string, 4)
	out[0] = wireWords(c)
	if known(c.Length) {
		out[1] = t.short(c.Length)
	}
	w := t.Wire(c)
	if known(w.Current) && !c.Duty.Is("ground").Holds() {
		out[2] = t.short(w.Current)
	}
	if v := t.Build.Supply().Voltage; known(w.Drop, v) && v.Value() > 0 && !c.Duty.Is("ground", "signal").Holds() {
		out[3] = t.short(w.Drop.Div(v).InPercent())
	}
	return out
}

// wireWords are a wire's size and color.
func wireWords(c *ledger.Circuit) string {
	return shown.Clean(strings.TrimSpace(c.Gauge.String() + " " + c.Color.String()))
}
