package schema

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	q "fishplate/ledger/quantity"
)

// Limits are what a key's value may be, beyond its dimension.
type Limits struct {
	Signed    bool // it may be negative
	AboveZero bool
	Low, High float64   // within these; both 0 where there is no range
	Choices   []float64 // one of these
	Units     string    // those in which a shop writes it, "mi or km"; "" for those of its dimension
}

// readLimits reads a key's tags. Without one, a value is not negative.
func readLimits(tags map[string]string) Limits {
	l := Limits{Units: tags["unit"]}
	_, l.Signed = tags["signed"]
	_, l.AboveZero = tags["above-zero"]
	if low, high, ok := strings.Cut(tags["within"], " to "); ok {
		l.Low, l.High = number(low), number(high)
	}
	if s := tags["choices"]; s != "" {
		for _, c := range strings.Split(s, ",") {
			l.Choices = append(l.Choices, number(c))
		}
	}
	return l
}

// TakesNumber says what a key of a quantity takes.
func (f *Field) TakesNumber() string {
	switch {
	case len(f.Choices) > 0:
		words := make([]string, len(f.Choices))
		for i, c := range f.Choices {
			words[i] = plain(c)
		}
		return Or(words)
	case f.High > 0:
		out := fmt.Sprintf("a number from %s to %s", plain(f.Low), plain(f.High))
		if f.Share() {
			out += ", or %"
		}
		return out
	case f.Units != "":
		return kindOfValue(f.Dim) + ", such as " + f.Units
	}
	return f.Dim.Takes()
}

// Share tells that the number is a share of something, which a shop may write
// in percent.
func (f *Field) Share() bool { return f.High > 0 && f.High <= 2 }

// UnitsWritten are the units that a shop writes the key in; nil where there are none.
func (f *Field) UnitsWritten() []string {
	if f.Units != "" {
		return strings.Split(f.Units, " or ")
	}
	return f.Dim.Units()
}

// Refuses tells what is impossible about a value that a key was given, or "".
// A value is judged by its nominal, and an estimate by its ends by those too.
func (f *Field) Refuses(r q.Reading) string {
	values := []float64{r.Value}
	if strings.Contains(r.Spelling, " to ") {
		values = append(values, r.Low, r.High)
	}
	bad := func(is func(float64) bool) bool { return slices.ContainsFunc(values, is) }
	dim := r.Unit.Dim
	switch {
	case len(f.Choices) > 0:
		if !slices.Contains(f.Choices, r.Value) {
			return "takes " + f.TakesNumber()
		}
	case f.High > 0:
		if bad(func(v float64) bool { return v < f.Low || v > f.High }) {
			return "takes " + f.TakesNumber()
		}
	case f.Signed, dim == q.Temperature, dim == q.Angle:
	case f.AboveZero && (r.Value <= 0 || bad(func(v float64) bool { return v < 0 })):
		return "takes " + kindOfValue(dim) + " above zero"
	case bad(func(v float64) bool { return v < 0 }):
		if dim == q.Ratio && f.Exact {
			return "a count or a limit is not negative"
		}
		return kindOfValue(dim) + " is not negative"
	}
	return ""
}

// plain spells a number of the schema, such as 0.5 or 2.
func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// kindOfValue is "a length" or "a number".
func kindOfValue(dim q.Dim) string {
	if dim == q.Ratio {
		return "a number"
	}
	kind, _, _ := strings.Cut(dim.Takes(), ", such as ")
	return kind
}
