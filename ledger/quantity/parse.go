package quantity

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Grade says how far a value can be trusted.
type Grade uint8

// From worst to best. Assumed is a default that the tool supplied.
const (
	Assumed Grade = iota
	Estimate
	Stated
	Measured
)

var gradeWords = [...]string{"assumed", "estimate", "stated", "measured"}

func (g Grade) String() string { return gradeWords[g] }

// Reading is a value as a person wrote it: taken apart, but not yet placed.
// Value, Low and High are SI. Spelling is the canonical spelling, which parses
// back to the same reading.
type Reading struct {
	Value, Low, High float64
	Grade            Grade
	Unit             *Unit
	Spelling         string
}

// Options says what a key takes besides its dimension.
type Options struct {
	Exact    bool // a certified rating, a limit or a count: no tolerance of its own
	Position bool // an estimate of it must say its ±
}

var errNoNumber = errors.New("a number")

// Parse reads a quantity in any of the forms a ledger allows:
//
//	"612 lb"  "612 ± 5 lb"  "~600 lb"  "~600 ± 80 lb"  "0 to 2 lb"  "3 1/2 in"  "5 ft 2 1/4 in"  "± 2 %"
//
// The error says what was expected, in words fit for a finding.
func Parse(text string, dim Dim, opt Options) (Reading, error) {
	s := strings.Join(strings.Fields(text), " ")
	s = strings.NewReplacer("+/-", "±", "−", "-", "½", " 1/2", "¼", " 1/4", "¾", " 3/4").Replace(s)
	s = strings.TrimSpace(strings.ReplaceAll(s, "  ", " "))
	var r Reading
	if s == "" {
		return r, fmt.Errorf("empty; takes %s", dim.Takes())
	}
	approx := false
	if rest, ok := strings.CutPrefix(s, "~"); ok {
		approx, s = true, strings.TrimSpace(rest)
	}
	var err error
	switch {
	case strings.Contains(s, " to "):
		if approx {
			return r, errors.New("an estimate by its ends takes no ~; write \"10 to 12 lb\"")
		}
		r, err = parseEnds(s, dim)
	default:
		r, err = parseAround(s, approx, dim, opt)
	}
	if err != nil {
		return r, err
	}
	if opt.Exact {
		if r.Grade != Stated {
			return r, errors.New("a rating, a limit or a count is exact: leave out the tolerance")
		}
		r.Low, r.High = r.Value, r.Value
	}
	for _, v := range []float64{r.Value, r.Low, r.High} {
		if math.IsInf(v, 0) || math.IsNaN(v) {
			return r, errors.New("must be finite")
		}
	}
	if r.Unit.Dim == Temperature && r.Low < 0 {
		return r, errors.New("a temperature below absolute zero")
	}
	if r.Unit.Dim == AbsolutePressure && r.Low < 0 {
		return r, errors.New("an absolute pressure below zero")
	}
	return r, nil
}

func parseEnds(s string, dim Dim) (Reading, error) {
	lowText, highText, _ := strings.Cut(s, " to ")
	var r Reading
	high, unit, err := number(highText)
	if err != nil {
		return r, err
	}
	low, lowUnit, err := number(lowText)
	if err != nil {
		return r, err
	}
	if strings.ContainsAny(s, "±~") {
		return r, errors.New("an estimate by its ends takes no ± and no ~")
	}
	u, err := unitFor(unit, dim)
	if err != nil {
		return r, err
	}
	lu := u
	if lowUnit != "" {
		if lu, err = unitFor(lowUnit, dim); err != nil {
			return r, err
		}
	}
	lo, hi := low.value*lu.Factor+lu.Offset, high.value*u.Factor+u.Offset
	if lo > hi {
		return r, errors.New("the lower end comes first, as in \"0 to 2 lb\"")
	}
	spelling := low.spelling
	if lu != u {
		spelling = joined(low.spelling, lu)
	}
	return Reading{Value: (lo + hi) / 2, Low: lo, High: hi, Grade: Estimate, Unit: u, Spelling: spelling + " to " + joined(high.spelling, u)}, nil
}

func joined(spelling string, u *Unit) string {
	if u.Symbol == "" {
		return spelling
	}
	return spelling + " " + u.Symbol
}

