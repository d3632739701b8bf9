package rules_test

import (
	"bytes"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/Knetic/govaluate"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/lint/report"
	"fishplate/rules"
	"fishplate/rules/packtest"
)

// explained calls visit with the worked solutions of every rule on both
// finished examples, unfolded, and with how the build shows its figures.
func explained(t *testing.T, visit func(rule, text string, s q.Style)) {
	for _, folder := range exampleBuilds[:2] {
		b := packtest.Load(t, folder)
		all := lint.Check(b, rules.Packs(), lint.Options{AsOf: "2026-11-20"})
		of, order := map[*lint.Rule][]*lint.Result{}, []*lint.Rule{}
		for _, r := range all.Results {
			if of[r.Rule] == nil {
				order = append(order, r.Rule)
			}
			of[r.Rule] = append(of[r.Rule], r)
		}
		for _, rule := range order {
			var out bytes.Buffer
			none := func(*lint.Result) []lint.Proposal { return nil }
			require.NoError(t, report.Worked(&out, report.Options{Width: 1 << 20}, all, rule, of[rule], none))
			visit(rule.Name, out.String(), b.Style())
		}
	}
}

// steps parts worked solutions into their steps: a line indented by two, with an
// equals sign, and the lines below that are indented more.
func steps(text string) (out []string) {
	open := false
	for _, line := range strings.SplitAfter(text, "\n") {
		switch deeper := strings.HasPrefix(line, "   "); {
		case deeper && open:
			out[len(out)-1] += line
		case strings.HasPrefix(line, "  ") && !deeper && strings.Contains(line, " = "):
			out, open = append(out, line), true
		default:
			open = false
		}
	}
	return out
}

// The units of US shops and of SI that a worked solution may name, with those
// that both use. K is in neither: a difference of temperatures is in °F, or °C's
// kelvins in SI.
var (
	bothUnits = strings.Fields("% ° s h A Ah A2·s V W mohm ohm·m cSt rpm Hz rad rad/s2 pulses/rev rev AWG")
	usUnits   = strings.Fields("lb in in2 in3 gal °F mph ft/s2 ft/min ft lbf lb-ft lb-in lb·in hp psi psia inHg inH2O lb/in gpm cfm lb/min lb/gal lb/ft mohm/ft pulses/mi rev/mi BTU/h/°F BTU/lb BTU/lb/°F 1/°F")
	siUnits   = strings.Fields("kg mm mm2 L °C K km/h m/s2 N N·m kW kPa N/mm L/min kg/s kg/L kg/m mohm/m pulses/km rev/km W/K kJ/kg kJ/kg/K 1/K kg·m mbar m mi")
)

var figureUnit = regexp.MustCompile(`[0-9)] ([^\s()+×=±,-][^\s(),;]*)`)

func TestWorkedUnits(t *testing.T) {
	seen := 0
	explained(t, func(rule, text string, s q.Style) {
		for _, step := range steps(text) {
			_, sums, _ := strings.Cut(step, "\n") // below the formula
			for _, m := range figureUnit.FindAllStringSubmatch(sums, -1) {
				unit := m[1]
				switch {
				case unit == "/" || unit == "at":
				case s.SI:
					seen++
					assert.Contains(t, append(siUnits, bothUnits...), unit, "%s: %s", rule, step)
				default:
					seen++
					assert.Contains(t, append(usUnits, bothUnits...), unit, "%s: %s", rule, step)
				}
			}
		}
	})
	assert.Greater(t, seen, 1000)
}

func TestWorkedOnce(t *testing.T) {
	again := 0
	explained(t, func(rule, text string, _ q.Style) {
		told, names := map[string]bool{}, map[string]bool{}
		for _, step := range steps(text) {
			name, _, _ := strings.Cut(step, " = ")
			if strings.HasSuffix(step, ", as above\n") {
				again++
				assert.True(t, names[name], "%s: nothing above tells %s", rule, name)
				continue
			}
			if strings.HasPrefix(name, "  margin") && name == "  margin" { // each check's own
				continue
			}
			assert.False(t, told[step], "%s twice:\n%s", rule, step)
			told[step], names[name] = true, true
		}
	})
	assert.Greater(t, again, 20)
}

// lastPlace is the value of the last place of a printed number.
func lastPlace(number string) float64 {
	_, after, dot := strings.Cut(number, ".")
	if dot {
		return math.Pow(10, -float64(len(after)))
	}
	whole := strings.TrimRight(number, "0")
	return math.Pow(10, float64(len(number)-len(whole)))
}

