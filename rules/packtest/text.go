package packtest

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"unicode"

	q "fishplate/ledger/quantity"
)

// Formula is a formula's text, parsed: sums, products (a dot, a cross or
// nothing between them), quotients from left to right, powers, |x|, the functions
// of the list below and symbols. A symbol is a short name (F, mu, W_f) or a run of
// words (gross rating). An equation has two sides or more.
type Formula struct {
	sides   []expr
	Symbols []string
	Result  string // the symbol of an equation that stands for its result, if one does
}

type expr func(at map[string]float64) float64

var functions = map[string]func(float64) float64{
	"sqrt": math.Sqrt, "sin": math.Sin, "cos": math.Cos, "tan": math.Tan, "asin": math.Asin, "atan": math.Atan, "ln": math.Log, "exp": math.Exp, "log10": math.Log10,
}

var greek = map[string]bool{"mu": true, "eta": true, "rho": true, "pi": true}

// ParseFormula reads a formula's text.
func ParseFormula(text string) (f *Formula, err error) {
	p := &parser{f: &Formula{}, words: split(text)}
	defer func() {
		if r := recover(); r != nil {
			f, err = nil, fmt.Errorf("%q: %v", text, r)
		}
	}()
	p.f.sides = []expr{p.sum()}
	for p.take("=") {
		p.f.sides = append(p.f.sides, p.sum())
	}
	if p.peek() != "" {
		panic("what is " + p.peek())
	}
	return p.f, nil
}

// Holds tells that the text comes to the result with those values for its
// symbols, in SI. Of an equation, all sides come to the same: to the result, where
// no symbol stands for that.
func (f *Formula) Holds(result float64, values map[string]float64) bool {
	first := f.sides[0](values)
	if f.Result == "" && !near(first, result) {
		return false
	}
	for _, side := range f.sides[1:] {
		if !near(first, side(values)) {
			return false
		}
	}
	return true
}

// Swapped is the formula with two symbols in each other's place.
func (f *Formula) Swapped(a, b string) *Formula {
	g := &Formula{Symbols: f.Symbols, Result: f.Result}
	for _, side := range f.sides {
		g.sides = append(g.sides, func(at map[string]float64) float64 {
			other := maps.Clone(at)
			other[a], other[b] = at[b], at[a]
			return side(other)
		})
	}
	return g
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(math.Abs(a), math.Abs(b)) }

// Equation tells that the text has two sides.
func (f *Formula) Equation() bool { return len(f.sides) > 1 }

// Same tells that both texts come to the same, side by side, whatever their
// symbols stand for: at many points at random, where both come to anything.
func (f *Formula) Same(g *Formula) bool {
	if len(f.sides) != len(g.sides) {
		return false
	}
	rnd, seen := rand.New(rand.NewPCG(1, 2)), 0
	for range 200 {
		at := map[string]float64{}
		for _, s := range append(slices.Clone(f.Symbols), g.Symbols...) {
			if _, has := at[s]; !has {
				at[s] = 0.05 + 1.5*rnd.Float64()
			}
		}
		same, is := true, true
		for i, side := range f.sides {
			a, b := side(at), g.sides[i](at)
			is = is && !math.IsNaN(a) && !math.IsNaN(b)
			same = same && near(a, b)
		}
		if is && !same {
			return false
		}
		if is {
			seen++
		}
	}
	return seen > 0
}

// split cuts a text into numbers, words and signs.
func split(text string) []string {
	var out []string
	letter := func(r rune) bool { return unicode.IsLetter(r) || r == '_' || r == '\'' || r == '°' }
	rs := []rune(strings.NewReplacer("²", "^2", "³", "^3").Replace(text))
	for i := 0; i < len(rs); {
		j := i
		switch r := rs[i]; {
		case r == ' ':
			i++
			continue
		case unicode.IsDigit(r):
			for j < len(rs) && (unicode.IsDigit(rs[j]) || rs[j] == '.') {
				j++
			}
		case letter(r):
			for j < len(rs) && (letter(rs[j]) || unicode.IsDigit(rs[j]) || rs[j] == '-' && j+1 < len(rs) && letter(rs[j+1]) && letter(rs[j-1])) {
				j++
			}
		default:
			j++
		}
		out = append(out, string(rs[i:j]))
		i = j
	}
	return out
}

type parser struct {
	f     *Formula
	words []string
}

func (p *parser) peek() string {
	if len(p.words) == 0 {
		return ""
	}
	return p.words[0]
}

func (p *parser) take(w string) bool {
	if p.peek() != w {
		return false
	}
	p.words = p.words[1:]
	return true
}

