package quantity

import (
	"math"
	"slices"
	"strconv"
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
	visit(q.node(), (*node).used, func(n *node) {
		if c := n.called(); c.name != "" {
			st := Step{Name: c.name, Formula: c.formula, Result: Quantity{n}, node: n}
			if t := longSum(n); len(t) > 4 {
				st.Terms = t
			}
			out = append(out, st)
		}
	})
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
		case n.called().name != "" && !top:
			out = append(out, Term{Entry: n.named.name, Value: Quantity{n}, Minus: minus, node: n})
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
			if n.args[0].called().name == "" {
				walk(n.args[0], false, minus)
				return
			}
		}
		out = append(out, Term{Entry: leading(n), Value: Quantity{n}, Minus: minus, node: n})
	}
	walk(n, true, false)
	return out
}

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
	within := func(n *node) []*node {
		if n == st.node || n.called().name == "" {
			return n.args
		}
		return nil
	}
	visit(st.node, within, func(n *node) {
		if n != st.node {
			out = append(out, Quantity{n})
		}
	})
	return out
}
