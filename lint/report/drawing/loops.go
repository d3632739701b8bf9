package drawing

import (
	"slices"
	"strings"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint/report/drawing/layout"
)

// strip is what runs through what, in order, from the top down.
type strip struct {
	title  string
	stops  []stop
	closed bool // it comes back to the first
}

// stop is a part on the way, or a hose between two.
type stop struct {
	hose  bool
	name  string
	about string // of a hose: its bore and length
	role  string // of a hose: supply, return, fill
}

func loops(s *subject) Drawing {
	d := Drawing{Title: "Loops"}
	strips := s.strips()
	const abreast = 3
	for i := 0; i < len(strips); i += abreast {
		some := strips[i:min(i+abreast, len(strips))]
		d.Panels = append(d.Panels, both("", func(width float64) Sheet { return layStrips(some, width) }))
	}
	if len(d.Panels) > 0 {
		d.Panels[0].Caption = "What passes what, in order from the top down: a box is a part, a line a hose or pipe. Not to scale."
	}
	for _, t := range strips {
		var names []string
		for _, p := range t.stops {
			names = append(names, p.name)
		}
		d.Text += t.title + ": " + strings.Join(names, ", ")
		if t.closed {
			d.Text += ", and back to the first"
		}
		d.Text += ". "
	}
	return d
}

// strips are the loops as the ledger writes them, then the ways of what hoses
// carry that no loop names, then charge air from part to part.
func (s *subject) strips() []strip {
	var out []strip
	used := map[string]bool{}
	for _, l := range s.Build.Loops() {
		if s.hides(l.Path(), "carries", "through", "closed") {
			continue
		}
		t := strip{title: fluid(l.Carries.String(), s.called(l.Path(), idOf(l.Path()))), closed: l.Closed.Holds()}
		for _, r := range l.Through {
			used[r.String()] = true
			t.stops = append(t.stops, s.stopAt(r))
		}
		if len(t.stops) > 0 {
			out = append(out, t)
		}
	}
	var fluids []string
	runs := map[string][]run{}
	for _, h := range s.Build.Hoses() {
		if used[h.Path()] || s.hides(h.Path(), "from", "to", "carries", "role") || !h.From.Known() || !h.To.Known() {
			continue
		}
		c := h.Carries.String()
		if runs[c] == nil {
			fluids = append(fluids, c)
		}
		runs[c] = append(runs[c], run{h.From, h.To, s.hoseStop(h)})
	}
	slices.SortStableFunc(fluids, func(a, b string) int { return strings.Compare(a, b) })
	for _, c := range fluids {
		out = append(out, s.trails(c, runs[c])...)
	}
	return append(out, s.trails("charge air", s.airRuns())...)
}

// run is one piece of a way: a hose, or what a part says it is fed by.
type run struct {
	from, to ledger.Ref
	by       stop
}

// airRuns are the ways of charge air, as parts say where theirs comes from.
func (s *subject) airRuns() []run {
	var out []run
	for p := range s.Build.Fitted() {
		if h, ok := p.Needs["charge-air"]; ok && h.From.Known() && !s.hides(p.Path(), "needs") {
			out = append(out, run{from: h.From, to: ledger.Ref{Word: q.Written(p.Path(), nil)}})
		}
	}
	return out
}

func fluid(carries, what string) string {
	if carries == "" {
		return spaced(what)
	}
	if what == "" {
		return spaced(carries)
	}
	return spaced(carries) + ", " + spaced(what)
}

func (s *subject) stopAt(r ledger.Ref) stop {
	if r.Kind() == "hose" {
		return s.hoseStop(s.Build.Hose(r))
	}
	return stop{name: s.nameOf(r)}
}

func (s *subject) hoseStop(h *ledger.Hose) stop {
	t := stop{hose: true, name: s.called(h.Path(), spaced(idOf(h.Path()))), role: h.Role.String()}
	var about []string
	if known(h.Bore) && !s.hides(h.Path(), "bore") {
		about = append(about, s.style.Plain(h.Bore)+" bore")
	}
	if known(h.Length) && !s.hides(h.Path(), "length") {
		about = append(about, s.style.Plain(h.Length)+" long")
	}
	t.about = strings.Join(about, ", ")
	return t
}

