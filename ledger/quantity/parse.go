package quantity

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"unicode/utf8"
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

// Parse reads a quantity in any of the forms a ledger allows:
//
//	"612 lb"  "612 ± 5 lb"  "612 lb ± 2 %"  "~600 lb"  "~600 ± 80 lb"  "0 to 2 lb"  "3 1/2 in"  "5 ft 2 1/4 in"
//
// The error says what was expected, in words fit for a finding.
func Parse(text string, dim Dim, opt Options) (Reading, error) {
	var r Reading
	if utf8.RuneCountInString(text) > MaxText {
		return r, fmt.Errorf("more than %d characters", MaxText)
	}
	s := tidy(text)
	if s == "" {
		return r, fmt.Errorf("empty; takes %s", dim.Takes())
	}
	rest, approx := strings.CutPrefix(s, "~")
	s = strings.TrimPrefix(rest, " ")
	var err error
	if low, high, ends := strings.Cut(s, " to "); !ends {
		r, err = parseAround(s, approx, dim, opt)
	} else if approx || strings.ContainsAny(s, "±~") {
		return r, errors.New("an estimate by its ends takes no ± and no ~; write \"10 to 12 lb\"")
	} else {
		r, err = parseEnds(low, high, dim)
	}
	if err != nil {
		return Reading{}, err
	}
	if opt.Exact {
		if r.Grade != Stated {
			return Reading{}, errors.New("a rating, a limit or a count is exact: leave out the tolerance")
		}
		r.Low, r.High = r.Value, r.Value
	}
	return r, r.check()
}

// MaxText is how many characters a quantity may be written with. It keeps hostile
// text from the patterns of a schema, which some programs match by trying.
const MaxText = 100

// maxDigits is how many digits a number may be written with.
const maxDigits = 40

// tooLong tells text with more digits than anyone can mean.
func tooLong(s string) bool {
	if len(s) <= maxDigits {
		return false
	}
	n := 0
	for i := 0; i < len(s); i++ {
		if '0' <= s[i] && s[i] <= '9' {
			n++
		}
	}
	return n > maxDigits
}

// check refuses what no quantity can be. What a label states to be near zero
// on an absolute scale keeps only the part of its tolerance above it.
func (r *Reading) check() error {
	for _, v := range [...]float64{r.Value, r.Low, r.High} {
		if math.IsInf(v, 0) || math.IsNaN(v) {
			return errors.New("must be finite")
		}
	}
	if !r.Unit.Dim.Point || r.Low >= 0 {
		return nil
	}
	if r.Value >= 0 && r.Grade == Stated {
		r.Low = 0
		return nil
	}
	if r.Unit.Dim == Temperature {
		return errors.New("a temperature below absolute zero")
	}
	return errors.New("an absolute pressure below zero")
}