func parseAround(s string, approx bool, dim Dim, opt Options) (Reading, error) {
	var r Reading
	main, tolText, measured := strings.Cut(s, "±")
	main, tolText = strings.TrimSpace(main), strings.TrimSpace(tolText)
	if strings.Contains(tolText, "±") {
		return r, errors.New("two ±; one is enough")
	}
	n, unitText, err := number(main)
	if err != nil {
		return r, err
	}
	var t figure
	tolUnit := ""
	if measured {
		if t, tolUnit, err = number(tolText); err != nil {
			return r, fmt.Errorf("after the ± comes %w", err)
		}
		if t.value < 0 || strings.HasPrefix(t.spelling, "-") {
			return r, errors.New("a tolerance is not negative")
		}
		if unitText == "" && tolUnit != "%" {
			unitText, tolUnit = tolUnit, ""
		}
	}
	u, err := unitFor(unitText, dim)
	if err != nil {
		return r, err
	}
	tol, tolSpelling, err := tolerance(n, t, tolUnit, u, approx, measured, opt)
	if err != nil {
		return r, err
	}
	r = Reading{Value: n.value*u.Factor + u.Offset, Unit: u, Grade: Stated}
	r.Low, r.High = r.Value-tol, r.Value+tol
	switch {
	case approx:
		r.Grade = Estimate
		r.Spelling = "~"
	case measured:
		r.Grade = Measured
	}
	switch {
	case !measured:
		r.Spelling += joined(n.spelling, u)
	case strings.HasSuffix(tolSpelling, "%") && u.Symbol != "%":
		r.Spelling += joined(n.spelling, u) + " ± " + tolSpelling
	default:
		r.Spelling += joined(n.spelling+" ± "+tolSpelling, u)
	}
	if opt.Exact && strings.ContainsAny(r.Spelling, "/") && !measured && !approx {
		r.Low, r.High = r.Value, r.Value
	}
	return r, nil
}

// tolerance works out the half width in SI and how the ± is spelt.
func tolerance(n, t figure, tolUnit string, u *Unit, approx, measured bool, opt Options) (float64, string, error) {
	size := math.Abs(u.Factor)
	switch {
	case measured && tolUnit == "%" && u.Symbol != "%":
		if n.value == 0 || u.Dim.Point || opt.Position {
			return 0, "", errors.New("a tolerance in % means nothing here; give it in the unit of the value")
		}
		return math.Abs(n.value) * size * t.value / 100, t.spelling + " %", nil
	case measured && tolUnit != "" && tolUnit != u.Symbol:
		tu, ok := UnitNamed(tolUnit)
		if !ok || tu.Dim.diff() != u.Dim.diff() {
			return 0, "", fmt.Errorf("the tolerance takes %s; got %q", u.Dim.diff().Takes(), tolUnit)
		}
		if tu.Symbol == u.Symbol {
			return t.value * size, t.spelling, nil
		}
		return 0, "", fmt.Errorf("the value and its ± take the same unit; got %s and %s", u.Symbol, tu.Symbol)
	case measured:
		return t.value * size, t.spelling, nil
	case approx && (n.value == 0 || u.Dim.Point || opt.Position):
		return 0, "", errors.New("an estimate of a zero, a temperature or a position must say its ±, as in \"~195 ± 10 degF\"")
	case approx:
		return math.Abs(n.value) * size * 0.1, "", nil
	}
	return n.half * size, "", nil
}

func unitFor(text string, dim Dim) (*Unit, error) {
	u, ok := UnitNamed(text)
	if !ok {
		if near := NearUnit(text); near != "" {
			return nil, fmt.Errorf("unknown unit %q; did you mean %q? It takes %s", text, near, dim.Takes())
		}
		return nil, fmt.Errorf("unknown unit %q; takes %s", text, dim.Takes())
	}
	if dim.any || u.Dim == dim {
		return u, nil
	}
	if dim == TemperatureDiff && u.Dim == Temperature {
		return &Unit{Symbol: u.Symbol, Dim: TemperatureDiff, Factor: u.Factor}, nil
	}
	if text == "" {
		return nil, fmt.Errorf("a number without a unit; takes %s", dim.Takes())
	}
	if dim == SpringRate && u.Dim == LinearDensity {
		if f, ok := map[string]float64{"lb/ft": poundF / foot, "kg/mm": gn * 1000, "kg/m": gn}[u.Symbol]; ok {
			return &Unit{Symbol: u.Symbol, Dim: SpringRate, Factor: f}, nil
		}
	}
	return nil, fmt.Errorf("takes %s; got %s (%q)", dim.Takes(), article(u.Dim.String()), text)
}

// figure is a number as it was printed.
type figure struct {
	value    float64
	half     float64 // half of its last printed digit, or of a tape's fraction
	spelling string
}

