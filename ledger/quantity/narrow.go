package quantity

import "math"

// Narrowing: everything on the way enclosed by the mean-value form.

// mostNarrowed is how many slopes narrowing may take, one a node and variable.
const mostNarrowed = 60_000

// row is the slopes of a node by those of the variables that stand below it: the
// first of them, and the one past the last.
type row struct {
	from, to int
	list     []interval
}

// over spans two rows.
func (r row) over(o row) row {
	switch {
	case o.from == o.to:
		return r
	case r.from == r.to:
		return row{o.from, o.to, nil}
	}
	return row{min(r.from, o.from), max(r.to, o.to), nil}
}

// narrow encloses everything on the way once more, each by the mean-value form
// as well, so that slopes are taken over what it really spans. It tells whether
// there was anything to do.
func (e *end) narrow(x *region, box []interval) bool {
	left := e.left[:0]
	for i := range box {
		if box[i].lo < box[i].hi {
			left = append(left, i)
		}
	}
	e.left = left
	m := len(left)
	if m == 0 || m*len(e.order) > mostNarrowed {
		return false
	}
	e.middle = copied(e.middle, box)
	e.away = sized(e.away, m)
	middle, off := e.middle, e.away
	for j, i := range left {
		c := at(box[i].lo/2 + box[i].hi/2)
		middle[i], off[j] = c, box[i].sub(c)
	}
	if !e.forward(x, middle) {
		return false
	}
	for _, i := range e.order {
		e.mid[i] = e.at[i]
	}
	e.work += m
	e.rows = sized(e.rows, len(e.nodes))
	slopes, size := e.rows, m
	for i, v := range e.vars {
		e.at[v] = box[i]
	}
	for j, i := range left {
		slopes[e.vars[i]] = row{j, j + 1, nil}
	}
	for _, i := range e.order {
		for _, a := range e.operands(i) {
			slopes[i] = slopes[i].over(slopes[a])
		}
		size += slopes[i].to - slopes[i].from
	}
	e.sheet = sized(e.sheet, size)
	all := e.sheet
	lay := func(i int) []interval {
		r := &slopes[i]
		n := r.to - r.from
		r.list, all = all[:n:n], all[n:]
		return r.list
	}
	for _, i := range left {
		lay(e.vars[i])[0] = at(1)
	}
	for _, i := range e.order {
		n, args := e.nodes[i], e.operands(i)
		own, from := lay(i), slopes[i].from
		boxes := e.gather(i, e.at)
		for k, a := range args {
			below := slopes[a]
			if len(below.list) == 0 {
				continue
			}
			s := e.partial(x, i, k, boxes)
			if s == at(0) {
				continue
			}
			for j, d := range below.list {
				if d != at(0) {
					o := &own[below.from-from+j]
					*o = o.add(s.mul(d))
				}
			}
		}
		b := whole
		if taken, ok := e.settled(x, i); ok {
			b = taken
		} else if out := n.enclose(boxes); !math.IsNaN(out.lo) && !math.IsNaN(out.hi) {
			b = out
		}
		sum := e.mid[i]
		for j, d := range own {
			if d != at(0) {
				sum = sum.add(d.mul(off[from+j]))
			}
		}
		if !math.IsNaN(sum.lo) && !math.IsNaN(sum.hi) {
			b = b.meet(sum)
		}
		e.at[i] = b
	}
	return true
}
