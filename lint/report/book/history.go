package book

import (
	"html/template"
	"slices"
	"strings"

	"fishplate/lint/history"
	"fishplate/lint/report"
)

// Followed are the rules whose figures the page of history draws.
var Followed = []string{"weight/front-axle", "weight/rear-axle", "weight/gross"}

// History is how some figures came to be over the commits.
type History struct {
	Lines    []*history.Line
	Happened []*history.Happening // of all commits, the oldest first
	Short    bool                 // older commits are not there
}

// past is the page of history.
type past struct {
	None     string // why nothing is told
	Drawings []template.HTML
	Table    table
	Left     string // what the table leaves out
}

// mostCommits are the rows of the page's table. Common practice, no source.
const mostCommits = 120

// history is the page; nil where the edition has none. What a commit says of itself
// is the shop's alone, for it may tell of anything.
func (r *reader) history(h *History) *past {
	switch {
	case r.ed == Public:
		return nil
	case h == nil || len(h.Happened) == 0:
		return &past{None: "The build’s folder is in no git repository, or no commit has it yet: there is no history to tell."}
	}
	out := &past{Table: table{Caption: "The commits that changed a figure, or in which something was moved, weighed or brought to another stage", Heads: []string{"Date", "Commit", "What happened"}, Numbers: make([]bool, 3)}}
	var lines []*history.Line
	for i, l := range h.Lines {
		d := report.HistoryDrawing("history-"+string(rune('a'+i)), l, h.Happened)
		if !l.Last || d.Empty() {
			continue
		}
		lines = append(lines, l)
		head := l.Rule.Name
		if l.Aspect != "" {
			head += " (" + l.Aspect + ")"
		}
		out.Table.Heads, out.Table.Numbers = append(out.Table.Heads, head), append(out.Table.Numbers, true)
		if s, err := d.HTML(); err == nil && len(l.Points) > 1 {
			out.Drawings = append(out.Drawings, s)
		}
	}
	if r.ed == Shop {
		out.Table.Heads = append(out.Table.Heads, "What the commit says")
	}
	next := make([]int, len(lines))
	var rows []row
	for i, c := range h.Happened {
		var figures []cell
		told := i == 0 || len(c.What) > 0
		for k, l := range lines {
			var says cell
			if next[k] < len(l.Points) && l.Points[next[k]].Step == c.Step {
				says, told = words(report.FigureAt(l.Points[next[k]])), true
				next[k]++
			}
			figures = append(figures, says)
		}
		if !told {
			continue
		}
		what := strings.Join(c.What, "; ")
		if i == 0 {
			what = strings.TrimPrefix("the first; "+what, "; ")
			what = strings.TrimSuffix(what, "; ")
		}
		cells := append([]cell{words(report.DayOf(c.Step)), words(c.Short()), words(what)}, figures...)
		if r.ed == Shop {
			cells = append(cells, words(c.About))
		}
		rows = append(rows, row{Cells: cells})
	}
	slices.Reverse(rows)
	if n := len(rows); n > mostCommits {
		out.Left = report.Plural(n-mostCommits, "older commit") + " not told here."
		rows = rows[:mostCommits]
	}
	if h.Short {
		out.Left = strings.TrimSpace(out.Left + " The clone that this book was made from is shallow, and lacks older commits.")
	}
	for _, w := range rows {
		out.Table.add("", w)
	}
	out.Table = out.Table.trim()
	return out
}
