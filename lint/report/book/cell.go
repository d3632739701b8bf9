package book

import (
	"slices"
	"strings"
)

// span is a run of words, which may lead to an entry.
type span struct {
	Text string
	To   string // the anchor on the page; "" where it leads nowhere
	Weak bool   // said beside what matters
}

// Long tells that it has a word that has to be broken to fit.
func (s span) Long() bool {
	for _, w := range strings.Fields(s.Text) {
		if len(w) > longWord {
			return true
		}
	}
	return false
}

// Whole tells that it is a figure or a date, which stays on one line.
func (s span) Whole() bool {
	return s.Text != "" && len(s.Text) <= wholeFigure && strings.ContainsAny(s.Text[:1], "0123456789~-")
}

// Class is how it looks.
func (s span) Class() string {
	var out []string
	for class, is := range map[string]bool{"weak": s.Weak, "long": s.Long(), "whole": s.Whole() && !s.Long()} {
		if is {
			out = append(out, class)
		}
	}
	slices.Sort(out)
	return strings.Join(out, " ")
}

const (
	longWord    = 22 // letters of a word that is not to widen its column
	wholeFigure = 18 // bytes of a figure that is not broken
)

// cell is what stands in one place of a table, in runs.
type cell []span

// words are runs of plain words, one a text; empty ones are left out.
func words(texts ...string) (out cell) {
	for _, t := range texts {
		if t != "" {
			out = append(out, span{Text: t})
		}
	}
	return out
}

// empty tells that nothing stands there.
func (c cell) empty() bool {
	for _, s := range c {
		if s.Text != "" {
			return false
		}
	}
	return true
}

// joined puts cells behind one another, with a mark between those that say
// something.
func joined(mark string, cells ...cell) (out cell) {
	for _, c := range cells {
		if c.empty() {
			continue
		}
		if len(out) > 0 {
			out = append(out, span{Text: mark})
		}
		out = append(out, c...)
	}
	return out
}

// table is a table: its first column names the row.
type table struct {
	Caption string
	Heads   []string
	Groups  []group
	Numbers []bool // the columns of figures
}

// group is a run of rows under a heading of its own; "" where there is none.
type group struct {
	Name string
	Rows []row
}

type row struct {
	ID    string // its anchor
	Cells []cell
}

// add puts a row under the last group of a name.
func (t *table) add(name string, r row) {
	if n := len(t.Groups); n == 0 || t.Groups[n-1].Name != name {
		t.Groups = append(t.Groups, group{Name: name})
	}
	g := &t.Groups[len(t.Groups)-1]
	g.Rows = append(g.Rows, r)
}

// Rows counts the rows.
func (t table) Rows() (n int) {
	for _, g := range t.Groups {
		n += len(g.Rows)
	}
	return n
}

// Right tells that a column stands to the right.
func (t table) Right(column int) bool { return column < len(t.Numbers) && t.Numbers[column] }

// trim leaves out the columns in which nothing stands.
func (t table) trim() table {
	keep := make([]bool, len(t.Heads))
	for _, g := range t.Groups {
		for _, r := range g.Rows {
			for i, c := range r.Cells {
				keep[i] = keep[i] || !c.empty()
			}
		}
	}
	out := table{Caption: t.Caption}
	for i, h := range t.Heads {
		if keep[i] || i == 0 {
			out.Heads = append(out.Heads, h)
			out.Numbers = append(out.Numbers, i < len(t.Numbers) && t.Numbers[i])
		}
	}
	for _, g := range t.Groups {
		ng := group{Name: g.Name}
		for _, r := range g.Rows {
			nr := row{ID: r.ID}
			for i, c := range r.Cells {
				if keep[i] || i == 0 {
					nr.Cells = append(nr.Cells, c)
				}
			}
			ng.Rows = append(ng.Rows, nr)
		}
		out.Groups = append(out.Groups, ng)
	}
	return out
}

// plain is a text in one line, as a cell has it.
func plain(s string) string { return strings.Join(strings.Fields(s), " ") }

// None tells a page that the place is blank.
func (c cell) None() bool { return c.empty() }
