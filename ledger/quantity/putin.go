package quantity

import (
	"math"
	"strings"
)

// PutIn prints the step's formula with the numbers put in, all in the units of
// the style. Where those do not fit one another the factor between them stands
// in the line ("59 mph × 12 / 60"), so that a pocket calculator gives the result.
func (st Step) PutIn(s Style) string { return st.node.putIn(s) }

// PutIn prints a term with its numbers put in.
func (t Term) PutIn(s Style) string { return t.node.putIn(s) }

// Plain prints a value without its tolerance, to the digits that its doubt
// leaves and one more. What is without doubt, or written with fewer, stands as
// it is written.
func (s Style) Plain(q Quantity) string {
	if !q.Known() {
		return ""
	}
	n := q.node()
	u := s.Unit(q)
	if n.op == opLeaf && n.reading != nil && n.dim == Ratio {
		u = n.reading.Unit
	}
	lo, hi := n.fwd.lo, n.fwd.hi
	if n.op != opLeaf {
		lo, hi = Analyze(q).Bounds()
	}
	v := q.Shown()
	val, tol := rounded(v, lo, hi, u, true)
	written := u.Number(v, mostExact)
	for n.op == opSame && n.dim == n.args[0].dim {
		n = n.args[0]
	}
	if tol == "" || n.reading != nil && n.reading.Unit.Symbol == u.Symbol && decimals(written) <= decimals(val) {
		val = written
	}
	return u.Join(val)
}

// mostExact is how many digits an exact figure is printed to.
const mostExact = 7

func decimals(number string) int {
	_, after, _ := strings.Cut(number, ".")
	return len(after)
}

// mostPutIn is how many operations are printed with their numbers put in; the
// value of what lies deeper stands for it. What is shared is printed wherever
// it is used, so that a formula can be far longer than what it is made of.
const mostPutIn = 100

func (n *node) putIn(s Style) string {
	left := mostPutIn
	p := printer{style: s, top: n, left: &left}
	x := p.to(p.expr(n), p.unit(n))
	return x.text
}

type printer struct {
	style Style
	top   *node
	left  *int // operations
}

// printed is a text and what the number that it comes to counts: in SI it is
// the number times factor, plus offset.
type printed struct {
	text           string
	prec           int
	factor, offset float64
}

const (
	precSum = iota
	precProduct
	precAtom
)

// in is the text as an operand of what binds so tightly.
func (x printed) in(prec int) string {
	if x.prec < prec {
		return "(" + x.text + ")"
	}
	return x.text
}

// unit is the unit of display; a share's % is part of its number.
func (p printer) unit(n *node) *Unit {
	u := p.style.Unit(Quantity{n})
	if n.op == opLeaf && n.reading != nil && n.dim == Ratio {
		u = n.reading.Unit
	}
	if u.Symbol == "%" {
		return unitBySymbol[""]
	}
	return u
}

func (p printer) value(n *node) printed {
	u := p.unit(n)
	x := printed{prec: precAtom, factor: u.Factor, offset: u.Offset}
	if len(n.needs) > 0 {
		x.text = "[" + symbol(n) + "]"
		return x
	}
	q := Quantity{n}
	if x.text = p.style.Plain(q); q.Shown() < u.Offset {
		x.text = "(" + x.text + ")"
	}
	return x
}

func symbol(n *node) string {
	switch {
	case n.called().name != "":
		return n.named.name
	case n.src != nil && n.src.Path() != "":
		return n.src.Path()
	case n.reading != nil:
		return n.reading.Spelling
	}
	return "a value"
}

// fits tells that two factors differ by rounding alone.
func fits(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Max(math.Abs(a), math.Abs(b)) }

// fromZero counts a point from its scale's absolute zero.
func (p printer) fromZero(x printed) printed {
	if x.offset == 0 {
		return x
	}
	u := Unit{Symbol: "degF"}
	if p.style.SI {
		u.Symbol = "degC"
	}
	sign := " + "
	if x.offset < 0 {
		sign = " - "
	}
	zero := u.Join(Digits(math.Abs(x.offset/x.factor), mostExact))
	return printed{text: x.text + sign + zero, prec: precSum, factor: x.factor}
}

// to makes the text come to a number of the unit.
func (p printer) to(x printed, u *Unit) printed {
	if !fits(x.factor, u.Factor) {
		x = p.fromZero(x)
		by := x.factor / u.Factor
		if over := 1 / by; by < 1 && fits(over, math.Round(over)) || by < 1e-3 {
			x.text = x.in(precProduct) + " / " + Digits(over, mostExact)
		} else {
			x.text = x.in(precProduct) + " × " + Digits(by, mostExact)
		}
		x.prec, x.factor = precProduct, u.Factor
	}
	if off := u.Offset - x.offset; off != 0 && !fits(u.Offset, x.offset) {
		x = p.fromZero(printed{text: x.text, prec: x.prec, factor: x.factor, offset: -off})
		x.offset = u.Offset
	}
	return x
}

