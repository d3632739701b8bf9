package report

import (
	"fmt"
	"math"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

// Sources are the publications that a rule rests on, in one line.
func Sources(r *lint.Rule) string {
	var out []string
	for _, c := range r.Sources {
		out = append(out, c.String())
	}
	return strings.Join(out, "; ")
}

// SourceWords is a source and how it is known: looked up, second-hand, from
// memory; common practice says so itself.
func SourceWords(c quantity.Citation) string {
	text := Clean(c.Text)
	if c.Text == quantity.Practice.Text {
		return text
	}
	return text + " (" + c.Standing() + ")"
}

// Where is a place as a person clicks on it.
func Where(p quantity.Place) string {
	if p.Line == 0 {
		return Clean(p.File)
	}
	return Clean(fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column))
}

// Fault is a line about something that cannot be read.
func Fault(f ledger.Fault) string { return Clean(f.String()) }

// Plural counts things: "1 check", "2 checks".
func Plural(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}

// Tolerance words a half width in SI in the unit that the value was written
// in, rounded down to two digits.
func Tolerance(leaf quantity.Quantity, half float64, s quantity.Style) string {
	u := s.Unit(leaf)
	if r, ok := leaf.Reading(); ok {
		u = r.Unit
	}
	v := half / u.Factor
	if v > 0 {
		step := math.Pow(10, math.Floor(math.Log10(v))-1)
		v = math.Floor(v/step) * step
	}
	return "± " + u.Join(quantity.Digits(v, 2))
}
