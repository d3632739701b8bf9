package quantity

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// Step is one line of a worked solution: a named value, its formula in
// symbols, and the same with the numbers put in.
type Step struct {
	Name, Formula string
	Result        Quantity
	Terms         []Term // of a sum of many, instead of PutIn
	node          *node
}

// Term is one term of a long sum: the entry that it is about and its value.
type Term struct {
	Entry string
	Value Quantity
	Minus bool
	node  *node
}

// Steps lists the named values that the result is made of, in an order in
// which each can be worked out from those before it; the last is the result.
func (q Quantity) Steps() []Step {
	var out []Step
	seen := map[*node]bool{}
	var walk func(n *node)
	walk = func(n *node) {
		if seen[n] {
			return
		}
		seen[n] = true
		for _, a := range n.used() {
			walk(a)
		}
		if n.name != "" {
			st := Step{Name: n.name, Formula: n.formula, Result: Quantity{n}, node: n}
			if t := longSum(n); len(t) > 4 {
				st.Terms = t
			}
			out = append(out, st)
		}
	}
	walk(q.node())
	return out
}

// used is the operands that the value rests on: of a choice that is settled,
// not the side that was not chosen.
func (n *node) used() []*node {
	if n.op != opBelow || len(n.needs) > 0 {
		return n.args
	}
	x, y := n.args[0].fwd, n.args[1].fwd
	switch {
	case x.hi < y.lo:
		return n.args[:3]
	case x.lo >= y.hi:
		return []*node{n.args[0], n.args[1], n.args[3]}
	}
	return n.args
}

// Leaves lists the ledger values and the constants that the result rests on,
// each once, in the order of the formula.
func (q Quantity) Leaves() []Quantity {
	var out []Quantity
	for _, l := range q.leaves() {
		out = append(out, Quantity{l})
	}
	return out
}

func longSum(n *node) []Term {
	var out []Term
	seen := map[*node]bool{}
	var walk func(n *node, top, minus bool)
	walk = func(n *node, top, minus bool) {
		switch {
		case n.name != "" && !top:
			out = append(out, Term{Entry: n.name, Value: Quantity{n}, Minus: minus, node: n})
			return
		case seen[n]: // a sum that is used again is one term there
			out = append(out, Term{Entry: leading(n), Value: Quantity{n}, Minus: minus, node: n})
			return
		}
		switch n.op {
		case opSum, opAdd:
			seen[n] = true
			for _, a := range n.args {
				walk(a, false, minus)
			}
			return
		case opSub:
			seen[n] = true
			walk(n.args[0], false, minus)
			walk(n.args[1], false, !minus)
			return
		case opNeg:
			walk(n.args[0], false, !minus)
			return
		case opSame:
			if n.args[0].name == "" {
				walk(n.args[0], false, minus)
				return
			}
		}
		out = append(out, Term{Entry: leading(n), Value: Quantity{n}, Minus: minus, node: n})
	}
	walk(n, true, false)
	return out
}

// PutIn prints the step's formula with the numbers put in, in the given style.
// Where a formula mixes dimensions its numbers are all in coherent SI units,
// so that a pocket calculator gives the result without conversions.
func (st Step) PutIn(s Style) string { return st.node.putIn(s, mixes(st.node)) }

// PutIn prints a term with its numbers put in.
func (t Term) PutIn(s Style) string { return t.node.putIn(s, mixes(t.node)) }

// mostPutIn is how many operations are printed with their numbers put in; the
// value of what lies deeper stands for it. What is shared is printed wherever
// it is used, so that a formula can be far longer than what it is made of.
const mostPutIn = 100

func (n *node) putIn(s Style, si bool) string {
	left := mostPutIn
	p := printer{style: s, si: si, top: n, left: &left}
	text, _ := p.expr(n)
	return text
}

// Coherent tells whether PutIn printed coherent SI units.
func (st Step) Coherent() bool { return mixes(st.node) }

// Coherent tells whether PutIn printed coherent SI units.
func (t Term) Coherent() bool { return mixes(t.node) }

// mixes tells that the operands are more than lengths, masses, pure numbers
// and one other dimension.
func mixes(n *node) bool {
	dims := map[Dim]bool{}
	seen := map[*node]bool{}
	recast := false // a scale's zero or the radian enters as a number
	var walk func(m *node)
	walk = func(m *node) {
		if seen[m] {
			return
		}
		seen[m] = true
		if m.op == opSame && m.dim != m.args[0].dim {
			recast = true
		}
		if m != n && (m.name != "" || m.op == opLeaf) {
			if m.dim != Ratio {
				dims[m.dim] = true
			}
			return
		}
		for _, a := range m.args {
			walk(a)
		}
	}
	walk(n)
	dims[n.dim] = true
	delete(dims, Ratio)
	if recast {
		return true
	}
	if len(dims) <= 1 {
		return false
	}
	for d := range dims {
		if d != Mass && d != Length {
			return true
		}
	}
	return false
}

