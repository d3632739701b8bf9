package report

import (
	"fmt"
	"math"

	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/lint/report/shown"
)

// RoomOf says how far what a check lacks may go for it to pass, to four digits
// on the side that passes; "" where that cannot be said.
func RoomOf(c *lint.Result, s quantity.Style) string {
	r, ok := c.Room()
	if !ok {
		return ""
	}
	most := "at least"
	if r.AtMost {
		most = "at most"
	}
	figure := func(v float64) string {
		u := shown.UnitOf(r.Leaves[0], c, s)
		x := (v - u.Offset) / u.Factor
		x = rounded(x, r.AtMost)
		return u.Join(quantity.Digits(x, 4))
	}
	if len(r.Leaves) == 1 {
		return fmt.Sprintf("passes if %s is %s %s", lacking(c, r.Leaves[0]), most, figure(r.Each))
	}
	return fmt.Sprintf("passes if they come to %s %s together, %s each if alike", most, figure(r.All()), figure(r.Each))
}

// lacking names the number that a check lacks: "that" where it was just named,
// else by its key, as of a place whose one coordinate decides.
func lacking(c *lint.Result, leaf quantity.Quantity) string {
	if path := leaf.Source().Path(); len(c.Needs) != 1 || c.Needs[0].Key != path {
		return path
	}
	return "that"
}

// rounded is x to four digits, down or up, save for what the search left.
func rounded(x float64, down bool) float64 {
	step := math.Pow(10, math.Floor(math.Log10(math.Abs(x)))-3)
	switch n := x / step; {
	case math.Abs(n-math.Round(n)) < 0.01:
		return math.Round(n) * step
	case down:
		return math.Floor(n) * step
	default:
		return math.Ceil(n) * step
	}
}

type jsonRoom struct {
	Of    []string `json:"of"`    // what is lacking
	Sense string   `json:"sense"` // "at-most" or "at-least"
	Each  decimal  `json:"each"`  // the bound of each, taken to be alike
	All   decimal  `json:"all"`   // and of all together
	Unit  string   `json:"unit"`
}

func roomOf(c *lint.Result) *jsonRoom {
	r, ok := c.Room()
	if !ok {
		return nil
	}
	out := &jsonRoom{Sense: string(lint.AtLeast), Each: decimal(r.Each), All: decimal(r.All()), Unit: r.Leaves[0].Dim().SISymbol()}
	if r.AtMost {
		out.Sense = string(lint.AtMost)
	}
	for _, l := range r.Leaves {
		out.Of = append(out.Of, l.Source().Path())
	}
	return out
}