// TestWorkedDigits: a figure that is put in shows a place more than its doubt
// leaves, and is off by less than the doubt's second digit. One without doubt is
// right to seven digits, and one that is written with fewer stands as written.
func TestWorkedDigits(t *testing.T) {
	seen := 0
	for _, folder := range exampleBuilds[:2] {
		b := packtest.Load(t, folder)
		s := b.Style()
		figures(b, func(r *lint.Result, what string, v q.Quantity) {
			if what != "margin" {
				return
			}
			for _, st := range v.Steps() {
				for _, p := range append(st.Parts(), st.Result) {
					if !p.Known() || p.Name() == "" {
						continue
					}
					text := s.Plain(p)
					number, _, _ := strings.Cut(strings.ReplaceAll(text, ",", ""), " ")
					x, err := strconv.ParseFloat(number, 64)
					require.NoError(t, err, text)
					u := s.Unit(p)
					if reading, leaf := p.Reading(); leaf && p.Dim() == q.Ratio {
						u = reading.Unit
					}
					lo, hi := q.Analyze(p).Bounds()
					half, true_ := math.Max(hi-p.Value(), p.Value()-lo)/u.Factor, (p.Shown()-u.Offset)/u.Factor
					seen++
					if half <= 1e-9*math.Abs(true_) {
						assert.InDelta(t, true_, x, 5.1e-7*math.Abs(true_)+1e-12, "%s: %s of %s", r.Rule.Name, text, p.Name())
						continue
					}
					assert.LessOrEqual(t, math.Abs(x-true_), half/10, "%s: too few digits: %s of %s ± %v", r.Rule.Name, text, p.Name(), half)
					if !strings.Contains(number, "e") && x != 0 {
						assert.GreaterOrEqual(t, lastPlace(number), math.Min(1, math.Pow(10, math.Floor(math.Log10(half))-1))*(1-1e-9), "%s: too many digits: %s of %s ± %v", r.Rule.Name, text, p.Name(), half)
					}
				}
			}
		})
	}
	assert.Greater(t, seen, 1000)
}

var (
	thousands = regexp.MustCompile(`([0-9]),([0-9]{3})\b`)
	percent   = regexp.MustCompile(`([0-9.]+) %`)
	withUnit  = regexp.MustCompile(`([0-9]) [^\s()+×/=,-][^\s(),;]*`)
)

// keys are those of a pocket calculator, its angles in degrees.
var keys = map[string]govaluate.ExpressionFunction{}

func init() {
	const degree = math.Pi / 180
	for name, f := range map[string]func(float64) float64{
		"sqrt": math.Sqrt, "exp": math.Exp, "ln": math.Log, "abs": math.Abs,
		"sin": func(x float64) float64 { return math.Sin(x * degree) }, "cos": func(x float64) float64 { return math.Cos(x * degree) },
		"tan": func(x float64) float64 { return math.Tan(x * degree) }, "atan": func(x float64) float64 { return math.Atan(x) / degree },
		"asin": func(x float64) float64 { return math.Asin(x) / degree },
	} {
		keys[name] = func(args ...any) (any, error) { return f(args[0].(float64)), nil }
	}
	for name, f := range map[string]func(a, b float64) float64{"min": math.Min, "max": math.Max, "hypot": math.Hypot} {
		keys[name] = func(args ...any) (any, error) {
			x := args[0].(float64)
			for _, a := range args[1:] {
				x = f(x, a.(float64))
			}
			return x, nil
		}
	}
}

// TestWorkedComesOut: the numbers put in, with the units left out, give the
// result in its unit on a pocket calculator, to what its doubt leaves.
func TestWorkedComesOut(t *testing.T) {
	done := 0
	for _, folder := range exampleBuilds[:2] {
		b := packtest.Load(t, folder)
		s := b.Style()
		figures(b, func(r *lint.Result, what string, v q.Quantity) {
			if what != "margin" {
				return
			}
			for _, st := range v.Steps() {
				text := st.PutIn(s)
				if !st.Result.Known() || strings.Contains(text, " at ") { // of a table
					continue
				}
				plain := strings.ReplaceAll(text, " abs", "")
				for thousands.MatchString(plain) {
					plain = thousands.ReplaceAllString(plain, "$1$2")
				}
				plain = percent.ReplaceAllString(plain, "($1*0.01)")
				plain = withUnit.ReplaceAllString(plain, "$1")
				plain = strings.NewReplacer("×", "*", "^", "**").Replace(plain)
				e, err := govaluate.NewEvaluableExpressionWithFunctions(plain, keys)
				if !assert.NoError(t, err, "%s: %s", r.Rule.Name, text) {
					continue
				}
				got, err := e.Evaluate(nil)
				if !assert.NoError(t, err, "%s: %s", r.Rule.Name, text) {
					continue
				}
				u := s.Unit(st.Result)
				if u.Symbol == "%" {
					u = &q.Unit{Factor: 1}
				}
				lo, hi := q.Analyze(st.Result).Bounds()
				want := (st.Result.Value() - u.Offset) / u.Factor
				assert.InDelta(t, want, got, math.Max((hi-lo)/2/u.Factor, 2e-6*math.Abs(want))+1e-9, "%s: %s = %s", r.Rule.Name, st.Name, text)
				done++
			}
		})
	}
	assert.Greater(t, done, 500)
}
