package book

import (
	"html/template"
	"slices"
	"strconv"
	"strings"

	"fishplate/lint/history"
	"fishplate/lint/report"
)

// History is how figures came to be over the commits of a build.
type History struct {
	Lines []*history.Line // the figures that are followed
	Why   string          // why there are none, in a sentence
}

// told is the page of a history.
type told struct {
	Why      string
	Drawings []template.HTML
	Table    table
}

// history is the page of it; nil in an edition that has none. What a commit says
// of itself is the shop's own talk, and stands in its edition alone.
func (r *reader) history(h *History) (*told, error) {
	if h == nil || r.ed == Public {
		return nil, nil
	}
	page := &told{Why: h.Why, Table: table{Caption: "Loaded, by the commits that changed a figure, the newest first", Heads: []string{"Date", "Commit", "What happened"}}}
	if r.ed == Shop {
		page.Table.Heads = append(page.Table.Heads, "Says")
	}
	at := map[string]*row{}
	var order []*history.Point
	for i, l := range h.Lines {
		if l.Aspect != "" {
			continue
		}
		_, name, _ := strings.Cut(l.Rule.Name, "/")
		name = report.Upper(strings.ReplaceAll(name, "-", " "))
		if d := report.HistoryDrawing("history-"+strconv.Itoa(i), l); len(l.Points) > 1 && !d.Empty() {
			d.Title = name
			html, err := d.HTML()
			if err != nil {
				return nil, err
			}
			page.Drawings = append(page.Drawings, html)
		}
		page.Table.Heads = append(page.Table.Heads, name)
		moments, _ := report.Moments(l)
		for j, p := range l.Points {
			if at[p.ID] == nil {
				at[p.ID] = &row{Cells: []cell{words(report.DayOf(p.Step)), words(p.Short()), words(moments[j].Event)}}
				if r.ed == Shop {
					at[p.ID].Cells = append(at[p.ID].Cells, words(p.About))
				}
				order = append(order, p)
			}
			at[p.ID].Cells = append(filled(at[p.ID].Cells, len(page.Table.Heads)-1), words(report.FigureWords(p)))
		}
	}
	slices.SortStableFunc(order, func(a, b *history.Point) int { return b.Date.Compare(a.Date) })
	for _, p := range order {
		page.Table.add("", row{Cells: filled(at[p.ID].Cells, len(page.Table.Heads))})
	}
	return page, nil
}

// filled is a row with empty cells behind, so many in all: a figure that did not
// change has none.
func filled(cells []cell, n int) []cell {
	for len(cells) < n {
		cells = append(cells, words(""))
	}
	return cells
}
