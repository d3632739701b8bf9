package quantity

import (
	"strconv"
	"strings"
	"sync"

	"golang.org/x/text/currency"
)

// Money has the codes of ISO 4217 for units. One is never turned into another,
// and AWG, which is the code of a florin, is a wire size here.

var currencies sync.Map // the units of codes that were met, by code

// atomic is the unit that is spelled so, without others joined to it.
func atomic(s string) (*Unit, bool) {
	if u, ok := unitBySymbol[s]; ok {
		return u, true
	}
	return currencyUnit(s)
}

func currencyUnit(code string) (*Unit, bool) {
	if !isCode(code) {
		return nil, false
	}
	if u, ok := currencies.Load(code); ok {
		return u.(*Unit), true
	}
	if _, err := currency.ParseISO(code); err != nil {
		return nil, false
	}
	u, _ := currencies.LoadOrStore(code, &Unit{Symbol: code, Dim: Money, Factor: 1})
	return u.(*Unit), true
}

func isCode(s string) bool {
	if len(s) != 3 || s == "AWG" || s == "XXX" || s == "XTS" {
		return false
	}
	for i := range len(s) {
		if s[i] < 'A' || s[i] > 'Z' {
			return false
		}
	}
	return true
}

// Currency is the code of the money in a value: of the first of its leaves
// that is written in one; "" where none is.
func (q Quantity) Currency() string {
	for _, l := range q.Leaves() {
		if r, ok := l.Reading(); ok && r.Unit.Dim.Money != 0 {
			code, _, _ := strings.Cut(r.Unit.Symbol, "/")
			return code
		}
	}
	return ""
}

// FormatMoney prints a sum of money to the cent, with its doubt to the whole
// unit where it has one: "1400 ± 140 USD", "24512.35 USD".
func FormatMoney(value, low, high float64, code string) string {
	half := max(high-value, value-low)
	if !(half > 0.005) {
		return Group(strings.TrimSuffix(strconv.FormatFloat(value, 'f', 2, 64), ".00")) + " " + code
	}
	decimals := 0
	if half < 10 {
		decimals = 2
	}
	return Group(strconv.FormatFloat(value, 'f', decimals, 64)) + " ± " + Group(strconv.FormatFloat(half, 'f', decimals, 64)) + " " + code
}
