package report

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"fishplate/ledger/job"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

// CostKinds are the outputs of cost, the only ones in which money stands.
var CostKinds = []Kind{
	{"text", "for the shop's own eyes", costText},
	{"csv", "a table for a spreadsheet (RFC 4180): a row a system, then what it comes to", func(to io.Writer, opt Options) *Writer { return tableCSV(costTable(opt), to) }},
	{"markdown", "a table for a page", func(to io.Writer, opt Options) *Writer {
		return tableMarkdown(costTable(opt), func(r *lint.Report) string { return "Private: for the shop. " + stageAndDate(r) }, "No money or hours are written.", to)
	}},
	{"json", "for a program", costJSON},
}

const (
	mostDoubts  = 5 // figures to find out next
	mostLacking = 6 // entries named of those that lack something
	hour        = 3600.0
)

// costText writes what a build costs, for a person.
func costText(to io.Writer, opt Options) *Writer {
	t := newText(to, opt)
	return &Writer{Close: func(n *Totals) error { return t.leftOut(n, false) }, Build: func(r *lint.Report) error {
		c := r.Cost
		t.top(r)
		t.wrap("", "  ", "", "Private: for the shop alone. A sum leaves out what is not written; that is listed.")
		if !c.Total.Cost.Known() && !c.Total.Counted.Known() {
			t.line("")
			t.wrap("", "  ", "", "No prices and no hours are written, so there is nothing to add up.")
			return t.w.Flush()
		}
		t.line("\n%s", t.paint(bold, "By system"))
		for _, l := range c.Lines {
			t.systemCost(c, l)
		}
		t.together(c)
		t.doubtsOf(c)
		t.lacking(c)
		return t.w.Flush()
	}}
}

// systemCost is a system's line: what it comes to, and of what.
func (t *text) systemCost(c *job.Cost, l *job.Line) {
	sum := "?"
	if l.Cost.Known() {
		sum = c.Money(l.Cost)
	}
	var of []string
	say := func(what string, m quantity.Quantity) {
		if m.Known() {
			of = append(of, what+" "+c.Money(m))
		}
	}
	say("parts", l.Parts)
	say("outside work", l.Outside)
	switch {
	case l.Labor.Known():
		of = append(of, "hours "+c.Money(l.Labor)+" ("+hoursOf(l)+")")
	case l.Counted.Known():
		of = append(of, hoursOf(l))
	}
	say("left-overs sold, less", l.Sold)
	t.put("  "+fit(SystemName(l.System), 14)+sum+": "+strings.Join(of, "; "), "      ")
}

// hoursOf are the hours spent and planned.
func hoursOf(l *job.Line) string {
	var of []string
	if l.Spent.Known() {
		of = append(of, Hours(l.Spent)+" spent")
	}
	if l.Planned.Known() {
		of = append(of, Hours(l.Planned)+" planned")
	}
	return strings.Join(of, ", ")
}

// Hours is a time in hours, with its doubt.
func Hours(h quantity.Quantity) string {
	low, high := h.Bounds()
	out := quantity.Digits(h.Value()/hour, 4)
	if half := max(high-h.Value(), h.Value()-low) / hour; half > 0.005 {
		out += " ± " + quantity.Digits(half, 2)
	}
	return out + " h"
}

// together is what the whole build comes to.
func (t *text) together(c *job.Cost) {
	t.line("\n%s", t.paint(bold, "Together"))
	say := func(what string, m quantity.Quantity, more string) {
		if m.Known() {
			t.put("  "+fit(what, 20)+c.Money(m)+more, "      ")
		}
	}
	l := c.Total
	say("parts", l.Parts, "")
	say("outside work", l.Outside, "")
	switch {
	case l.Labor.Known():
		say("hours", l.Labor, fmt.Sprintf(": %s at %s; %s", Hours(l.Counted), Clean(c.Rate.Spelling()), hoursOf(l)))
	case l.Counted.Known():
		t.put("  "+fit("hours", 20)+hoursOf(l)+"; no rate, so they are in no sum", "      ")
	}
	say("left-overs sold", l.Sold.Neg(), "")
	say("total", l.Cost, "")
	say("quoted", c.Quoted, "")
	say("what is left", c.Left, leftWords(c))
	for _, w := range c.Over {
		t.wrap("  ", "      ", "", fmt.Sprintf("over plan: %s, %s spent of %s%s", Clean(w.Path()), Hours(w.Spent), Hours(w.Hours), t.at(w.Place())))
	}
}