// trails follows runs from their starts until they end or come back, each run
// once.
func (s *subject) trails(title string, runs []run) []strip {
	out, done := []strip{}, make([]bool, len(runs))
	into := map[string]bool{}
	for _, r := range runs {
		into[r.to.String()] = true
	}
	follow := func(i int) {
		t := strip{title: fluid(title, runs[i].by.role), stops: []stop{s.stopAt(runs[i].from)}}
		first := runs[i].from.String()
		for i >= 0 {
			done[i] = true
			if runs[i].by.hose {
				t.stops = append(t.stops, runs[i].by)
			}
			here := runs[i].to
			if t.closed = here.String() == first; !t.closed {
				t.stops = append(t.stops, s.stopAt(here))
			}
			i = -1
			for j, r := range runs {
				if !done[j] && !t.closed && r.from.String() == here.String() {
					i = j
					break
				}
			}
		}
		out = append(out, t)
	}
	for _, starts := range []bool{true, false} {
		for i, r := range runs {
			if !done[i] && (!starts || !into[r.from.String()]) {
				follow(i)
			}
		}
	}
	return out
}

const (
	stopHigh  = 24.0 // with a name of one line
	stopLines = 3    // that a name may take
	hoseHigh  = 34.0
	bareHigh  = 18.0
	stripGap  = 16.0
)

// layStrips sets strips beside one another; on a phone one under another.
func layStrips(strips []strip, width float64) Sheet {
	s := Sheet{Width: width}
	if width < wide {
		y := 0.0
		for _, t := range strips {
			y = t.lay(&s, 0, y, width)
		}
		s.Height = y
		return s
	}
	each := (width - 2*stripGap) / 3
	for i, t := range strips {
		s.Height = max(s.Height, t.lay(&s, float64(i)*(each+stripGap), 0, each))
	}
	return s
}

// lay draws a strip, and tells where it ends.
func (t strip) lay(s *Sheet, x, y, width float64) float64 {
	const left = 22.0 // room for the way back
	s.words("d-bold", small, Start, x+left, y+14, layout.Cut(t.title, small*bolder("d-bold"), width-left))
	y += 22
	first, middle, high := 0.0, x+left+26, stopHigh
	for i, p := range t.stops {
		if p.hose {
			s.arrowDown(middle, y, y+hoseHigh, i < len(t.stops)-1)
			s.words("", small, Start, middle+10, y+hoseHigh/2-2, layout.Cut(p.name, small, width-left-40))
			s.words("d-gray", small, Start, middle+10, y+hoseHigh/2+10.5, layout.Cut(p.about, small, width-left-40))
			y += hoseHigh
			continue
		}
		if i > 0 && !t.stops[i-1].hose {
			s.arrowDown(middle, y, y+bareHigh, true)
			y += bareHigh
		}
		lines := layout.Lines(p.name, small, width-left-18, stopLines)
		high = stopHigh + textLine*float64(max(0, len(lines)-1))
		s.rect("d-part", layout.Box{X: x + left, Y: y, W: width - left - 2, H: high}, p.name)
		s.lines(x+left+8, y+16, lines)
		if first == 0 {
			first = y + high/2
		}
		y += high
	}
	if t.closed && first > 0 {
		from := at(x+left, y-high/2)
		if t.stops[len(t.stops)-1].hose {
			from = at(middle, y)
			y += 8
			s.line("", from, at(middle, y), at(x+8, y))
			from = at(x+8, y)
		} else {
			s.line("", from, at(x+8, from.Y))
			from = at(x+8, from.Y)
		}
		s.line("", from, at(x+8, first), at(x+left, first))
		s.head("d-ink", at(x+left, first), 1, 0)
	}
	return y + 18
}

// arrowDown is a hose from one stop to the next.
func (s *Sheet) arrowDown(x, from, to float64, headed bool) {
	s.line("", at(x, from), at(x, to))
	if headed {
		s.head("d-ink", at(x, to), 0, 1)
	}
}
