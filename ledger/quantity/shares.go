package quantity

import (
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

// Shares lists what each entry contributes, most value first.
func (q Quantity) Shares() []Share {
	if !q.Known() {
		return nil
	}
	by := map[string]*Share{}
	get := func(e string) *Share {
		if by[e] == nil {
			by[e] = &Share{Entry: e}
		}
		return by[e]
	}
	terms(q.node(), 1, func(n *node, scale float64) {
		e := leading(n)
		if e == "" {
			e = constant(n)
		}
		get(e).OfValue += scale * n.val
	})
	for _, d := range q.Doubts() {
		if d.Source.Entry != "" && d.Doubt != 0 {
			get(d.Source.Entry).OfDoubt += d.Doubt
		}
	}
	out := make([]Share, 0, len(by))
	for _, s := range by {
		out = append(out, *s)
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

// terms walks down sums and the plain factors round them.
func terms(n *node, scale float64, visit func(*node, float64)) {
	switch n.op {
	case opAdd, opSum:
		for _, a := range n.args {
			terms(a, scale, visit)
		}
		return
	case opSub:
		terms(n.args[0], scale, visit)
		terms(n.args[1], -scale, visit)
		return
	case opNeg:
		terms(n.args[0], -scale, visit)
		return
	case opSame, opChoose:
		terms(n.args[0], scale, visit)
		return
	case opMul:
		for i := range 2 {
			// What an entry leads stays whole: m (a + b) is m's, not a's and b's.
			if additive(n.args[i]) && !additive(n.args[1-i]) && (i == 0 || leading(n.args[0]) == "") {
				terms(n.args[i], scale*n.args[1-i].val, visit)
				return
			}
		}
	case opDiv:
		if additive(n.args[0]) {
			terms(n.args[0], scale/n.args[1].val, visit)
			return
		}
	}
	visit(n, scale)
}

func additive(n *node) bool {
	switch n.op {
	case opSum:
		return true
	case opAdd, opSub:
		return leading(n.args[0]) != "" && leading(n.args[1]) != ""
	case opNeg, opSame:
		return additive(n.args[0])
	case opDiv:
		return additive(n.args[0])
	case opMul:
		return additive(n.args[0]) != additive(n.args[1])
	}
	return false
}

// leading is the entry of the first leaf that stands in the ledger.
func leading(n *node) string {
	if n.op == opLeaf && n.src != nil {
		return n.src.Entry
	}
	for _, a := range n.args {
		if e := leading(a); e != "" {
			return e
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
	return "constants"
}
