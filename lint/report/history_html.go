package report

import (
	_ "embed"
	"errors"
	"fmt"
	"html/template"
	"io"
	"math"
	"slices"
	"strings"
	"sync"

	"fishplate/lint/history"
	"fishplate/lint/report/drawing"
)

//go:embed history.html
var historyPage string

var historyTemplate = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("history").Parse(historyPage))
})

// Moments are the figures of a line for a drawing, the oldest first, with what
// happened in each commit, and its limit at the last commit; NaN where it has none.
func Moments(l *history.Line) (moments []drawing.Moment, limit float64) {
	limit = math.NaN()
	for _, p := range l.Points {
		m := drawing.Moment{When: DayOf(p.Step) + " " + p.Short(), Value: math.NaN(), Low: math.NaN(), High: math.NaN(), Event: strings.Join(p.Events, "; ")}
		if p.Value != nil {
			m.Value = p.Value.Value
			m.Low, m.High = endsOf(p.Value)
		}
		if limit = math.NaN(); p.Limit != nil && p.Upper == nil {
			limit = p.Limit.Value
		}
		moments = append(moments, m)
	}
	return moments, limit
}

// HistoryDrawing draws a check's figure over its commits; an empty drawing where
// there is none.
func HistoryDrawing(id string, l *history.Line) drawing.Drawing {
	moments, limit := Moments(l)
	unit := l.Points[len(l.Points)-1].Unit
	for _, p := range slices.Backward(l.Points) {
		if p.Value != nil {
			unit = p.Unit
			break
		}
	}
	return drawing.History(id, Clean(l.Rule.Name+" on "+l.Subject()), unit.Shown(), moments, limit)
}

// HistorySVG writes the drawing of the one check that is asked for.
func HistorySVG(to io.Writer, _ Options) *Writer {
	return historyWriter(func(t *history.Told) error {
		switch {
		case t.Asked != history.Figures:
			return errors.New("svg draws a figure; name a rule after the build")
		case len(t.Lines) > 1:
			return fmt.Errorf("svg draws one check, and %s has %d on this build; name its entry as well, such as %s, or take html", t.Rule.Name, len(t.Lines), Clean(t.Lines[0].Entry))
		}
		d := HistoryDrawing("history", t.Lines[0])
		if d.Empty() {
			return errors.New(t.Rule.Name + " had no figure at any commit")
		}
		return d.SVG(to)
	})
}

// HistoryHTML writes a page: the figures drawn, and the table of the commits,
// the newest first. What commits and ledgers say is escaped by the template.
func HistoryHTML(to io.Writer, _ Options) *Writer {
	return historyWriter(func(t *history.Told) error {
		var page struct {
			Title, Head string
			Style       template.CSS
			Drawings    []template.HTML
			Heads       []string
			Rows        [][]string
		}
		page.Title, page.Head, page.Style = "History of "+Clean(t.Folder), historyHead(t), drawing.Style()
		for i, l := range t.Lines {
			if d := HistoryDrawing(fmt.Sprintf("history-%d", i), l); !d.Empty() {
				html, err := d.HTML()
				if err != nil {
					return err
				}
				page.Drawings = append(page.Drawings, html)
			}
		}
		page.Heads, page.Rows = historyTable(t)
		slices.Reverse(page.Rows)
		for _, row := range page.Rows {
			for i := range row {
				row[i] = Clean(row[i])
			}
		}
		return historyTemplate().Execute(to, page)
	})
}
