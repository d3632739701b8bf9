package report

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"fishplate/ledger/quantity"
)

// addUp prints shares of a total in a unit, all to the same digit, so that the
// printed shares make the printed total. What is not a number is printed as "".
func addUp(shares []float64, total float64, u *quantity.Unit) (printed []string, sum string) {
	place := digitOf(shares, total, u)
	step := u.Factor * math.Pow(10, float64(place))
	steps := make([]float64, len(shares))
	for i, v := range shares {
		steps[i] = v / step
	}
	all := math.Round(total / step)
	whole := roundedTo(steps, all)
	show := func(n float64) string {
		text := quantity.Group(strconv.FormatFloat(n*math.Pow(10, float64(place)), 'f', -place, 64))
		switch {
		case n > 0:
			text = "+" + text
		case n == 0:
			text = strings.TrimPrefix(text, "-")
		}
		return u.Join(text)
	}
	printed = make([]string, len(shares))
	for i, n := range whole {
		if !math.IsNaN(n) {
			printed[i] = show(n)
		}
	}
	return printed, show(all)
}

// digitOf is the power of ten of the last digit to print: three digits of the
// greatest number, and none beyond the ones.
func digitOf(shares []float64, total float64, u *quantity.Unit) int {
	most := math.Abs(total)
	for _, v := range shares {
		if math.Abs(v) > most {
			most = math.Abs(v)
		}
	}
	if most == 0 {
		return 0
	}
	return min(0, int(math.Floor(math.Log10(most/u.Factor)))-2)
}

// roundedTo rounds numbers so that they add up to a total: what rounding leaves
// over goes one by one to those that it did the most wrong. What is not a number
// stays so; where more is left over than there are numbers, they stay rounded.
func roundedTo(numbers []float64, total float64) []float64 {
	whole := make([]float64, len(numbers))
	left := total
	var order []int
	for i, v := range numbers {
		if whole[i] = math.Round(v); !math.IsNaN(v) {
			left -= whole[i]
			order = append(order, i)
		}
	}
	// The more a number lost by rounding in the direction of what is left, the
	// sooner it takes one up.
	lost := func(i int) float64 { return (numbers[i] - whole[i]) * left }
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(lost(j), lost(i)) })
	for _, i := range order {
		if left == 0 || math.Abs(left) > float64(len(numbers)) {
			break
		}
		one := math.Copysign(1, left)
		whole[i], left = whole[i]+one, left-one
	}
	return whole
}
