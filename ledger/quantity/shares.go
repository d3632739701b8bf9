package quantity

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// Share is what one entry contributes: to the value, where the result is a sum
// in which the entry leads terms, and to the doubt. Both are SI. A term without
// an entry goes by its constant's name, or "constants".
type Share struct {
	Entry            string
	OfValue, OfDoubt float64
}

// constants is the name of what has none.
const constants = "constants"

// Shares lists what each entry contributes, most value first. What they
// contribute to the doubt adds up to half the width of the bounds.
func (a *Analysis) Shares() []Share {
	if !a.of.Known() {
		return nil
	}
	terms, doubts := a.summands(), a.inOrder()
	low, high := a.Bounds()
	by := adding(doubts, (high-low)/2)
	all := make([]Share, 0, len(terms)+len(doubts))
	for _, s := range terms {
		all = append(all, Share{Entry: s.entry, OfValue: s.value})
	}
	for _, d := range doubts {
		if d.Doubt != 0 {
			all = append(all, Share{Entry: cmp.Or(d.Source.Entry, d.Source.Key, constants), OfDoubt: by.of(d)})
		}
	}
	slices.SortStableFunc(all, func(a, b Share) int { return strings.Compare(a.Entry, b.Entry) })
	out := all[:0]
	for _, s := range all {
		if n := len(out); n > 0 && out[n-1].Entry == s.Entry {
			out[n-1].OfValue += s.OfValue
			out[n-1].OfDoubt += s.OfDoubt
			continue
		}
		out = append(out, s)
	}
	slices.SortFunc(out, func(a, b Share) int {
		if x, y := math.Abs(a.OfValue), math.Abs(b.OfValue); x != y {
			if x > y {
				return -1
			}
			return 1
		}
		return strings.Compare(a.Entry, b.Entry)
	})
	return out
}

// summand is a term of a result, with the entry that leads it.
type summand struct {
	entry string
	value float64
}

// summands lists what the result is the sum of. Of a difference from what is exact
// they are those of its two sides.
func (a *Analysis) summands() []summand {
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.summed {
		return a.terms
	}
	a.summed = true
	n := a.of.n
	if _, on := n.hinge(); on != nil && (n.op == opAdd || n.op == opSub) {
		for i := len(n.args) - 1; i >= 0; i-- {
			for _, s := range a.kept.Analyze(Quantity{n.args[i]}).summands() {
				if n.op == opSub && i == 1 {
					s.value = -s.value
				}
				a.terms = append(a.terms, s)
			}
		}
		return a.terms
	}
	if n.op == opLeaf {
		a.terms = []summand{{cmp.Or(n.src.Entry, n.src.Key, constants), n.val}}
		return a.terms
	}
	a.layout().terms(func(n *node, e string, scale float64) {
		if e == "" {
			e = constant(n)
		}
		a.terms = append(a.terms, summand{e, scale * n.val})
	})
	return a.terms
}

// terms goes down sums and the plain factors round them to the terms, each
// with the entry that leads it and what it counts in the result. What several
// sums share is gone through once, with all that they take of it.
func (t *tape) terms(visit func(n *node, leading string, scale float64)) {
	w := slates.Get().(*slate)
	defer slates.Put(w)
	w.lead(t)
	w.scale, w.reached = sized(w.scale, len(t.nodes)), sized(w.reached, len(t.nodes))
	leads, additive, scale, reached := w.leads, w.additive, w.scale, w.reached
	last := len(t.nodes) - 1
	scale[last], reached[last] = 1, true
	for i := last; i >= 0; i-- {
		if !reached[i] {
			continue
		}
		n, args := t.nodes[i], t.operands(i)
		down := func(a int, by float64) { scale[a], reached[a] = scale[a]+by, true }
		switch {
		case n.op == opAdd, n.op == opSum:
			for _, a := range args {
				down(a, scale[i])
			}
		case n.op == opSub:
			down(args[0], scale[i])
			down(args[1], -scale[i])
		case n.op == opNeg:
			down(args[0], -scale[i])
		case n.op == opSame, n.op == opChoose:
			down(args[0], scale[i])
		case n.op == opMul && additive[args[0]] && !additive[args[1]]:
			down(args[0], scale[i]*n.args[1].val)
		// What an entry leads stays whole: m (a + b) is m's, not a's and b's.
		case n.op == opMul && additive[args[1]] && !additive[args[0]] && leads[args[0]] == "":
			down(args[1], scale[i]*n.args[0].val)
		case n.op == opDiv && additive[args[0]]:
			down(args[0], scale[i]/n.args[1].val)
		default:
			visit(n, leads[i], scale[i])
		}
	}
}

// lead finds for every node the entry of the first leaf that stands in the
// ledger, and whether the node is a sum of such, factors aside.
func (w *slate) lead(t *tape) {
	w.leads, w.additive = sized(w.leads, len(t.nodes)), sized(w.additive, len(t.nodes))
	leads, additive := w.leads, w.additive
	for i, n := range t.nodes {
		args := t.operands(i)
		if n.op == opLeaf && n.src != nil {
			leads[i] = n.src.Entry
		}
		for _, a := range args {
			leads[i] = cmp.Or(leads[i], leads[a])
		}
		switch n.op {
		case opSum:
			additive[i] = true
		case opAdd, opSub:
			additive[i] = leads[args[0]] != "" && leads[args[1]] != ""
		case opNeg, opSame, opDiv:
			additive[i] = additive[args[0]]
		case opMul:
			additive[i] = additive[args[0]] != additive[args[1]]
		}
	}
}

// leading is the entry of the first leaf that stands in the ledger.
func leading(n *node) string {
	for _, l := range (Quantity{n}).leaves() {
		if l.src != nil && l.src.Entry != "" {
			return l.src.Entry
		}
	}
	return ""
}

// constant is the name of a term that rests on no entry.
func constant(n *node) string {
	for _, l := range (Quantity{n}).leaves() {
		if l.src.Key != "" {
			return l.src.Key
		}
	}
	return constants
}
