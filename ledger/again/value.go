package again

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
	"fishplate/ledger/syntax"
)

// The least that a value may be out by which was read on another vehicle, in
// SI: an inch, ten degrees Fahrenheit, two degrees of angle. Common practice, no
// source.
const (
	anInch        = 0.0254
	tenFahrenheit = 10 / 1.8
	twoDegrees    = 2 * math.Pi / 180
	aTenth        = 0.1
)

// quantity copies a quantity: a reading as an estimate, an exact value of the
// vehicle as a comment.
func (c *copier) quantity(a at, f *schema.Field, n *syntax.Node) {
	text, isText := n.Value.(string)
	r, err := q.Parse(text, f.Dim, q.Options{Exact: f.Exact, Position: f.Position})
	switch {
	case f.OfVehicle && (f.Exact || !isText || err != nil):
		c.comment(a, n)
	case !isText || err != nil, !f.OfVehicle && r.Grade != q.Measured:
	case r.Grade == q.Estimate:
		c.out.Estimates = append(c.out.Estimates, a.name)
	default:
		guess, ok := estimate(r, f)
		if !ok {
			c.comment(a, n)
			return
		}
		c.put(n.ValueRange, quoted(guess))
		c.say(a.stmt, "read on "+c.origin.Called+": "+r.Spelling)
		if f.OfVehicle {
			c.out.Estimates = append(c.out.Estimates, a.name)
		}
	}
}

// comment turns a statement into a comment. A value among others on a line is
// left out instead.
func (c *copier) comment(a at, n *syntax.Node) {
	c.out.Commented = append(c.out.Commented, a.name)
	if a.stmt != n || n.Whole.Empty() || strings.Contains(c.text[n.Whole.From:n.Whole.To], "\n") {
		c.drop(a, n)
		return
	}
	c.insert(c.lineStart(int(n.Whole.From)), "# of "+c.origin.Called+": ")
}

// estimate spells a reading as an estimate: ten percent of it, or what such a
// value may be out by at the least.
func estimate(r q.Reading, f *schema.Field) (string, bool) {
	least := 0.0
	switch r.Unit.Dim {
	case q.Length:
		least = anInch
	case q.Temperature, q.TemperatureDiff:
		least = tenFahrenheit
	case q.Angle:
		least = twoDegrees
	}
	head, _, _ := strings.Cut(r.Spelling, " ±")
	if last := head[len(head)-1]; last >= '0' && last <= '9' && r.Unit.Symbol != "" {
		head += " " + r.Unit.Symbol
	}
	tenth := aTenth * math.Abs(r.Value)
	if r.Unit.Dim == q.Temperature { // a tenth of a point on a scale means nothing
		tenth = 0
	}
	guess := "~" + head
	if least > tenth || f.Position {
		guess = fmt.Sprintf("~%s ± %s %s", strings.TrimSuffix(head, " "+r.Unit.Symbol), upTwo(max(least, tenth)/r.Unit.Factor), r.Unit.Symbol)
	}
	got, err := q.Parse(guess, f.Dim, q.Options{Position: f.Position})
	return guess, err == nil && f.Refuses(got) == ""
}

// upTwo spells a number with two figures, rounded up.
func upTwo(v float64) string {
	if v <= 0 {
		return "0"
	}
	step := math.Pow(10, math.Floor(math.Log10(v))-1)
	return strconv.FormatFloat(math.Ceil(v/step-1e-9)*step, 'g', 2, 64)
}

// reference copies a name of an entry, or a list of them, without those that
// stay with the first vehicle.
func (c *copier) reference(a at, n *syntax.Node) {
	if n.Kind != syntax.Array {
		if text, ok := n.Value.(string); ok && c.leaves(text) {
			c.drop(a, n)
		}
		return
	}
	var kept []string
	for _, m := range n.Children {
		if text, ok := m.Value.(string); !ok || !c.leaves(text) {
			kept = append(kept, m.Text)
		}
	}
	switch {
	case len(kept) == len(n.Children):
	case len(kept) == 0:
		c.drop(a, n)
	default:
		c.put(n.ValueRange, "["+strings.Join(kept, ", ")+"]")
	}
}

// leaves tells whether a name is of an entry that is left out, or of a value of
// one.
func (c *copier) leaves(name string) bool {
	for i := range name {
		if name[i] == '.' && c.left[name[:i]] {
			return true
		}
	}
	return c.left[name]
}