// marks are the signs that people type in more than one way.
var marks = strings.NewReplacer("+/-", "±", "+-", "±", "−", "-", "½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "⁄", "/", "′", "'", "″", "\"", "”", "\"")

// tidy makes signs and spacing one way; most text already is.
func tidy(s string) string {
	for i := 0; i < len(s); i++ {
		if strings.HasPrefix(s[i:], "±") {
			i++ // its second byte
			continue
		}
		if c := s[i]; c >= 0x80 || c < ' ' || c == '+' || c == ' ' && (i == 0 || i == len(s)-1 || s[i+1] == ' ') {
			return strings.Join(strings.Fields(marks.Replace(s)), " ")
		}
	}
	return s
}

func parseEnds(lowText, highText string, dim Dim) (Reading, error) {
	var r Reading
	high, unit, err := number(highText)
	if err != nil {
		return r, err
	}
	low, lowUnit, err := number(lowText)
	if err != nil {
		return r, err
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
		if lu.Dim != u.Dim {
			return r, fmt.Errorf("both ends take the same dimension; got %q and %q", lowUnit, unit)
		}
	} else if high.feet {
		return r, errors.New("feet and inches at the upper end need a unit at the lower, as in \"60 in to 5 ft 2 in\"")
	}
	lo, hi := low.in(lu), high.in(u)
	if lo > hi {
		return r, errors.New("the lower end comes first, as in \"0 to 2 lb\"")
	}
	spelling := low.spelling
	if lu.Symbol != u.Symbol || low.feet {
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
	if strings.Contains(tolText, "±") {
		return r, errors.New("two ±; one is enough")
	}
	n, unitText, err := number(main)
	if err != nil {
		return r, err
	}
	var t margin
	if measured {
		if t, err = parseMargin(tolText); err != nil {
			return r, err
		}
		if unitText == "" {
			if err := t.lends(dim); err != nil {
				return r, err
			}
			unitText = t.unit
		}
	}
	u, err := unitFor(unitText, dim)
	if err != nil {
		return r, err
	}
	if err := t.agrees(u); err != nil {
		return r, err
	}
	r = Reading{Value: n.in(u), Unit: u, Grade: Stated, Spelling: joined(n.spelling, u)}
	size, vague := math.Abs(u.Factor), n.value == 0 || u.Dim.Point || opt.Position
	tol := n.half(u) * size
	switch {
	case t.percent && vague:
		return r, errors.New("a tolerance in % means nothing here; give it in the unit of the value")
	case t.percent:
		tol = math.Abs(n.value) * size * t.value / 100
		r.Spelling += " ± " + t.spelling + " %"
	case measured:
		tol = t.value * size
		if n.feet || t.feet || u.Symbol == "%" {
			r.Spelling += " ± " + joined(t.spelling, u)
		} else {
			r.Spelling = joined(n.spelling+" ± "+t.spelling, u)
		}
	case approx && vague:
		return r, errors.New("an estimate of a zero, a temperature or a position must say its ±, as in \"~195 ± 10 degF\"")
	case approx:
		tol = math.Abs(n.value) * size * 0.1
	}
	if u.Dim.Money != 0 && !measured && !approx {
		tol = 0 // a price is what it says
	}
	r.Low, r.High = r.Value-tol, r.Value+tol
	switch {
	case approx:
		r.Grade, r.Spelling = Estimate, "~"+r.Spelling
	case measured:
		r.Grade = Measured
	}
	return r, nil
}

// margin is what stands after the ±.
type margin struct {
	figure
	unit    string
	percent bool // of the value
}

func parseMargin(text string) (margin, error) {
	var t margin
	f, unit, err := number(text)
	if err != nil {
		return t, fmt.Errorf("after the ± comes %w", err)
	}
	if f.value < 0 || strings.HasPrefix(f.spelling, "-") {
		return t, errors.New("a tolerance is not negative")
	}
	if rest, ok := strings.CutPrefix(unit, "percent"); ok {
		unit = "%" + rest
	}
	t = margin{figure: f, unit: unit}
	if rest, ok := strings.CutPrefix(unit, "% "); ok {
		t.percent, t.unit = true, rest
	}
	return t, nil
}

var errPercent = errors.New("say what the % is of: \"3.73 ± 0.04\", or \"2 % ± 0.5 %\"")

// lends tells whether a value without a unit may take that of its tolerance.
func (t margin) lends(dim Dim) error {
	switch {
	case t.unit == "%" && (dim == Ratio || dim.any):
		return errPercent
	case t.unit == "%":
		return fmt.Errorf("a number without a unit; takes %s", dim.Takes())
	case t.feet:
		return errors.New("a tolerance in feet and inches needs a unit at the value too")
	}
	return nil
}

// agrees settles what the tolerance's unit is, given that of the value.
func (t *margin) agrees(u *Unit) error {
	if t.percent && u.Symbol == "%" {
		return errPercent
	}
	if t.unit == "%" && u.Symbol != "%" {
		t.percent, t.unit = true, ""
	}
	if t.unit == "" || t.unit == u.Symbol {
		return nil
	}
	switch tu, ok := UnitNamed(t.unit); {
	case !ok || tu.Dim.diff() != u.Dim.diff():
		return fmt.Errorf("the tolerance takes %s; got %q", u.Dim.diff().Takes(), t.unit)
	case tu.Symbol != u.Symbol:
		return fmt.Errorf("the value and its ± take the same unit; got %s and %s", u.Symbol, tu.Symbol)
	}
	return nil
}

// forces are the spring rates in units that elsewhere mean a mass a length.
var forces = map[string]float64{"lb/ft": poundF / foot, "kg/mm": gn * 1000, "kg/m": gn}

func unitFor(text string, dim Dim) (*Unit, error) {
	u, ok := UnitNamed(text)
	if !ok {
		if near := nearUnit(text, dim); near != "" {
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
	if dim == Temperature && u.Symbol == "K" {
		return &kelvin, nil
	}
	if text == "" {
		return nil, fmt.Errorf("a number without a unit; takes %s", dim.Takes())
	}
	if dim == SpringRate && u.Dim == LinearDensity {
		if f, ok := forces[u.Symbol]; ok {
			return &Unit{Symbol: u.Symbol, Dim: SpringRate, Factor: f}, nil
		}
	}
	return nil, fmt.Errorf("takes %s; got %s (%q)", dim.Takes(), article(u.Dim.String()), text)
}
