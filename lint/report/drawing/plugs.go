package drawing

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"fishplate/ledger"
	"fishplate/lint/report/drawing/layout"
	"fishplate/lint/report/shown"
)

// mostWays bounds the ways of a plug that are drawn.
const mostWays = 200

func plugs(s *subject) Drawing {
	d := Drawing{Title: "Plugs"}
	t := Table{Caption: "Pins", Head: []string{"plug", "pin", "now", "circuit", "color", "size", "to"}, Numbers: []bool{false, true}}
	caption := "Each plug by its ways, in the order of their numbers: which row of the housing a way lies in is not in the ledger. A wire's disc has its color and, in the table, its name; a cross is an empty way, a dashed ring one that is not traced."
	for _, p := range s.Build.Plugs() {
		f := faceOf(p)
		if len(f.ways) == 0 {
			d.Beside = append(d.Beside, "plug "+spaced(idOf(p.Path()))+": its ways are not in the ledger")
			continue
		}
		d.Panels = append(d.Panels, both(caption, func(width float64) Sheet { return s.face(p, f, width) }))
		caption = ""
		if f.more {
			d.Beside = append(d.Beside, fmt.Sprintf("plug %s: its ways past %d", spaced(idOf(p.Path())), mostWays))
		}
		for _, name := range f.ways {
			if pin, ok := p.Pins[name]; ok {
				t.Rows = append(t.Rows, s.pinRow(p, name, pin))
			}
		}
	}
	if len(d.Panels) == 0 {
		return d
	}
	if len(t.Rows) > 0 {
		d.Tables = []Table{t}
	}
	d.Text = fmt.Sprintf("The faces of %s with %s written down; the table says of each where its wire goes.", counted(len(d.Panels), "plug"), counted(len(t.Rows), "pin"))
	return d
}

// face is what is known of a plug's ways, by their names in order.
type face struct {
	ways   []string
	unused map[string]bool
	more   bool // than are drawn
}

func faceOf(p *ledger.Plug) face {
	f := face{unused: map[string]bool{}}
	has := map[string]bool{}
	add := func(name string) {
		switch {
		case has[name]:
		case len(f.ways) == mostWays:
			f.more = true
		default:
			has[name] = true
			f.ways = append(f.ways, name)
		}
	}
	for _, name := range slices.SortedFunc(maps.Keys(p.Pins), ledger.Natural) {
		add(name)
	}
	rest := false
	for _, w := range p.Unused {
		if w.Is("all others").Holds() {
			rest = true
			continue
		}
		f.unused[w.String()] = true
		add(w.String())
	}
	if known(p.Ways) {
		for i := 1; i <= int(min(p.Ways.Value(), mostWays)) && len(f.ways) < int(p.Ways.Value()); i++ {
			name := strconv.Itoa(i)
			if !has[name] {
				f.unused[name] = rest
			}
			add(name)
		}
		f.more = f.more || p.Ways.Value() > mostWays
	}
	slices.SortFunc(f.ways, ledger.Natural)
	return f
}

// face draws a plug: a housing with a way for each of its pins.
func (s *subject) face(p *ledger.Plug, f face, width float64) Sheet {
	sheet := Sheet{Width: width}
	title := "plug " + spaced(idOf(p.Path()))
	about := s.plugAbout(p)
	sheet.words("d-bold", small, Start, 2, 14, layout.Cut(title, small*bolder("d-bold"), width-4))
	y := 14.0
	for _, line := range layout.Wrap(about, small, width-4) {
		y += 14
		sheet.words("d-gray", small, Start, 2, y, line)
	}
	const pitch = 34.0
	most := int((width - 24) / pitch)
	rows := (len(f.ways) + most - 1) / most
	if len(f.ways) > 6 {
		rows = max(rows, 2)
	}
	columns := (len(f.ways) + rows - 1) / rows
	y += 10
	housing := layout.Box{X: 4, Y: y, W: float64(columns)*pitch + 12, H: float64(rows)*pitch + 8}
	sheet.rect("d-heavy", housing, "")
	for i, name := range f.ways {
		c := at(housing.X+6+pitch*(float64(i%columns)+0.5), housing.Y+2+pitch*(float64(i/columns)+0.4))
		s.way(&sheet, c, p, name, f.unused[name])
		sheet.words("d-gray", 9, Middle, c.X, c.Y+19, layout.Cut(shown.Clean(name), 9, pitch-2))
	}
	sheet.Height = housing.Y + housing.H + 8
	return sheet
}

// plugAbout is what else is said of a plug.
func (s *subject) plugAbout(p *ledger.Plug) string {
	var out []string
	if known(p.Ways) {
		out = append(out, counted(int(math.Round(p.Ways.Value())), "way"))
	}
	if p.MountedOn.Known() {
		out = append(out, "on "+s.nameOf(p.MountedOn))
	}
	if p.Mates.Known() {
		out = append(out, "mates plug "+spaced(idOf(p.Mates.String())))
	}
	return strings.Join(out, ", ")
}

// way draws one way: the wire that is in it, or that there is none.
func (s *subject) way(sheet *Sheet, c layout.Point, p *ledger.Plug, name string, unused bool) {
	pin, written := p.Pins[name]
	const r = 9
	empty := unused || written && pin.Now.Is("empty", "cut", "capped").Holds()
	switch {
	case empty:
		sheet.disc("d-thin", c, r, name+": "+emptyWord(pin))
		sheet.line("d-thin", at(c.X-4, c.Y-4), at(c.X+4, c.Y+4))
		sheet.line("d-thin", at(c.X-4, c.Y+4), at(c.X+4, c.Y-4))
	case !written:
		sheet.disc("d-ghost", c, r, name+": not traced")
	default:
		base, tracer := wireLooks(s.pinColor(pin))
		sheet.disc("", c, r, strings.Join(s.pinRow(p, name, pin)[1:], " "))
		if base != "" {
			sheet.disc("d-pin "+base, c, r-3, "")
			if tracer != "" {
				sheet.line("d-w "+tracer, at(c.X-(r-4), c.Y), at(c.X+(r-4), c.Y))
			}
		}
	}
}

func emptyWord(p ledger.Pin) string {
	if p.Now.Known() {
		return p.Now.String()
	}
	return "never wired"
}

// pinColor is the color of a pin's wire: its own, the one it had where it was
// kept, else its circuit's.
func (s *subject) pinColor(p ledger.Pin) string {
	switch {
	case p.Color.Known():
		return p.Color.String()
	case p.Now.Is("kept").Holds() && p.ColorWas.Known():
		return p.ColorWas.String()
	case p.Circuit.Known():
		return s.Build.Circuit(p.Circuit).Color.String()
	}
	return ""
}

func (s *subject) pinRow(p *ledger.Plug, name string, pin ledger.Pin) []string {
	size := pin.Gauge.String()
	if size == "" && pin.Circuit.Known() {
		size = s.Build.Circuit(pin.Circuit).Gauge.String()
	}
	color := s.pinColor(pin)
	if color == "" && pin.ColorWas.Known() {
		color = "was " + pin.ColorWas.String()
	}
	to := ""
	if pin.To.Known() {
		to = s.nameOf(pin.To)
		if plug, n := pin.To.Pin(); n != "" {
			to = "plug " + spaced(idOf(plug.String())) + ", pin " + shown.Clean(n)
		}
	}
	return []string{spaced(idOf(p.Path())), shown.Clean(name), pin.Now.String(), spaced(idOf(pin.Circuit.String())), shown.Clean(color), shown.Clean(size), to}
}
