package quantity

import (
	"slices"
	"sync"
)

// folder lays a tape out anew so that what is shared is seen to be: what is
// worked out more than once in the same way stands once, and a short sum in which
// a term comes twice or cancels, as the shaft does in (to - shaft) + (shaft - from),
// is written without. Names are those of the first.
type folder struct {
	out   *tape // written over by the next
	alike map[likeness]int
	terms [][]term // of each node, as a sum; nil where it is only itself
	now   []int    // where each node came to stand
	used  []bool
}

// folders are kept for the next.
var folders = sync.Pool{New: func() any { return &folder{out: &tape{}, alike: map[likeness]int{}} }}

// likeness is what two nodes that come to the same have in common: the operation
// and its operands, in either order where that is all one.
type likeness struct {
	op    op
	a, b  int
	pow   float64
	table *Table
}

// term is a node, so many times.
type term struct {
	node int
	by   float64
}

// mostGathered is how long a sum is looked through.
const mostGathered = 8

func (t *tape) folded() *tape {
	f := folders.Get().(*folder)
	defer f.done()
	f.now = sized(f.now, len(t.nodes))
	now := f.now
	var few [16]int
	args := few[:0]
	for i, n := range t.nodes {
		args = args[:0]
		for _, a := range t.operands(i) {
			args = append(args, now[a])
		}
		if n.op == opSame || n.op == opSum && len(args) == 1 {
			now[i] = args[0]
			continue
		}
		sum, gathered := f.sum(n, args)
		if gathered {
			now[i] = f.written(sum)
			continue
		}
		now[i] = f.push(n, args, t.val[i], t.box[i])
		if f.terms[now[i]] == nil {
			f.terms[now[i]] = sum
		}
	}
	out := f.below(now[len(now)-1])
	out.kept = t.kept
	return out
}

// done gives the folder back.
func (f *folder) done() {
	o := f.out
	clear(o.nodes)
	clear(f.terms)
	clear(f.alike)
	o.nodes, o.args, o.first, o.val, o.box, f.terms = o.nodes[:0], o.args[:0], o.first[:0], o.val[:0], o.box[:0], f.terms[:0]
	folders.Put(f)
}

// below is the part of what was laid out that a node rests on.
func (f *folder) below(top int) *tape {
	t, n := f.out, top+1
	f.used, f.now = sized(f.used, n), sized(f.now, n)
	used, now := f.used, f.now
	out := &tape{nodes: make([]*node, 0, n), first: make([]int, 0, n), args: make([]int, 0, len(t.args)), val: make([]float64, 0, n), box: make([]interval, 0, n)}
	used[top] = true
	for i := top; i >= 0; i-- {
		if used[i] {
			for _, a := range t.operands(i) {
				used[a] = true
			}
		}
	}
	for i, n := range t.nodes[:top+1] {
		if !used[i] {
			continue
		}
		now[i] = len(out.nodes)
		out.nodes, out.first = append(out.nodes, n), append(out.first, len(out.args))
		for _, a := range t.operands(i) {
			out.args = append(out.args, now[a])
		}
		out.val, out.box = append(out.val, t.val[i]), append(out.box, t.box[i])
	}
	return out
}

// push lays out a node, unless there is one like it.
func (f *folder) push(n *node, args []int, val float64, box interval) int {
	if len(args) == 1 || len(args) == 2 {
		like := likeness{n.op, args[0], args[len(args)-1], n.pow, n.table}
		switch n.op {
		case opAdd, opMul, opMin, opMax, opHypot:
			like.a, like.b = min(like.a, like.b), max(like.a, like.b)
		}
		if at, ok := f.alike[like]; ok {
			return at
		}
		f.alike[like] = len(f.out.nodes)
	}
	o := f.out
	o.nodes, o.first, o.args = append(o.nodes, n), append(o.first, len(o.args)), append(o.args, args...)
	o.val, o.box, f.terms = append(o.val, val), append(o.box, box), append(f.terms, nil)
	return len(o.nodes) - 1
}

// sum is what a sum, a difference or a multiple comes to in terms that are
// neither, and whether two of them were gathered into one. It is nil for
// anything else.
func (f *folder) sum(n *node, args []int) (out []term, gathered bool) {
	add := func(a int, by float64) {
		list := f.terms[a]
		if list == nil {
			list = []term{{a, 1}}
		}
		for _, t := range list {
			if at := slices.IndexFunc(out, func(o term) bool { return o.node == t.node }); at >= 0 {
				out[at].by += by * t.by
				gathered = true
			} else {
				out = append(out, term{t.node, by * t.by})
			}
		}
	}
	switch n.op {
	case opAdd, opSum:
		if len(args) > mostGathered {
			return nil, false
		}
		for _, a := range args {
			add(a, 1)
		}
	case opSub:
		add(args[0], 1)
		add(args[1], -1)
	case opNeg:
		add(args[0], -1)
	case opMul:
		for k, a := range args {
			if b := f.out.box[a]; f.out.nodes[a].op == opLeaf && b.lo == b.hi && out == nil {
				add(args[1-k], f.out.val[a])
			}
		}
	}
	if len(out) > mostGathered {
		return nil, false
	}
	return slices.DeleteFunc(out, func(t term) bool { return t.by == 0 }), gathered
}

// written lays out the sum of the terms.
func (f *folder) written(sum []term) int {
	now := f.number(0)
	for i, t := range sum {
		one := t.node
		if t.by != 1 {
			one = f.made(opMul, f.number(t.by), one)
		}
		if i > 0 {
			one = f.made(opAdd, now, one)
		}
		now = one
	}
	if f.terms[now] == nil && len(sum) > 1 {
		f.terms[now] = sum
	}
	return now
}

func (f *folder) number(v float64) int {
	return f.push(&node{op: opLeaf, src: &Source{}, val: v, fwd: at(v)}, nil, v, at(v))
}

// made lays out an operation on two nodes that no formula has.
func (f *folder) made(o op, a, b int) int {
	n := &node{op: o}
	n.args = append(n.pair[:0], f.out.nodes[a], f.out.nodes[b])
	val := n.point([]float64{f.out.val[a], f.out.val[b]})
	return f.push(n, []int{a, b}, val, n.enclose([]interval{f.out.box[a], f.out.box[b]}).hull(at(val)))
}
