package editor

import (
	"math"
	"strconv"
	"strings"

	"fishplate/ledger/quantity"
)

// inUnit spells a reading in another unit of its dimension, so that all that it may
// be still lies in what is written: the doubt is rounded up. What is stated, and not
// exact, has a doubt by how it is spelled, which the other unit cannot say: it is
// written as an estimate. "" where nothing is to be said in that unit.
func inUnit(r quantity.Reading, u *quantity.Unit) string {
	in := func(v float64) float64 { return (v - u.Offset) / u.Factor }
	value, low, high := in(r.Value), in(r.Low), in(r.High)
	half := (high - low) / 2
	switch {
	case math.IsNaN(half) || math.IsInf(half, 0) || u.Symbol == "" || u.Symbol == r.Unit.Symbol:
		return ""
	case half == 0:
		return u.Join(decimal(quantity.Rounded(value, 7)))
	case strings.Contains(r.Spelling, " to "):
		step := stepOf(half)
		return decimal(math.Floor(low/step)*step) + " to " + u.Join(decimal(math.Ceil(high/step)*step))
	}
	step := stepOf(half)
	near := math.Round(value/step) * step
	half = math.Ceil((half+math.Abs(value-near))/step*(1-1e-9)) * step
	text := u.Join(decimal(near) + " ± " + decimal(half))
	if r.Grade != quantity.Measured {
		text = "~" + text
	}
	return text
}

// stepOf is the place of the second digit of a doubt.
func stepOf(half float64) float64 { return math.Pow(10, math.Floor(math.Log10(half))-1) }

// decimal spells a number without powers of ten, and without what rounding left.
func decimal(v float64) string {
	return strconv.FormatFloat(quantity.Rounded(v, 12), 'f', -1, 64)
}