func (p *parser) sum() expr {
	var out expr
	if p.take("-") {
		x := p.product()
		out = func(at map[string]float64) float64 { return -x(at) }
	} else {
		out = p.product()
	}
	for {
		x := out
		switch {
		case p.take("+"):
			y := p.product()
			out = func(at map[string]float64) float64 { return x(at) + y(at) }
		case p.take("-"):
			y := p.product()
			out = func(at map[string]float64) float64 { return x(at) - y(at) }
		default:
			return out
		}
	}
}

func (p *parser) product() expr {
	out := p.power()
	for {
		x := out
		switch w := p.peek(); {
		case w == "*" || w == "×":
			p.take(w)
			y := p.power()
			out = func(at map[string]float64) float64 { return x(at) * y(at) }
		case w == "/":
			p.take(w)
			y := p.power()
			out = func(at map[string]float64) float64 { return x(at) / y(at) }
		case w == "(" || isWord(w) || isNumber(w):
			y := p.power()
			out = func(at map[string]float64) float64 { return x(at) * y(at) }
		default:
			return out
		}
	}
}

func (p *parser) power() expr {
	x := p.atom()
	if !p.take("^") {
		return x
	}
	k := p.atom()
	return func(at map[string]float64) float64 { return math.Pow(x(at), k(at)) }
}

func isNumber(w string) bool { return w != "" && unicode.IsDigit(rune(w[0])) }
func isWord(w string) bool {
	return w != "" && !isNumber(w) && !strings.ContainsAny(w[:1], "+-*/^()|,=") && w != "×"
}

func (p *parser) atom() expr {
	w := p.peek()
	p.take(w)
	switch {
	case w == "(":
		x := p.sum()
		p.must(")")
		return x
	case w == "|":
		x := p.sum()
		p.must("|")
		return func(at map[string]float64) float64 { return math.Abs(x(at)) }
	case w == "min" || w == "max":
		return p.list(w)
	case functions[w] != nil:
		return p.call(functions[w])
	case w == "pi":
		return func(map[string]float64) float64 { return math.Pi }
	case isNumber(w):
		return p.number(w)
	case isWord(w):
		return p.symbol(w)
	}
	panic("what is " + w)
}

func (p *parser) must(w string) {
	if !p.take(w) {
		panic("no " + w)
	}
}

func (p *parser) call(f func(float64) float64) expr {
	k := 1.0
	if p.take("^") {
		k, _ = strconv.ParseFloat(p.peek(), 64)
		p.words = p.words[1:]
	}
	x := p.atom()
	return func(at map[string]float64) float64 { return math.Pow(f(x(at)), k) }
}

func (p *parser) list(w string) expr {
	p.must("(")
	xs := []expr{p.sum()}
	for p.take(",") {
		xs = append(xs, p.sum())
	}
	p.must(")")
	return func(at map[string]float64) float64 {
		out := xs[0](at)
		for _, x := range xs[1:] {
			if v := x(at); w == "min" && v < out || w == "max" && v > out {
				out = v
			}
		}
		return out
	}
}

// number is a plain number, or one with a unit of the few that texts write.
func (p *parser) number(w string) expr {
	v, err := strconv.ParseFloat(w, 64)
	if err != nil {
		panic(err)
	}
	switch u := p.peek(); u {
	case "lb", "K", "°C", "°F", "V", "mph", "psi":
		p.take(u)
		r, err := q.Parse(w+" "+strings.Replace(u, "°", "deg", 1), q.Any, q.Options{})
		if err != nil {
			panic(err)
		}
		v = r.Value
	}
	return func(map[string]float64) float64 { return v }
}

// symbol is a short name, or a run of words.
func (p *parser) symbol(w string) expr {
	for long(w) && (long(p.peek()) || p.peek() == "a" && len(p.words) > 1 && long(p.words[1])) {
		w += " " + p.peek()
		p.words = p.words[1:]
	}
	if !slices.Contains(p.f.Symbols, w) {
		p.f.Symbols = append(p.f.Symbols, w)
	}
	return func(at map[string]float64) float64 { return at[w] }
}

// long tells that a word is one of a run: no function, and no short name.
func long(w string) bool {
	if !isWord(w) || functions[w] != nil || w == "min" || w == "max" || greek[w] {
		return false
	}
	return len([]rune(w)) > 2 && !strings.Contains(w, "_") || w == "of" || w == "on" || w == "to" || w == "as" || w == "in" || w == "at" || w == "it" || w == "by"
}
