package quantity

import "math"

// What a search goes through again and again: all boxes from the variables up, all
// slopes from the result down, all values at a point.

// step is a node in the order of a problem, with its first and its last operand; of
// a sum a is its place among the sums.
type step struct {
	op         op
	node, a, b int32
}

// sumOf is the terms of a sum that are live, and what the others come to.
type sumOf struct {
	terms []int
	box   interval
	val   float64
}

// lay lays out the steps.
func (p *problem) lay() {
	p.steps, p.sums = make([]step, len(p.order)), nil
	for k, i := range p.order {
		args := p.operands(i)
		p.steps[k] = step{op: p.ops[i], node: int32(i), a: int32(args[0]), b: int32(args[len(args)-1])}
		if p.ops[i] == opSum {
			p.steps[k].a = int32(len(p.sums))
			p.sums = append(p.sums, p.sum(args))
		}
	}
}

func (p *problem) sum(args []int) (out sumOf) {
	for _, a := range args {
		if p.live[a] {
			out.terms = append(out.terms, a)
		} else {
			out.box, out.val = out.box.add(p.at[a]), out.val+p.mark[a]
		}
	}
	return out
}

// forward encloses all over a box, with the choices that the region took. It
// tells whether there is any value; what leaves a domain altogether has none.
func (e *end) forward(x *region, box []interval) bool {
	e.work++
	for i, v := range e.vars {
		e.at[v] = box[i]
	}
	for _, s := range e.steps {
		var b interval
		i := int(s.node)
		switch s.op {
		case opAdd:
			b = e.at[s.a].add(e.at[s.b])
		case opSub:
			b = e.at[s.a].sub(e.at[s.b])
		case opMul:
			if s.a == s.b {
				b = e.nodes[i].enclose(e.gather(i, e.at))
			} else {
				b = e.at[s.a].mul(e.at[s.b])
			}
		case opSum:
			sum := &e.sums[s.a]
			b = sum.box
			for _, a := range sum.terms {
				b = b.add(e.at[a])
			}
		case opDiv:
			if e.isLifted(i) >= 0 {
				continue
			}
			b = e.at[s.a].div(e.at[s.b])
		default:
			if taken, ok := e.settled(x, i); ok {
				e.at[i] = taken
				continue
			}
			b = e.nodes[i].enclose(e.gather(i, e.at))
		}
		if math.IsNaN(b.lo) || math.IsNaN(b.hi) {
			switch s.op {
			case opSqrt, opLog, opPow, opAsin, opTable:
				return false
			}
			b = whole
		}
		e.at[i] = b
	}
	return true
}

// settled is the box of an operation for which the region has something simpler,
// and whether it has.
func (e *end) settled(x *region, i int) (interval, bool) {
	if k, ok := x.took[i]; ok {
		return e.taken(i, k), true
	}
	if x.lean != nil && x.lean.node == i {
		return e.leaned(x.lean), true
	}
	return interval{}, false
}

// taken is the box of a choice that was settled. Of a magnitude, the second
// choice is the negative.
func (e *end) taken(i, k int) interval {
	args := e.operands(i)
	if e.nodes[i].op == opAbs {
		if k == 1 {
			return e.at[args[0]].neg()
		}
		return e.at[args[0]]
	}
	return e.at[args[k]]
}

// reverse gives the slopes by every variable over the boxes of the last
// enclosure.
func (e *end) reverse(x *region) {
	e.work++
	for _, v := range e.vars {
		e.slope[v] = at(0)
	}
	for _, i := range e.order {
		e.slope[i] = at(0)
	}
	e.slope[e.top] = at(1)
	for j := len(e.order) - 1; j >= 0; j-- {
		st := &e.steps[j]
		i := int(st.node)
		s, o := e.slope[i], st.op
		if o == opDiv {
			if j := e.isLifted(i); j >= 0 {
				e.apart(x, j)
				continue
			}
		}
		if s == at(0) {
			continue
		}
		switch o {
		case opAdd:
			e.steepen(st.a, s)
			e.steepen(st.b, s)
			continue
		case opSub:
			e.steepen(st.a, s)
			e.steepen(st.b, s.neg())
			continue
		case opMul:
			if d := e.at[st.b]; e.live[st.a] && d != at(0) {
				e.steepen(st.a, s.mul(d))
			}
			if d := e.at[st.a]; e.live[st.b] && d != at(0) {
				e.steepen(st.b, s.mul(d))
			}
			continue
		}
		if o == opSum {
			for _, a := range e.sums[st.a].terms {
				e.slope[a] = e.slope[a].add(s)
			}
			continue
		}
		boxes := e.gather(i, e.at)
		for k, a := range e.operands(i) {
			if !e.live[a] {
				continue
			}
			if d := e.partial(x, i, k, boxes); d != at(0) {
				e.slope[a] = e.slope[a].add(s.mul(d))
			}
		}
	}
}

// steepen adds to the slope by a node.
func (e *end) steepen(a int32, s interval) {
	if e.live[a] {
		e.slope[a] = e.slope[a].add(s)
	}
}

// partial is the slope of a node by one of its operands, with the choices that
// the region took.
func (e *end) partial(x *region, i, operand int, boxes []interval) interval {
	k, ok := x.took[i]
	switch {
	case !ok && x.lean != nil && x.lean.node == i:
		return at(x.lean.steep(e.ops[i], operand))
	case !ok:
		return e.nodes[i].slope(operand, boxes)
	case e.nodes[i].op == opAbs:
		return at(float64(1 - 2*k))
	}
	return at(float64(boolToInt(operand == k)))
}

// value is sign times the value at a point; no less than anything where there is
// none.
func (e *end) value(point []float64) float64 {
	e.work++
	for i, v := range e.vars {
		e.mark[v] = point[i]
	}
	for _, s := range e.steps {
		switch s.op {
		case opAdd:
			e.mark[s.node] = e.mark[s.a] + e.mark[s.b]
		case opSub:
			e.mark[s.node] = e.mark[s.a] - e.mark[s.b]
		case opMul:
			e.mark[s.node] = e.mark[s.a] * e.mark[s.b]
		case opSum:
			sum := &e.sums[s.a]
			v := sum.val
			for _, a := range sum.terms {
				v += e.mark[a]
			}
			e.mark[s.node] = v
		default:
			e.mark[s.node] = e.point(int(s.node), e.mark)
		}
	}
	v := e.sign * e.mark[e.top]
	if math.IsNaN(v) {
		return math.Inf(1)
	}
	return v
}

// isLifted is the place of a node in lifts; -1 where it is not.
func (p *problem) isLifted(i int) int {
	if p.lifted == nil {
		return -1
	}
	return p.lifted[i] - 1
}
