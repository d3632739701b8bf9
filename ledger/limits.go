package ledger

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	q "fishplate/ledger/quantity"
)

// limits are what a key's value may be, beyond its dimension.
type limits struct {
	signed   bool      // it may be negative
	above    bool      // it must be above zero
	low      float64   // within low to high
	high     float64   // 0 where there is no range
	choices  []float64 // one of these
	examples string    // units in which a shop writes it
}

// readLimits reads a key's tags. Without one, a value is not negative.
func readLimits(tag reflect.StructTag) limits {
	var l limits
	_, l.signed = tag.Lookup("signed")
	_, l.above = tag.Lookup("above-zero")
	l.examples = tag.Get("unit")
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			panic("schema: " + err.Error())
		}
		return v
	}
	if low, high, ok := strings.Cut(tag.Get("within"), " to "); ok {
		l.low, l.high = number(low), number(high)
	}
	if s := tag.Get("choices"); s != "" {
		for _, c := range strings.Split(s, ",") {
			l.choices = append(l.choices, number(c))
		}
	}
	return l
}

// takesNumber says what a key of a quantity takes.
func (f *field) takesNumber() string {
	switch {
	case len(f.choices) > 0:
		words := make([]string, len(f.choices))
		for i, c := range f.choices {
			words[i] = plainNumber(c)
		}
		return list(words)
	case f.high > 0:
		out := fmt.Sprintf("a number from %s to %s", plainNumber(f.low), plainNumber(f.high))
		if f.high <= 2 {
			out += ", or %"
		}
		return out
	case f.examples != "":
		return kindOfValue(f.dim) + ", such as " + f.examples
	}
	return f.dim.Takes()
}

// refuses tells what is impossible about a value that a key was given, or "".
// A value is judged by its nominal, and an estimate by its ends by those too.
func (f *field) refuses(r q.Reading) string {
	values := []float64{r.Value}
	if strings.Contains(r.Spelling, " to ") {
		values = append(values, r.Low, r.High)
	}
	bad := func(is func(float64) bool) bool { return slices.ContainsFunc(values, is) }
	of, dim := f.takesNumber(), r.Unit.Dim
	switch {
	case len(f.choices) > 0:
		if !slices.Contains(f.choices, r.Value) {
			return "takes " + of
		}
	case f.high > 0:
		if bad(func(v float64) bool { return v < f.low || v > f.high }) {
			return "takes " + of
		}
	case f.typ == typeSpot, f.signed, dim == q.Temperature, dim == q.Angle:
	case f.above && (r.Value <= 0 || bad(func(v float64) bool { return v < 0 })):
		return "takes " + kindOfValue(dim) + " above zero"
	case bad(func(v float64) bool { return v < 0 }):
		if dim == q.Ratio && f.exact {
			return "a count or a limit is not negative"
		}
		return kindOfValue(dim) + " is not negative"
	}
	return ""
}

// kindOfValue is "a length" or "a number".
func kindOfValue(dim q.Dim) string {
	if dim == q.Ratio {
		return "a number"
	}
	kind, _, _ := strings.Cut(dim.Takes(), ", such as ")
	return kind
}
