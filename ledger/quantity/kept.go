package quantity

import (
	"slices"
	"sync"
)

// Kept is what was found out about the values of one build, so that what several
// checks hang on is laid out and searched once. It may be asked by several
// goroutines at a time. The zero Kept is empty.
type Kept struct {
	mu    sync.Mutex
	of    map[*node]*Analysis
	parts map[*node]interval // of nodes that were searched for their ranges
}

// Analyze is the analysis of a value, one and the same each time that it is asked
// for.
func (k *Kept) Analyze(q Quantity) *Analysis {
	n := q.node()
	k.mu.Lock()
	defer k.mu.Unlock()
	a := k.of[n]
	if a == nil {
		a = &Analysis{of: q, kept: k}
		if k.of == nil {
			k.of = map[*node]*Analysis{}
		}
		k.of[n] = a
	}
	return a
}

// part is the range of a node as it was found before.
func (k *Kept) part(n *node) (interval, bool) {
	if k == nil {
		return interval{}, false
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	b, ok := k.parts[n]
	return b, ok
}

func (k *Kept) keep(n *node, b interval) {
	if k == nil {
		return
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.parts == nil {
		k.parts = map[*node]interval{}
	}
	k.parts[n] = b
}

// hinge is the one operand that a linear operation gets its width from, as a
// difference from an exact limit does from its value, and which of its operands
// that is; nil where there is none. What is asked of such a node is answered by the
// operand.
func (n *node) hinge() (int, *node) {
	if len(n.needs) > 0 {
		return 0, nil
	}
	switch n.op {
	case opAdd, opSub, opNeg, opSum, opSame, opMul, opDiv:
	default:
		return 0, nil
	}
	at := -1
	for i, a := range n.args {
		if a.firm(6) {
			continue
		}
		if at >= 0 {
			return 0, nil
		}
		at = i
	}
	if at < 0 || n.op == opDiv && at == 1 || n.args[at].op == opLeaf {
		return 0, nil
	}
	return at, n.args[at]
}

// firm tells that a node is exact, and all below it, looked through so deep: a
// table may be flat over what has a width, whose domain bears on the value yet.
func (n *node) firm(deep int) bool {
	if n.fwd.lo != n.fwd.hi || n.op != opLeaf && deep == 0 {
		return false
	}
	for _, a := range n.args {
		if !a.firm(deep - 1) {
			return false
		}
	}
	return true
}

// across encloses a node on whose hinge a range is put.
func (n *node) across(i int, range_ interval) interval {
	var few [4]interval
	boxes := few[:0]
	for _, a := range n.args {
		boxes = append(boxes, a.fwd)
	}
	boxes[i] = range_
	return n.enclose(boxes)
}

// falls tells that a linear node falls where its hinge rises.
func (n *node) falls(i int) bool {
	var few [4]interval
	boxes := few[:0]
	for _, a := range n.args {
		boxes = append(boxes, at(a.val))
	}
	return n.slope(i, boxes).lo < 0
}

// alone tells that no leaf stands both below one operand and below another.
func (a *Analysis) alone(hinge int) bool {
	n := a.of.n
	below := a.kept.Analyze(Quantity{n.args[hinge]}).inOrder()
	var few [4]*node
	beside := few[:0]
	for j, b := range n.args {
		if j == hinge {
			continue
		}
		for _, d := range a.kept.Analyze(Quantity{b}).inOrder() {
			if slices.Contains(beside, d.leaf) || slices.ContainsFunc(below, func(o Doubt) bool { return o.leaf == d.leaf }) {
				return false
			}
			beside = append(beside, d.leaf)
		}
	}
	return true
}

// beyond lists the doubts of a node by those of its operands, of which only the
// hinge has a width.
func (a *Analysis) beyond(hinge int) (out []Doubt) {
	n := a.of.n
	boxes := make([]interval, len(n.args))
	for j, b := range n.args {
		boxes[j] = at(b.val)
	}
	lists, size := make([][]Doubt, len(n.args)), 0
	for j, b := range n.args {
		lists[j] = a.kept.Analyze(Quantity{b}).inOrder()
		size += len(lists[j])
	}
	out = make([]Doubt, 0, size)
	for j, list := range lists {
		steep := n.slope(j, boxes).lo
		for _, d := range list {
			d.Slope *= steep
			d.Doubt *= max(steep, -steep)
			out = append(out, d)
		}
	}
	return out
}
