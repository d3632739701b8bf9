package book

import (
	"fishplate/ledger/job"
	"fishplate/ledger/quantity"
	"fishplate/lint/report"
)

// costs are what the build cost, for the shop.
type costs struct {
	Systems, Together table
	Lacks             []string
}

// Any tells that there is something on the page.
func (c costs) Any() bool { return c.Systems.Rows() > 0 }

// costs adds up money and hours: for the shop alone, and where there are any.
func (r *reader) costs() (page costs) {
	c, faults := job.CostOf(r.Job)
	if r.ed != Shop || len(faults) > 0 || !c.Total.Cost.Known() && !c.Total.Counted.Known() {
		return page
	}
	money := func(m quantity.Quantity) cell {
		if !m.Known() {
			return words("")
		}
		return words(c.Money(m))
	}
	hours := func(h quantity.Quantity) cell {
		if !h.Known() {
			return words("")
		}
		return words(report.Hours(h))
	}
	page.Systems = table{Caption: "By system", Heads: []string{"System", "Parts", "Outside work", "Hours planned", "Hours spent", "At the rate", "Left-overs sold", "Cost"},
		Numbers: []bool{false, true, true, true, true, true, true, true}}
	for _, l := range append(c.Lines[:len(c.Lines):len(c.Lines)], c.Total) {
		name := report.Upper(report.SystemName(l.System))
		if l == c.Total {
			name = "Together"
		}
		page.Systems.add("", row{Cells: []cell{words(name), money(l.Parts), money(l.Outside), hours(l.Planned), hours(l.Spent), money(l.Labor), money(l.Sold), money(l.Cost)}})
	}
	page.Systems = page.Systems.trim()
	page.Together = table{Caption: "Against the quote", Heads: []string{"What", "Sum"}, Numbers: []bool{false, true}}
	page.Together.add("", row{Cells: []cell{words("Quoted"), money(c.Quoted)}})
	page.Together.add("", row{Cells: []cell{words("Cost"), money(c.Total.Cost)}})
	page.Together.add("", row{Cells: []cell{words("What is left"), money(c.Left)}})
	page.Lacks = report.CostLacks(c)
	return page
}
