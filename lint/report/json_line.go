package report

import (
	"bytes"
	"math"
	"strconv"
)

// line is a check as it is written in JSON. The package encoding/json finds out
// what there is to write by reflection, check by check; there are a thousand of
// them in a build. Its output is the same (TestLineIsJSON).
type line []byte

func (l *line) add(text string) { *l = append(*l, text...) }

// text adds a string. What needs more than quotes goes the long way.
func (l *line) text(s string) {
	for i := 0; i < len(s); i++ {
		if c := s[i]; c < ' ' || c > '~' || c == '"' || c == '\\' || c == '#' {
			*l = append(*l, encode(s)...)
			return
		}
	}
	*l = append(append(append(*l, '"'), s...), '"')
}

func (l *line) truth(b bool) { *l = strconv.AppendBool(*l, b) }

// number adds a number to twelve digits, as encoding/json does. What is very small
// or very large goes the long way.
func (l *line) number(v decimal) {
	if v == 0 {
		l.add("0")
		return
	}
	if a := math.Abs(float64(v)); !(a >= 1e-6 && a < 1e20) {
		*l = append(*l, encode(v)...)
		return
	}
	var few [24]byte
	digits := strconv.AppendFloat(few[:0], float64(v), 'e', plainDigits-1, 64) // -1.23450000000e+03
	if digits[0] == '-' {
		l.add("-")
		digits = digits[1:]
	}
	exp, _ := strconv.Atoi(string(digits[plainDigits+2:]))
	digits[1] = digits[0]
	digits = bytes.TrimRight(digits[1:plainDigits+1], "0")
	const zeros = "00000000000000000000"
	switch whole := exp + 1; {
	case whole <= 0:
		l.add("0." + zeros[:-whole])
		*l = append(*l, digits...)
	case len(digits) <= whole:
		*l = append(*l, digits...)
		l.add(zeros[:whole-len(digits)])
	default:
		*l = append(append(append(*l, digits[:whole]...), '.'), digits[whole:]...)
	}
}

func (l *line) figure(n *jsonNumber) {
	if n == nil {
		l.add("null")
		return
	}
	l.add(`{"value":`)
	l.number(n.Value)
	l.add(`,"low":`)
	l.number(n.Low)
	l.add(`,"high":`)
	l.number(n.High)
	l.add(`,"unit":`)
	l.text(n.Unit)
	if n.Grade != "" {
		l.add(`,"grade":`)
		l.text(n.Grade)
	}
	l.add("}")
}

func (l *line) shares(all []jsonShare) {
	l.add("[")
	for i, s := range all {
		if i > 0 {
			l.add(",")
		}
		l.add(`{"entry":`)
		l.text(s.Entry)
		l.add(`,"of-value":`)
		l.number(s.OfValue)
		l.add(`,"of-doubt":`)
		l.number(s.OfDoubt)
		l.add("}")
	}
	l.add("]")
}

func (l *line) texts(all []string) {
	l.add("[")
	for i, s := range all {
		if i > 0 {
			l.add(",")
		}
		l.text(s)
	}
	l.add("]")
}

// check adds a check, with its rule's sources as they were encoded already.
func (l *line) check(c *jsonCheck, sources []byte) {
	for _, f := range []struct{ key, text string }{{`{"rule":`, c.Rule}, {`,"entry":`, c.Entry}, {`,"aspect":`, c.Aspect}, {`,"verdict":`, c.Verdict}, {`,"underlying":`, c.Underlying}} {
		l.add(f.key)
		l.text(f.text)
	}
	if c.ToDo {
		l.add(`,"to-do":true`)
	}
	l.add(`,"counts":`)
	l.truth(c.Counts)
	l.add(`,"must":`)
	l.truth(c.Must)
	l.add(`,"due":`)
	l.text(c.Due)
	l.add(`,"sense":`)
	l.text(string(c.Sense))
	l.add(`,"value":`)
	l.figure(c.Value)
	l.add(`,"limit":`)
	l.figure(c.Limit)
	if c.Upper != nil {
		l.add(`,"upper-limit":`)
		l.figure(c.Upper)
	}
	if c.Within != nil {
		l.add(`,"within":`)
		l.figure(c.Within)
	}
	l.add(`,"margin":`)
	l.figure(c.Margin)
	l.add(`,"missing":`)
	l.texts(c.Missing)
	l.add(`,"reason":`)
	l.text(c.Reason)
	if c.Settled != "" {
		l.add(`,"settled-by":`)
		l.text(c.Settled)
	}
	l.add(`,"sources":`)
	*l = append(*l, sources...)
	l.add(`,"file":`)
	l.text(c.File)
	l.add(`,"line":`)
	*l = strconv.AppendInt(*l, int64(c.Line), 10)
	l.add(`,"column":`)
	*l = strconv.AppendInt(*l, int64(c.Column), 10)
	l.add(`,"shares":`)
	l.shares(c.Shares)
	if c.Room != nil {
		l.add(`,"room":`)
		*l = append(*l, encode(c.Room)...)
	}
	l.add("}")
}
