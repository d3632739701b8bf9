package report

import (
	"fmt"
	"io"

	"fishplate/ledger/job"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

type jsonMoney struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
	Unit  string  `json:"unit"` // a currency, or h
}

type jsonCostLine struct {
	System  string     `json:"system,omitempty"`
	Parts   *jsonMoney `json:"parts"`
	Outside *jsonMoney `json:"outside-work"`
	Planned *jsonMoney `json:"hours-planned"`
	Spent   *jsonMoney `json:"hours-spent"`
	Counted *jsonMoney `json:"hours-counted"`
	Labor   *jsonMoney `json:"hours-at-the-rate"`
	Sold    *jsonMoney `json:"left-overs-sold"`
	Cost    *jsonMoney `json:"cost"`
}

type jsonLack struct {
	Entry string `json:"entry"`
	Lacks string `json:"lacks"`
}

type jsonDoubt struct {
	Key     string  `json:"key"`
	Written string  `json:"written"`
	Half    float64 `json:"half-width"`
	Share   float64 `json:"share"`
	File    string  `json:"file"`
	Line    int     `json:"line"`
}

type jsonCost struct {
	Folder   string         `json:"folder"`
	Title    string         `json:"title"`
	Stage    string         `json:"stage"`
	AsOf     string         `json:"as-of"`
	Private  bool           `json:"private"`
	Currency string         `json:"currency"`
	Systems  []jsonCostLine `json:"systems"`
	Total    jsonCostLine   `json:"total"`
	Quoted   *jsonMoney     `json:"quoted"`
	Left     *jsonMoney     `json:"what-is-left"`
	Doubts   []jsonDoubt    `json:"doubts"`
	Lacks    []jsonLack     `json:"not-written"`
}

// costJSON writes the sums for a program.
func costJSON(to io.Writer, opt Options) *Writer {
	all := []jsonCost{}
	return &Writer{
		Build: func(r *lint.Report) error {
			c := r.Cost
			j := jsonCost{Folder: r.Folder, Title: r.Title, Stage: r.Stage.String(), AsOf: r.AsOf, Private: true, Currency: c.Currency,
				Systems: []jsonCostLine{}, Total: costLine(c, c.Total), Quoted: moneyOf(c.Quoted, c.Currency, 1), Left: moneyOf(c.Left, c.Currency, 1), Doubts: []jsonDoubt{}, Lacks: []jsonLack{}}
			for _, l := range c.Lines {
				j.Systems = append(j.Systems, costLine(c, l))
			}
			for _, d := range c.Doubts() {
				j.Doubts = append(j.Doubts, jsonDoubt{d.Path, d.Written, d.Half, d.Share, d.Place.File, d.Place.Line})
			}
			for _, l := range c.Lacks {
				j.Lacks = append(j.Lacks, jsonLack{l.Path, l.What})
			}
			all = append(all, j)
			return nil
		},
		Close: func(*Totals) error {
			_, err := fmt.Fprintf(to, "%s\n", encode(map[string]any{"fishplate": 2, "costs": all}))
			return err
		},
	}
}

func costLine(c *job.Cost, l *job.Line) jsonCostLine {
	return jsonCostLine{l.System, moneyOf(l.Parts, c.Currency, 1), moneyOf(l.Outside, c.Currency, 1), moneyOf(l.Planned, "h", hour), moneyOf(l.Spent, "h", hour),
		moneyOf(l.Counted, "h", hour), moneyOf(l.Labor, c.Currency, 1), moneyOf(l.Sold, c.Currency, 1), moneyOf(l.Cost, c.Currency, 1)}
}

func moneyOf(m quantity.Quantity, unit string, scale float64) *jsonMoney {
	if !m.Known() {
		return nil
	}
	low, high := m.Bounds()
	return &jsonMoney{quantity.Rounded(m.Value()/scale, 12), quantity.Rounded(low/scale, 12), quantity.Rounded(high/scale, 12), unit}
}
