package book

import (
	"cmp"
	"fmt"

	"fishplate/ledger/job"
	"fishplate/ledger/quantity"
	"fishplate/lint/report"
)

// cost is what the build costs, by system and together. It is the shop's alone.
type cost struct {
	None            string // why there are no sums
	Systems, Doubts table
	Lacks           []string
}

// mostDoubts are the figures of which it is told how much doubt they leave. Common
// practice, no source.
const mostDoubts = 8

// cost is the page of money and hours; nil in the editions that have none.
func (r *reader) cost() *cost {
	if r.ed != Shop {
		return nil
	}
	c, faults := job.CostOf(r.Job)
	switch {
	case len(faults) > 0:
		return &cost{None: "No sums: " + faults[0].Message}
	case !c.Total.Cost.Known() && !c.Total.Counted.Known():
		return &cost{None: "No prices and no hours are written, so there is nothing to add up."}
	}
	out := &cost{Lacks: report.CostLacks(c)}
	money := func(m quantity.Quantity) cell {
		if !m.Known() {
			return nil
		}
		return words(c.Money(m))
	}
	t := table{Caption: "By system", Heads: []string{"System", "Parts", "Outside work", "Hours", "Hours at the rate", "Left-overs sold", "Cost"}, Numbers: []bool{false, true, true, true, true, true, true}}
	line := func(group, name string, l *job.Line) {
		t.add(group, row{Cells: []cell{words(name), money(l.Parts), money(l.Outside), words(report.CostHours(l)), money(l.Labor), money(l.Sold.Neg()), money(l.Cost)}})
	}
	for _, l := range c.Lines {
		line("", cmp.Or(report.Upper(report.SystemName(l.System)), systemTitle("")), l)
	}
	line("Together", "Total", c.Total)
	for _, s := range []struct {
		name string
		of   quantity.Quantity
	}{{"Quoted", c.Quoted}, {"What is left", c.Left}} {
		if s.of.Known() {
			t.add("Together", row{Cells: []cell{words(s.name), nil, nil, nil, nil, nil, money(s.of)}})
		}
	}
	out.Systems = t.trim()
	out.Doubts = table{Caption: "What leaves most in doubt", Heads: []string{"Figure", "Now", "Share of the doubt"}, Numbers: []bool{false, false, true}}
	for i, d := range c.Doubts() {
		if i == mostDoubts {
			break
		}
		name := words(d.Path)
		if e := r.named(d.Path); e != nil {
			name = cell{{Text: d.Path, To: r.anchor(e)}}
		}
		out.Doubts.add("", row{Cells: []cell{name, words(d.Written), words(fmt.Sprintf("%.0f %%", 100*d.Share))}})
	}
	return out
}
