package report

import (
	"io"
	"math"
	"slices"
	"strings"

	"fishplate/lint/history"
)

// HistoryText writes a history for a person: what changed a verdict, the newest
// commit first; a figure drawn over its commits; or since when what fails does.
func HistoryText(to io.Writer, opt Options) *Writer {
	t := newText(to, opt)
	return &Writer{History: t.history, Close: func(*Totals) error { return t.w.Flush() }}
}

func (t *text) history(h *history.Told) error {
	t.wrap("", "  ", "", historyHead(h))
	switch h.Asked {
	case history.Verdicts:
		t.events(h)
	case history.Figures:
		for _, l := range h.Lines {
			t.figureLine(l)
		}
	case history.Since:
		t.failing(h)
	}
	return t.w.Flush()
}

func (t *text) events(h *history.Told) {
	if len(h.Events) == 0 {
		t.line("\nNo commit changed a verdict.")
	}
	for _, e := range slices.Backward(h.Events) {
		t.line("")
		t.put(t.paint(bold, commitLine(e.Step)), hang)
		if say := eventWords(e); say != "" {
			t.put("  "+Clean(say), hang)
		}
		for _, c := range e.Changes {
			color := green
			if c.Worse {
				color = red
			}
			advice := ""
			if c.Advice || c.Lapsed() {
				color = yellow
			}
			if c.Advice {
				advice = " (advice)"
			}
			t.put("  "+t.paint(color, fit(changeWord(c), len(hang)-2))+c.Rule+" on "+Clean(c.Subject())+advice+": "+c.Before+" -> "+c.After+", "+didIt(c), hang)
		}
	}
}

func (t *text) failing(h *history.Told) {
	if len(h.Failing) == 0 {
		say := "Nothing that counts fails at the last commit."
		if h.Rule != nil {
			say = h.Rule.Name + " fails nowhere at the last commit."
		}
		t.line("\n%s", say)
	}
	for _, f := range h.Failing {
		t.line("")
		t.put(t.paint(red, fit("fail", len(hang)))+f.Rule+" on "+Clean(f.Subject()), hang)
		t.put(hang+Clean(f.Say), hang)
		t.put(hang+"since  "+commitLine(f.Since), hang+"       ")
		if f.Change == nil {
			t.put(hang+"the first commit: it failed from the start", hang)
		} else {
			t.put(hang+"before: "+Clean(f.Change.Before)+"; "+didIt(f.Change), hang)
		}
	}
}

// figureLine draws a check's figure, and lists its commits, the newest first.
func (t *text) figureLine(l *history.Line) {
	t.line("")
	t.put(t.paint(bold, l.Rule.Name+" on "+Clean(l.Subject()))+": "+l.Rule.Title, "  ")
	for _, row := range plot(l, t.opt.Width) {
		t.w.WriteString(row + "\n")
	}
	for _, p := range slices.Backward(l.Points) {
		t.put(commitLine(p.Step), hang)
		t.put(hang+pointWords(p), hang+"  ")
		if len(p.Events) > 0 {
			t.put(hang+Clean(strings.Join(p.Events, "; ")), hang+"  ")
		}
	}
	if !l.Last {
		t.put("It is not checked at the last commit.", "  ")
	}
}

// The marks of a plot, and how high it is.
const (
	markValue  = '●'
	markHeld   = '━' // the figure, until the next commit that changes it
	markBand   = '░'
	markLimit  = '┄'
	plotHeight = 11
	widestStep = 8 // columns of a commit
)

// plot draws the figures of a line as rows of a screen; none where there are
// fewer than two.
func plot(l *history.Line, width int) []string {
	var pts []*history.Point
	for _, p := range l.Points {
		if p.Value != nil {
			pts = append(pts, p)
		}
	}
	if len(pts) < 2 {
		return nil
	}
	unit := pts[len(pts)-1].Unit
	least, most := extent(pts)
	labels, margin := make([]string, plotHeight), 0
	for i := range labels {
		if i%5 == 0 {
			at := most - (most-least)*float64(i)/(plotHeight-1)
			labels[i] = unit.Shown().Join(unit.Shown().Number(at, 4))
		}
		margin = max(margin, columns(labels[i]))
	}
	wide := width - margin - 4
	grid := make([][]rune, plotHeight)
	for i := range grid {
		grid[i] = slices.Repeat([]rune{' '}, wide)
	}
	row := func(v float64) int {
		at := int(math.Round((most - v) / (most - least) * (plotHeight - 1)))
		return min(max(at, 0), plotHeight-1)
	}
	step := min(widestStep, max(1, wide/len(pts)))
	end := 0
	for i, p := range pts {
		from := min(wide-1, i*step)
		if len(pts) > wide {
			from = i * (wide - 1) / (len(pts) - 1)
		}
		end = min(wide, from+step)
		low, high := endsOf(p.Value)
		for x := from; x < end; x++ {
			for y := row(high); y <= row(low); y++ {
				grid[y][x] = markBand
			}
			for _, s := range []*history.Span{p.Limit, p.Upper} {
				if s != nil {
					grid[row(s.Value)][x] = markLimit
				}
			}
			mark := markHeld
			if x == from {
				mark = markValue
			}
			grid[row(p.Value.Value)][x] = mark
		}
	}
	var out []string
	for i, cells := range grid {
		out = append(out, pad(labels[i], margin)+" │"+strings.TrimRight(" "+string(cells), " "))
	}
	first, last := DayOf(pts[0].Step), DayOf(pts[len(pts)-1].Step)
	out = append(out, pad("", margin)+"   "+first+pad("", max(2, end-len(first)-len(last)))+last)
	return append(out, pad("", margin)+"   "+legend(pts), "")
}

func legend(pts []*history.Point) string {
	say := string(markValue) + " figure  " + string(markBand) + " its doubt"
	if slices.ContainsFunc(pts, func(p *history.Point) bool { return p.Limit != nil }) {
		say += "  " + string(markLimit) + " limit"
	}
	return say
}

// extent is from where to where a plot goes: all figures, their doubts and
// their limits. A doubt without end goes as far as the rest.
func extent(pts []*history.Point) (least, most float64) {
	least, most = math.Inf(1), math.Inf(-1)
	for _, p := range pts {
		for _, s := range []*history.Span{p.Value, p.Limit, p.Upper} {
			if s == nil {
				continue
			}
			low, high := endsOf(s)
			for _, v := range []float64{s.Value, low, high} {
				if !math.IsInf(v, 0) {
					least, most = min(least, v), max(most, v)
				}
			}
		}
	}
	if least == most {
		half := max(math.Abs(least)/2, 1e-9)
		return least - half, most + half
	}
	return least, most
}

// endsOf are the least and the most that a figure can be.
func endsOf(s *history.Span) (low, high float64) {
	low, high = math.Inf(-1), math.Inf(1)
	if s.Low != nil {
		low = *s.Low
	}
	if s.High != nil {
		high = *s.High
	}
	return low, high
}

func pad(s string, width int) string {
	for columns(s) < width {
		s += " "
	}
	return s
}
