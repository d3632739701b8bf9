package ledger

import "strings"

// Natural compares names with the numbers in them as numbers: pin 2 comes
// before pin 12.
func Natural(a, b string) int {
	x, y := a, b
	for x != "" && y != "" {
		m, n := digits(x), digits(y)
		if m == 0 || n == 0 {
			if x[0] != y[0] {
				return int(x[0]) - int(y[0])
			}
			x, y = x[1:], y[1:]
			continue
		}
		p, q := strings.TrimLeft(x[:m], "0"), strings.TrimLeft(y[:n], "0")
		if len(p) != len(q) {
			return len(p) - len(q)
		}
		if c := strings.Compare(p, q); c != 0 {
			return c
		}
		x, y = x[m:], y[n:]
	}
	if c := len(x) - len(y); c != 0 {
		return c
	}
	return strings.Compare(a, b)
}

// digits is how many digits a text begins with.
func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}