// alike brings the operands of a sum to one unit: theirs, where they have one.
func (p printer) alike(n *node) []printed {
	out := make([]printed, len(n.args))
	fit := true
	for i, a := range n.args {
		out[i] = p.expr(a)
		fit = fit && fits(out[i].factor, out[0].factor)
	}
	if fit {
		return out
	}
	factor := p.unit(n).Factor
	for i := range out {
		out[i] = p.to(out[i], &Unit{Factor: factor, Offset: out[i].offset})
	}
	return out
}

// number is an operand as a number of so much, counted from zero.
func (p printer) number(n *node, factor float64) printed {
	return p.to(p.expr(n), &Unit{Factor: factor})
}

func (p printer) expr(n *node) printed {
	if n.op == opLeaf || n != p.top && n.called().name != "" {
		return p.value(n)
	}
	if *p.left--; *p.left < 0 {
		return p.value(n)
	}
	switch n.op {
	case opAdd, opSub, opSum:
		return p.sum(n)
	case opMul, opDiv:
		a, b := p.fromZero(p.expr(n.args[0])), p.fromZero(p.expr(n.args[1]))
		if n.op == opMul {
			return printed{text: a.in(precProduct) + " × " + b.in(precProduct), prec: precProduct, factor: a.factor * b.factor}
		}
		return printed{text: a.in(precProduct) + " / " + b.in(precAtom), prec: precProduct, factor: a.factor / b.factor}
	case opNeg:
		a := p.fromZero(p.expr(n.args[0]))
		a.text, a.prec = "-"+a.in(precProduct), precSum
		return a
	case opPow:
		a := p.fromZero(p.expr(n.args[0]))
		base := a.in(precAtom)
		if strings.Contains(base, " ") && !strings.HasPrefix(base, "(") {
			base = "(" + base + ")" // the unit is raised as well
		}
		return printed{text: base + "^" + trim(n.pow), prec: precProduct, factor: math.Pow(a.factor, n.pow)}
	case opSame:
		x := p.expr(n.args[0])
		if n.dim.Point != n.args[0].dim.Point {
			x = p.fromZero(x)
		}
		return x
	case opChoose:
		return p.expr(n.args[0])
	case opBelow:
		if len(n.needs) == 0 && n.args[0].val < n.args[1].val {
			return p.expr(n.args[2])
		}
		return p.expr(n.args[3])
	case opTable:
		u := p.unit(n)
		at := p.to(p.expr(n.args[0]), p.unit(n.args[0]))
		return printed{text: n.table.Name + " at " + at.in(precAtom), prec: precProduct, factor: u.Factor, offset: u.Offset}
	}
	return p.function(n)
}

func (p printer) sum(n *node) printed {
	args := p.alike(n)
	if len(args) == 1 {
		return args[0]
	}
	out := args[0]
	for _, a := range args[1:] {
		text := a.in(precSum)
		switch {
		case n.op == opSub:
			out.text, out.offset = out.in(precSum)+" - "+a.in(precProduct), out.offset-a.offset
		case strings.HasPrefix(text, "-"):
			out.text, out.offset = out.in(precSum)+" - "+text[1:], out.offset+a.offset
		default:
			out.text, out.offset = out.in(precSum)+" + "+text, out.offset+a.offset
		}
	}
	out.prec = precSum
	return out
}

// function prints what a calculator has a key for. Angles are in degrees.
func (p printer) function(n *node) printed {
	out := printed{prec: precAtom, factor: 1}
	var args []printed
	switch n.op {
	case opExp, opLog:
		args = []printed{p.number(n.args[0], 1)}
	case opSin, opCos, opTan:
		args = []printed{p.number(n.args[0], degree)}
	case opAtan, opAsin:
		args, out.factor = []printed{p.number(n.args[0], 1)}, degree
	case opSqrt:
		args = []printed{p.fromZero(p.expr(n.args[0]))}
		out.factor = math.Sqrt(args[0].factor)
	default: // of several alike
		args = p.alike(n)
		out.factor, out.offset = args[0].factor, args[0].offset
	}
	var parts []string
	for _, a := range args {
		parts = append(parts, a.text)
	}
	out.text = functions[n.op] + "(" + strings.Join(parts, ", ") + ")"
	return out
}

var functions = map[op]string{opSqrt: "sqrt", opExp: "exp", opLog: "ln", opSin: "sin", opCos: "cos", opTan: "tan", opAtan: "atan", opAsin: "asin", opAbs: "abs", opMin: "min", opMax: "max", opHypot: "hypot"}
