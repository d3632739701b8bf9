package quantity

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// figure is a number as it was printed.
type figure struct {
	value    float64
	place    float64 // the value of its last printed place, or of its fraction's part
	fraction bool
	feet     bool // feet and inches; the value is in inches
	spelling string
}

const tapeHalf = 1.0 / 32 // in: what a tape's marks are good to

// half is what the figure is good to by how it is printed, in u: half its last
// place, and on a tape in inches never more than a thirty-second.
func (f figure) half(u *Unit) float64 {
	if f.fraction && u.Symbol == "in" {
		return math.Min(tapeHalf, f.place/2)
	}
	return f.place / 2
}

// in is the figure in SI, read in u.
func (f figure) in(u *Unit) float64 { return f.value*u.Factor + u.Offset }

// number reads a figure and leaves the rest, which is the unit. Feet and
// inches ("5 ft 2 1/4 in") come back in inches.
func number(s string) (figure, string, error) {
	n, rest, err := plainOrFraction(s)
	if err != nil {
		return n, "", err
	}
	if tooLong(s[:len(s)-len(rest)]) {
		return n, "", fmt.Errorf("a number of more than %d digits", maxDigits)
	}
	word, more, _ := strings.Cut(rest, " ")
	if i := strings.IndexByte(rest, '\''); i == 0 {
		word, more = "ft", rest[1:]
	}
	if more != "" && isUnit(word, "ft") {
		in, unit, err := plainOrFraction(more)
		if err == nil && isUnit(unit, "in") {
			if in.value < 0 || in.value >= 12 || n.value != math.Trunc(n.value) {
				return n, "", errors.New("feet and inches take whole feet and less than 12 in, as in \"5 ft 2 1/4 in\"")
			}
			sign := 1.0
			if strings.HasPrefix(n.spelling, "-") {
				sign = -1
			}
			in.value, in.feet = n.value*12+sign*in.value, true
			in.spelling = n.spelling + " ft " + in.spelling
			return in, "in", nil
		}
	}
	return n, rest, nil
}

func isUnit(spelling, symbol string) bool {
	u, ok := unitBySymbol[spelling]
	return ok && u.Symbol == symbol
}

func plainOrFraction(s string) (figure, string, error) {
	s = strings.TrimSpace(s)
	head, rest := s[:numberEnd(s)], ""
	rest = s[len(head):]
	if i := strings.LastIndexByte(head, '-'); i > 0 && startsFraction(head[i+1:]+rest) { // 3-1/2, as people write it
		head, rest = head[:i], " "+head[i+1:]+rest
	}
	if strings.IndexByte(head, ',') >= 0 {
		return figure{}, "", fmt.Errorf("a number with a point for decimals and no commas, as in 1.5 or 1200; got %q", s)
	}
	whole := isDigits(strings.TrimLeft(head, "+-"))
	if whole && startsFraction("1"+rest) {
		return fraction("", head, rest[1:])
	}
	v, err := strconv.ParseFloat(head, 64)
	if err != nil {
		low := strings.ToLower(strings.TrimLeft(s, "+-"))
		if errors.Is(err, strconv.ErrRange) || strings.HasPrefix(low, "inf") || strings.HasPrefix(low, "nan") {
			return figure{}, "", errors.New("a finite number")
		}
		return figure{}, "", fmt.Errorf("a number and a unit; got %q", s)
	}
	rest = strings.TrimSpace(rest)
	if whole && startsFraction(rest) { // 3 1/2
		num, den, _ := strings.Cut(rest, "/")
		return fraction(head, num, den)
	}
	return figure{value: v, place: lastDigit(head), spelling: strings.TrimPrefix(head, "+")}, rest, nil
}

// numberEnd is where a number at the start of s ends: after its digits, signs,
// points and commas, and an exponent if digits follow the e.
func numberEnd(s string) int {
	end := 0
	for ; end < len(s); end++ {
		c := s[end]
		switch {
		case c >= '0' && c <= '9', c == '+', c == '-', c == '.', c == ',':
		case (c == 'e' || c == 'E') && end > 0 && end+1 < len(s) && strings.IndexByte("+-0123456789", s[end+1]) >= 0:
		default:
			return end
		}
	}
	return end
}

// startsFraction tells whether s begins with digits, a stroke and a digit.
func startsFraction(s string) bool {
	i := digits(s)
	return i > 0 && i+1 < len(s) && s[i] == '/' && digits(s[i+1:]) > 0
}

func digits(s string) int {
	i := 0
	for i < len(s) && s[i] >= '0' && s[i] <= '9' {
		i++
	}
	return i
}

// fraction reads num/den after a whole number, or alone; rest begins with den.
func fraction(whole, num, rest string) (figure, string, error) {
	i := digits(rest)
	den, rest := rest[:i], strings.TrimSpace(rest[i:])
	n, err1 := strconv.ParseFloat(num, 64)
	d, err2 := strconv.ParseFloat(den, 64)
	if err1 != nil || err2 != nil {
		return figure{}, "", errors.New("a fraction such as 3 1/2")
	}
	if d == 0 {
		return figure{}, "", errors.New("a fraction over zero means nothing")
	}
	f := figure{value: n / d, place: 1 / d, fraction: true, spelling: strings.TrimPrefix(num, "+") + "/" + den}
	if whole != "" {
		if n >= d {
			return figure{}, "", fmt.Errorf("the fraction %s/%s after a whole number is not less than one", num, den)
		}
		w, err := strconv.ParseFloat(whole, 64)
		if err != nil {
			return figure{}, "", errors.New("a whole number before the fraction")
		}
		f.value = math.Copysign(math.Abs(w)+n/d, w)
		f.spelling = strings.TrimPrefix(whole, "+") + " " + f.spelling
	}
	return f, rest, nil
}

func isDigits(s string) bool {
	return s != "" && digits(s) == len(s)
}

// lastDigit is the place value of the last printed digit: 0.01 for "3.73".
func lastDigit(s string) float64 {
	mantissa, exp := s, 0
	if i := strings.IndexAny(s, "eE"); i >= 0 {
		mantissa = s[:i]
		exp, _ = strconv.Atoi(s[i+1:])
	}
	if i := strings.IndexByte(mantissa, '.'); i >= 0 {
		exp -= len(mantissa) - i - 1
	}
	return tenTo(exp)
}

// tenTo is the power of ten nearest to exact; math.Pow10 differs in the last
// bit below 1e-22, where it does not matter.
func tenTo(exp int) float64 {
	if exp < 0 && exp >= -22 {
		return 1 / math.Pow10(-exp)
	}
	return math.Pow10(exp)
}
