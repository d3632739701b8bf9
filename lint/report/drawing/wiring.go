package drawing

import (
	"fmt"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/lint/report/drawing/layout"
)

// node is a line of the wiring's tree: a source, or a circuit.
type node struct {
	source  string
	circuit *ledger.Circuit
	parent  int
}

func wiring(s *subject) Drawing {
	d := Drawing{Title: "Wiring"}
	nodes := s.nodes()
	if len(nodes) == 0 {
		return d
	}
	parents := make([]int, len(nodes))
	for i, n := range nodes {
		parents[i] = n.parent
	}
	t := tree{s, nodes, layout.Tree(parents)}
	caption := "From the source to the load. A box on a wire is its fuse or breaker, a box with a stroke the relay that works it. Drop is what is lost from the source to the wire's end and back, as a share of the system's voltage."
	for from := 0; from < len(t.lines); from += perPanel {
		d.Panels = append(d.Panels, both(caption, func(width float64) Sheet { return t.lay(from, min(from+perPanel, len(t.lines)), width) }))
		caption = ""
	}
	d.Tables = []Table{s.fuseTable()}
	if len(d.Tables[0].Rows) == 0 {
		d.Tables = nil
	}
	sources := 0
	for _, n := range nodes {
		if n.circuit == nil {
			sources++
		}
	}
	d.Text = fmt.Sprintf("A tree of %s from %s, each wire with its size, color, length, fuse, load and voltage drop.", counted(len(nodes)-sources, "circuit"), counted(sources, "source"))
	return d
}

// nodes are the sources and circuits, each circuit under what feeds it: another
// circuit, by its name or through a relay, else the part that it comes from.
func (s *subject) nodes() []node {
	circuits := s.Build.Circuits()
	fed := map[string]string{} // by circuit or relay: the circuit that leads to it
	for _, c := range circuits {
		for _, to := range c.To {
			if _, ok := fed[to.String()]; !ok && (to.Kind() == "circuit" || to.Kind() == "relay") {
				fed[to.String()] = c.Path()
			}
		}
	}
	var sources []string
	above := func(c *ledger.Circuit) string {
		switch {
		case c.Duty.Is("ground").Holds():
			return returns
		case c.From.Kind() == "circuit":
			return c.From.String()
		case c.From.Kind() == "relay" && fed[c.From.String()] != "":
			return fed[c.From.String()]
		case c.From.Known():
			return s.nameOf(c.From)
		case fed[c.Path()] != "":
			return fed[c.Path()]
		case c.Relay.Known() && fed[c.Relay.String()] != "":
			return fed[c.Relay.String()]
		}
		return "Source not in the ledger"
	}
	isCircuit := map[string]bool{}
	for _, c := range circuits {
		isCircuit[c.Path()] = true
	}
	feeds := map[string]int{}
	for _, c := range circuits {
		if a := above(c); !isCircuit[a] {
			if feeds[a] == 0 {
				sources = append(sources, a)
			}
			feeds[a] += weightOf(c)
		}
	}
	slices.SortStableFunc(sources, func(a, b string) int { return feeds[b] - feeds[a] })
	var out []node
	index := map[string]int{}
	for _, name := range sources {
		index[name] = len(out)
		out = append(out, node{source: name, parent: -1})
	}
	first := len(out)
	for _, c := range circuits {
		index[c.Path()] = len(out)
		out = append(out, node{circuit: c})
	}
	for i := first; i < len(out); i++ {
		out[i].parent = index[above(out[i].circuit)]
	}
	return out
}

// returns is what grounds hang on.
const returns = "Back to the battery"

// weightOf puts the sources of power before those of signals, and what comes back
// last.
func weightOf(c *ledger.Circuit) int {
	switch {
	case c.Duty.Is("ground").Holds():
		return -1000
	case c.Duty.Is("signal").Holds():
		return 1
	}
	return 100
}

// nameOf is what people call what a reference names.
func (s *subject) nameOf(r ledger.Ref) string {
	if e, ok := s.Build.Entry(r.String()); ok {
		if name := s.Build.Called(e); name != "" {
			return name
		}
		if r.Kind() == "relay" {
			return "relay " + spaced(idOf(r.String()))
		}
		return spaced(idOf(r.String()))
	}
	return r.String()
}

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
				top += 3
				if t.nodes[t.lines[l.Parent].Node].circuit == nil {
					top += 5
				}
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
			s.words("", small, Start, text, y, layout.Cut(t.leads(c), small, width-2-text))
			y += 13
			s.words("d-gray", small, Start, text, y, layout.Cut(strings.Join(slices.DeleteFunc(f, func(s string) bool { return s == "" }), ", "), small, width-2-text))
			y += 3
			continue
		}
		s.words("", small, Start, text, y, layout.Cut(t.leads(c), small, columns[0].at*width-8-text))
		for j, figure := range f {
			end := End
			if j == 0 {
				end = Start
				figure = layout.Cut(figure, small, (columns[1].at-columns[0].at)*width-58)
			}
			s.words("d-gray", small, end, columns[j].at*width, y, figure)
		}
	}
	s.Height = y + 10
	return s
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
	out[0] = strings.TrimSpace(c.Gauge.String() + " " + c.Color.String())
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

// fuseTable lists the fuses and breakers, the largest first.
func (s *subject) fuseTable() Table {
	t := Table{Caption: "Fuses and breakers", Head: []string{"rating", "circuit", "wire", "protects"}, Numbers: []bool{true}}
	type fused struct {
		rating float64
		cells  []string
	}
	var all []fused
	for _, c := range s.Build.Circuits() {
		rating, what := c.Fuse, ""
		if !known(rating) {
			rating, what = c.Breaker, " breaker"
		}
		if !known(rating) {
			continue
		}
		var to []string
		for _, r := range c.To {
			to = append(to, s.nameOf(r))
		}
		all = append(all, fused{rating.Value(), []string{s.short(rating) + what, spaced(idOf(c.Path())), strings.TrimSpace(c.Gauge.String() + " " + c.Color.String()), strings.Join(to, ", ")}})
	}
	slices.SortStableFunc(all, func(a, b fused) int {
		switch {
		case a.rating > b.rating:
			return -1
		case a.rating < b.rating:
			return 1
		}
		return 0
	})
	for _, f := range all {
		t.Rows = append(t.Rows, f.cells)
	}
	return t
}