// leftWords says where what is left may be nothing or less.
func leftWords(c *job.Cost) string {
	low, high := c.Left.Bounds()
	switch {
	case high < 0:
		return ": the quote does not cover it"
	case low < 0:
		return ": whether the quote covers it is open"
	}
	return ""
}

// doubtsOf names the figures to find out next.
func (t *text) doubtsOf(c *job.Cost) {
	list := c.Doubts()
	if len(list) == 0 {
		return
	}
	of := "what is left"
	if !c.Left.Known() {
		of = "the total"
	}
	t.line("\n%s", t.paint(bold, "Find out next (share of the doubt of "+of+")"))
	for i, d := range list {
		if i == mostDoubts {
			t.line("  and %s more", Plural(len(list)-i, "figure"))
			break
		}
		t.put(fmt.Sprintf("  %3.0f %%  %s, now %s%s", 100*d.Share, Clean(d.Path), Clean(d.Written), t.at(d.Place)), "         ")
	}
}

// lackWords are what is lacking, in words, in the order in which it is told.
var lackWords = []struct{ what, say string }{
	{job.LacksRate, "the rate of an hour: [shop] rate, in shop.toml"},
	{job.LacksPrice, "price of"},
	{job.LacksDonor, "price on any part of"},
	{job.LacksMade, "price of the stuff that these are made from:"},
	{job.LacksSoldFor, "sold-for of"},
	{job.LacksHours, "hours, or a price where it is done outside, of"},
	{job.LacksSpent, "hours spent on what is done; those planned stand for them:"},
	{job.LacksHose, "price of"},
	{job.LacksQuoted, "what was quoted: [build] quoted"},
}

// lacking lists what is not written and so in no sum.
func (t *text) lacking(c *job.Cost) {
	for i, say := range CostLacks(c) {
		if i == 0 {
			t.line("\n%s", t.paint(bold, "Not written, and so in no sum"))
		}
		t.wrap("  ", "      ", "", say)
	}
}

// CostLacks says what is not written and so in no sum, kind by kind.
func CostLacks(c *job.Cost) (say []string) {
	for _, w := range lackWords {
		list := c.Lacking(w.what)
		var names []string
		for _, l := range list {
			names = append(names, Clean(l.Path))
		}
		switch {
		case len(list) == 0:
		case strings.Contains(w.say, "["):
			say = append(say, w.say)
		case w.what == job.LacksHose:
			say = append(say, w.say+" "+Plural(len(list), "hose")+" that may have been bought or be the vehicle's own")
		default:
			say = append(say, w.say+" "+few(names, mostLacking))
		}
	}
	var back []string
	for _, p := range c.Back {
		back = append(back, Clean(p.Path()))
	}
	if len(back) > 0 {
		say = append(say, "went back, and cost nothing here: "+few(back, mostLacking))
	}
	return say
}

// costTable is the sums in cents, each with its ends.
func costTable(opt Options) table {
	heads := []string{"system", "currency"}
	for _, h := range []string{"parts", "outside-work", "hours-planned", "hours-spent", "hours-at-the-rate", "left-overs-sold", "cost"} {
		heads = append(heads, h, h+"-low", h+"-high")
	}
	return table{append(heads, "build"), func(r *lint.Report) [][]string {
		c := r.Cost
		var out [][]string
		row := func(name string, qs ...quantity.Quantity) {
			cells := []string{name, c.Currency}
			for i, m := range qs {
				scale := 1.0
				if i == 2 || i == 3 {
					scale = hour
				}
				cells = append(cells, ends(m, scale)...)
			}
			out = append(out, append(cells, r.Folder))
		}
		for _, l := range append(c.Lines, c.Total) {
			name := SystemName(l.System)
			if l == c.Total {
				name = "total"
			}
			row(name, l.Parts, l.Outside, l.Planned, l.Spent, l.Labor, l.Sold, l.Cost)
		}
		none := quantity.Quantity{}
		row("quoted", none, none, none, none, none, none, c.Quoted)
		row("what is left", none, none, none, none, none, none, c.Left)
		return out
	}}
}

// ends are a value and its ends to the hundredth; empty where there is none.
func ends(m quantity.Quantity, scale float64) []string {
	if !m.Known() {
		return []string{"", "", ""}
	}
	low, high := m.Bounds()
	var out []string
	for _, v := range []float64{m.Value(), low, high} {
		out = append(out, strconv.FormatFloat(v/scale, 'f', 2, 64))
	}
	return out
}
