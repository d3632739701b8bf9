package job

import (
	"fmt"
	"slices"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

// Line is what one system costs, or the whole build. What there is none of is
// the zero Quantity.
type Line struct {
	System                            string
	Parts, Outside, Labor, Sold, Cost q.Quantity // money; Sold is taken off
	Planned, Spent, Counted           q.Quantity // hours

	parts, outside, sold, planned, spent, counted []q.Quantity
}

// Lack is something that a sum would need and the ledger does not say.
type Lack struct {
	Path, What string // "part.x", "price"
	Place      q.Place
}

// The things that may be lacking.
const (
	LacksPrice   = "the price of what is bought"
	LacksDonor   = "a price on any part of the donor"
	LacksMade    = "the price of what it is made from"
	LacksHose    = "the price of a hose"
	LacksHours   = "hours or a price"
	LacksSpent   = "the hours spent on what is done, so that those planned stand for them"
	LacksSoldFor = "what it was sold for"
	LacksRate    = "the rate of an hour"
	LacksQuoted  = "what was quoted"
)

// Cost is what a build costs, by system and together.
type Cost struct {
	Build    *ledger.Build
	Currency string // "" where no money is written
	Lines    []*Line
	Total    *Line
	Rate     q.Quantity
	Quoted   q.Quantity
	Left     q.Quantity // quoted, less what it costs
	Lacks    []Lack
	Back     []*ledger.Part // returned or refused: their prices are in no sum
	Over     []*ledger.Work // more hours spent than were planned
}

// CostOf reckons what a build costs. Parts count by price and how many there
// are, save those that went back; an hour of the shop by its rate. A step that
// is done has taken the hours spent, one that is not will take those planned,
// or more where more are spent already.
//
// Faults are sums of money in more than one currency, which are not added.
func CostOf(j *Job) (*Cost, []ledger.Fault) {
	c := &Cost{Build: j.Build, Total: &Line{}, Rate: j.Shop().Rate, Quoted: j.Info().Quoted}
	lines := map[string]*Line{}
	at := func(e *ledger.Entry) *Line {
		s := j.System(e)
		if lines[s] == nil {
			lines[s] = &Line{System: s}
		}
		return lines[s]
	}
	c.ofParts(j, at)
	c.ofHoses(j, at)
	c.ofWork(j, at)
	faults := c.currencies(j)
	if len(faults) > 0 {
		return nil, faults
	}
	var names []string
	for s := range lines {
		names = append(names, s)
	}
	for _, s := range ledger.Systems(names) {
		l := lines[s]
		c.Total.take(l)
		if l.settle(c.Rate); l.Cost.Known() || l.Counted.Known() {
			c.Lines = append(c.Lines, l)
		}
	}
	c.Total.settle(c.Rate)
	if c.Total.Counted.Known() && !c.Rate.Known() {
		c.lack("shop.rate", LacksRate, j.Shop().Place())
	}
	if !c.Quoted.Known() {
		c.lack("build.quoted", LacksQuoted, j.Info().Place())
	} else if c.Total.Cost.Known() {
		c.Left = c.Quoted.Sub(c.Total.Cost).As("what is left", "quoted - cost")
	}
	return c, nil
}

func (c *Cost) lack(path, what string, at q.Place) {
	c.Lacks = append(c.Lacks, Lack{path, what, at})
}

func (c *Cost) ofParts(j *Job, at func(*ledger.Entry) *Line) {
	priced := map[string]bool{} // donors of which a part has a price: the others came with it
	for _, p := range j.Parts() {
		if p.Price.Known() && p.Donor.Known() {
			priced[p.Donor.String()] = true
		}
	}
	donors := map[string]bool{}
	for _, p := range j.Parts() {
		e := p.Entry()
		if p.Fate.Is("returned", "refused").Holds() {
			c.Back = append(c.Back, p)
			continue
		}
		switch {
		case p.Price.Known():
			l := at(e)
			l.parts = append(l.parts, p.Price.Mul(p.Count))
		case ofPart(p).bought:
			c.lack(p.Path(), LacksPrice, p.Place())
		case p.Origin.Is("made").Holds():
			c.lack(p.Path(), LacksMade, p.Place())
		case p.Origin.Is("donor").Holds():
			if d := p.Donor.Or("a donor").String(); !priced[d] && !donors[d] {
				donors[d] = true
				c.lack(d, LacksDonor, p.Place())
			}
		case !p.Origin.Known():
			c.lack(p.Path(), LacksPrice, p.Place())
		}
		switch {
		case p.SoldFor.Known():
			l := at(e)
			l.sold = append(l.sold, p.SoldFor)
		case p.Fate.Is("sold").Holds():
			c.lack(p.Path(), LacksSoldFor, p.Place())
		}
	}
}

func (c *Cost) ofHoses(j *Job, at func(*ledger.Entry) *Line) {
	for _, h := range j.Hoses() {
		switch {
		case h.Price.Known():
			l := at(h.Entry())
			l.parts = append(l.parts, h.Price)
		case ofHose(h).bought:
			c.lack(h.Path(), LacksPrice, h.Place())
		default:
			c.lack(h.Path(), LacksHose, h.Place())
		}
	}
}

func (c *Cost) ofWork(j *Job, at func(*ledger.Entry) *Line) {
	for _, w := range j.works {
		l := at(w.Entry())
		if w.Price.Known() {
			l.outside = append(l.outside, w.Price)
		}
		if w.Hours.Known() {
			l.planned = append(l.planned, w.Hours)
		}
		if w.Spent.Known() {
			l.spent = append(l.spent, w.Spent)
		}
		switch done := j.Done(w); {
		case w.Spent.Known() && (done || !w.Hours.Known()):
			l.counted = append(l.counted, w.Spent)
		case w.Spent.Known():
			l.counted = append(l.counted, q.Max(w.Hours, w.Spent))
		case w.Hours.Known():
			if l.counted = append(l.counted, w.Hours); done {
				c.lack(w.Path(), LacksSpent, w.Place())
			}
		case !w.Price.Known():
			c.lack(w.Path(), LacksHours, w.Place())
		}
		if w.Hours.Known() && w.Spent.Known() {
			if _, most := w.Hours.Bounds(); w.Spent.Value() > most {
				c.Over = append(c.Over, w)
			}
		}
	}
}

// take adds what goes into another line.
func (l *Line) take(m *Line) {
	l.parts, l.outside, l.sold = append(l.parts, m.parts...), append(l.outside, m.outside...), append(l.sold, m.sold...)
	l.planned, l.spent, l.counted = append(l.planned, m.planned...), append(l.spent, m.spent...), append(l.counted, m.counted...)
}

// settle sums the line up.
func (l *Line) settle(rate q.Quantity) {
	l.Parts, l.Outside, l.Sold = sumOf(q.Money, l.parts), sumOf(q.Money, l.outside), sumOf(q.Money, l.sold)
	l.Planned, l.Spent, l.Counted = sumOf(q.Time, l.planned), sumOf(q.Time, l.spent), sumOf(q.Time, l.counted)
	var terms []q.Quantity
	for _, list := range [][]q.Quantity{l.parts, l.outside} {
		terms = append(terms, list...)
	}
	if l.Counted.Known() && rate.Known() {
		l.Labor = rate.Mul(l.Counted)
		terms = append(terms, l.Labor)
	}
	for _, s := range l.sold {
		terms = append(terms, s.Neg())
	}
	l.Cost = sumOf(q.Money, terms)
}

// sumOf is a sum; nothing where there is nothing to sum.
func sumOf(dim q.Dim, terms []q.Quantity) q.Quantity {
	if len(terms) == 0 {
		return q.Quantity{}
	}
	return q.Sum(dim, terms...)
}

// currencies sees that all money is in one currency: the shop's, or where it
// names none, the one that is written first.
func (c *Cost) currencies(j *Job) (faults []ledger.Fault) {
	if w := j.Shop().Currency; w.Known() {
		c.Currency = w.String()
	}
	see := func(m q.Quantity) {
		if !m.Known() {
			return
		}
		switch code := m.Currency(); {
		case c.Currency == "":
			c.Currency = code
		case code != c.Currency:
			faults = append(faults, ledger.Fault{Place: m.Source().Place, Message: fmt.Sprintf("%s is in %s, and the build's money in %s: one is not turned into the other; write all of it in one currency", m.Source().Path(), code, c.Currency)})
		}
	}
	see(c.Quoted)
	see(c.Rate)
	for _, p := range j.Parts() {
		see(p.Price)
		see(p.SoldFor)
	}
	for _, h := range j.Hoses() {
		see(h.Price)
	}
	for _, w := range j.works {
		see(w.Price)
	}
	return ledger.SortFaults(faults)
}

// Doubtful is a figure that leaves a sum in doubt, and what it adds to the
// doubt: half the width, in money, and its share of all.
type Doubtful struct {
	Path, Written string
	Place         q.Place
	Half, Share   float64
}

// Doubts lists the figures that leave what is left in doubt, or, where nothing
// was quoted, what the build costs; the worst first. The first is the price, or
// the hours, to find out next.
func (c *Cost) Doubts() []Doubtful {
	of := c.Left
	if !of.Known() {
		of = c.Total.Cost
	}
	if !of.Known() {
		return nil
	}
	var out []Doubtful
	all := 0.0
	for _, d := range q.Analyze(of).Doubts() {
		if d.Doubt > 0 {
			all += d.Doubt
			out = append(out, Doubtful{d.Source.Path(), d.Leaf.Spelling(), d.Source.Place, d.Doubt, 0})
		}
	}
	for i := range out {
		out[i].Share = out[i].Half / all
	}
	return out
}

// Lacking are the entries that lack one thing.
func (c *Cost) Lacking(what string) []Lack {
	return slices.DeleteFunc(slices.Clone(c.Lacks), func(l Lack) bool { return l.What != what })
}

// Money is a sum as people write it, with its doubt and its currency.
func (c *Cost) Money(m q.Quantity) string {
	low, high := m.Bounds()
	return q.FormatMoney(m.Value(), low, high, c.Currency)
}