type printer struct {
	style Style
	si    bool
	top   *node
	left  *int // operations
}

const (
	precSum = iota
	precProduct
	precAtom
)

func (p printer) value(n *node) string {
	if len(n.needs) > 0 {
		return "[" + symbol(n) + "]"
	}
	u := p.style.Unit(Quantity{n})
	if n.op == opLeaf && n.reading != nil && n.dim == Ratio {
		u = n.reading.Unit
	}
	if p.si {
		u = &Unit{Symbol: siSymbol(n.dim), Dim: n.dim, Factor: 1}
		if n.dim == Ratio {
			u.Symbol = ""
		}
	}
	val := Quantity{n}.Shown()
	v := u.Join(u.Number(val, 7))
	if val < 0 {
		return "(" + v + ")"
	}
	return v
}

func symbol(n *node) string {
	switch {
	case n.name != "":
		return n.name
	case n.src != nil && n.src.Path() != "":
		return n.src.Path()
	case n.reading != nil:
		return n.reading.Spelling
	}
	return "a value"
}

func (p printer) expr(n *node) (string, int) {
	if n.op == opLeaf || n != p.top && n.name != "" {
		return p.value(n), precAtom
	}
	if *p.left--; *p.left < 0 {
		return p.value(n), precAtom
	}
	arg := func(i, prec int) string {
		t, k := p.expr(n.args[i])
		if k < prec {
			return "(" + t + ")"
		}
		return t
	}
	call := func(name string) (string, int) {
		var parts []string
		for i := range n.args {
			parts = append(parts, arg(i, precSum))
		}
		return name + "(" + strings.Join(parts, ", ") + ")", precAtom
	}
	switch n.op {
	case opAdd:
		return arg(0, precSum) + " + " + arg(1, precSum), precSum
	case opSub:
		return arg(0, precSum) + " - " + arg(1, precProduct), precSum
	case opSum:
		parts := make([]string, len(n.args))
		for i := range n.args {
			parts[i] = arg(i, precSum)
		}
		if len(parts) == 1 {
			return p.expr(n.args[0])
		}
		text := parts[0]
		for _, t := range parts[1:] {
			if rest, minus := strings.CutPrefix(t, "-"); minus {
				text += " - " + rest
			} else {
				text += " + " + t
			}
		}
		return text, precSum
	case opMul:
		return arg(0, precProduct) + " × " + arg(1, precProduct), precProduct
	case opDiv:
		return arg(0, precProduct) + " / " + arg(1, precAtom), precProduct
	case opNeg:
		return "-" + arg(0, precProduct), precSum
	case opPow:
		base := arg(0, precAtom)
		if strings.Contains(base, " ") && !strings.HasPrefix(base, "(") {
			base = "(" + base + ")" // the unit is raised as well
		}
		return base + "^" + trim(n.pow), precProduct
	case opSame, opChoose:
		return p.expr(n.args[0])
	case opBelow:
		if len(n.needs) == 0 && n.args[0].val < n.args[1].val {
			return p.expr(n.args[2])
		}
		return p.expr(n.args[3])
	case opTable:
		return n.table.Name + " at " + arg(0, precAtom), precProduct
	}
	return call(functions[n.op])
}

var functions = map[op]string{opSqrt: "sqrt", opExp: "exp", opLog: "ln", opSin: "sin", opCos: "cos", opTan: "tan", opAtan: "atan", opAsin: "asin", opAbs: "abs", opMin: "min", opMax: "max", opHypot: "hypot"}

// Symbols prints the result's formula in the names of what it reads, for a
// result whose values are all missing, as on a ledger of phantoms. The keys of
// a repeated kind of entry carry the phantom's id.
func (q Quantity) Symbols() []string {
	var out []string
	for _, l := range q.leaves() {
		if l.src == nil || l.src.Entry == "" && l.src.Cite == "" {
			continue
		}
		if name := l.src.Path(); !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// Rounded is v to so many significant digits, for values written out again.
func Rounded(v float64, digits int) float64 {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return v
	}
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', digits-1, 64), 64)
	return r
}

// Parts lists what the step's formula is made of, down to named values and
// leaves, each once: operands before what is made of them.
func (st Step) Parts() []Quantity {
	var out []Quantity
	seen := map[*node]bool{}
	var walk func(n *node)
	walk = func(n *node) {
		if seen[n] {
			return
		}
		seen[n] = true
		if n == st.node || n.name == "" {
			for _, a := range n.args {
				walk(a)
			}
		}
		if n != st.node {
			out = append(out, Quantity{n})
		}
	}
	walk(st.node)
	return out
}