// number reads a figure and leaves the rest, which is the unit. Feet and
// inches ("5 ft 2 1/4 in") come back in inches.
func number(s string) (figure, string, error) {
	n, rest, err := plainOrFraction(s)
	if err != nil {
		return n, "", err
	}
	word, more, _ := strings.Cut(rest, " ")
	if (word == "ft" || word == "'") && more != "" {
		in, unit, err := plainOrFraction(more)
		if err == nil && (unit == "in" || unit == "\"") {
			if in.value < 0 || in.value >= 12 || n.value != math.Trunc(n.value) {
				return n, "", errors.New("feet and inches take whole feet and less than 12 in, as in \"5 ft 2 1/4 in\"")
			}
			sign := 1.0
			if strings.HasPrefix(n.spelling, "-") {
				sign = -1
			}
			f := figure{value: n.value*12 + sign*in.value, half: in.half, spelling: n.spelling + " ft " + in.spelling}
			return f, "in", nil
		}
	}
	return n, rest, nil
}

const tapeHalf = 1.0 / 32 // in: what a tape's marks are good to

func plainOrFraction(s string) (figure, string, error) {
	s = strings.TrimSpace(s)
	end := 0
	for end < len(s) && (s[end] >= '0' && s[end] <= '9' || strings.IndexByte("+-.,", s[end]) >= 0 || (s[end] == 'e' || s[end] == 'E') && end > 0 && end+1 < len(s) && strings.IndexByte("+-0123456789", s[end+1]) >= 0) {
		end++
	}
	head, rest := s[:end], s[end:]
	if strings.ContainsRune(head, ',') {
		return figure{}, "", fmt.Errorf("a plain number without commas, as in %s", strings.ReplaceAll(head, ",", ""))
	}
	if strings.HasPrefix(rest, "/") && head != "" && isDigits(strings.TrimLeft(head, "+-")) {
		return fraction("", head, rest[1:])
	}
	v, err := strconv.ParseFloat(head, 64)
	if err != nil || head == "" {
		low := strings.ToLower(strings.TrimLeft(s, "+-"))
		switch {
		case strings.HasPrefix(low, "inf") && !strings.HasPrefix(low, "inh"), strings.HasPrefix(low, "nan"), err != nil && errors.Is(err, strconv.ErrRange):
			return figure{}, "", errors.New("a finite number")
		}
		return figure{}, "", fmt.Errorf("a number and a unit; got %q", s)
	}
	f := figure{value: v, half: lastDigit(head) / 2, spelling: strings.TrimPrefix(head, "+")}
	rest = strings.TrimSpace(rest)
	// A fraction may follow a whole number: 3 1/2.
	if isDigits(strings.TrimLeft(head, "+-")) {
		i := 0
		for i < len(rest) && rest[i] >= '0' && rest[i] <= '9' {
			i++
		}
		if i > 0 && i < len(rest) && rest[i] == '/' {
			return fraction(head, rest[:i], rest[i+1:])
		}
	}
	return f, rest, nil
}

func fraction(whole, num, rest string) (figure, string, error) {
	i := 0
	for i < len(rest) && rest[i] >= '0' && rest[i] <= '9' {
		i++
	}
	den, rest := rest[:i], strings.TrimSpace(rest[i:])
	n, err1 := strconv.ParseFloat(num, 64)
	d, err2 := strconv.ParseFloat(den, 64)
	if err1 != nil || err2 != nil {
		return figure{}, "", errors.New("a fraction such as 3 1/2")
	}
	if d == 0 {
		return figure{}, "", errors.New("a fraction over zero means nothing")
	}
	f := figure{half: tapeHalf, spelling: num + "/" + den}
	if half := 0.5 / d; half < f.half {
		f.half = half
	}
	f.value = n / d
	if whole != "" {
		w, err := strconv.ParseFloat(whole, 64)
		if err != nil {
			return figure{}, "", errNoNumber
		}
		if n >= d {
			return figure{}, "", fmt.Errorf("the fraction %s/%s after a whole number is not less than one", num, den)
		}
		f.value = math.Abs(w) + n/d
		if strings.HasPrefix(whole, "-") {
			f.value = -f.value
		}
		f.spelling = strings.TrimPrefix(whole, "+") + " " + f.spelling
	}
	f.spelling = strings.TrimPrefix(f.spelling, "+")
	return f, rest, nil
}

func isDigits(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
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
	v, _ := strconv.ParseFloat("1e"+strconv.Itoa(exp), 64)
	return v
}
