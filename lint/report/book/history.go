package book

import "html/template"

// History is how the figures came to be over the commits. It is made elsewhere; a
// book without one leaves its page out.
type History struct {
	Drawings []template.HTML
	Figures  []string // the figures that are followed
	Points   []Point  // one a commit, the last first
}

// Point is a commit of the history.
type Point struct {
	Commit, Date string
	Says         string   // what the commit says of itself
	Events       []string // what happened in it: a stage, a move, a weighing
	Figures      []string // in the order of History.Figures; "" where one is not known
}

// Table is the history as a table.
func (h *History) Table() table {
	t := table{Caption: "Figures over the commits", Heads: append([]string{"Date", "Commit", "What happened"}, h.Figures...)}
	for _, p := range h.Points {
		r := row{Cells: []cell{words(p.Date), words(p.Commit), joined("; ", append([]cell{words(p.Says)}, cells(p.Events)...)...)}}
		for _, f := range p.Figures {
			r.Cells = append(r.Cells, words(f))
		}
		t.add("", r)
	}
	return t
}

func cells(texts []string) (out []cell) {
	for _, t := range texts {
		out = append(out, words(t))
	}
	return out
}
