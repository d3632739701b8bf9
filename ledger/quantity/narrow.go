package quantity

import (
	"math"
	"slices"
	"sync"
)

// Narrowing: everything on the way enclosed by the mean-value form.

// mostNarrowed is how many slopes narrowing may take, one a node and variable.
const mostNarrowed = 60_000

// sheets are what narrow writes on, kept for the next.
var sheets = sync.Pool{New: func() any { return new([]interval) }}

// narrow encloses everything on the way once more, each by the mean-value form
// as well, so that slopes are taken over what it really spans. It tells whether
// there was anything to do.
func (e *end) narrow(x *region, box []interval) bool {
	var left []int
	for i := range box {
		if box[i].lo < box[i].hi {
			left = append(left, i)
		}
	}
	m := len(left)
	if m == 0 || m*len(e.order) > mostNarrowed {
		return false
	}
	e.middle = copied(e.middle, box)
	middle, off := e.middle, make([]interval, m)
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
	slopes := make([][]interval, len(e.nodes))
	size := m * (len(e.order) + m)
	sheet := sheets.Get().(*[]interval)
	defer sheets.Put(sheet)
	*sheet = slices.Grow((*sheet)[:0], size)
	all := (*sheet)[:size]
	clear(all)
	next := func() []interval { s := all[:m:m]; all = all[m:]; return s }
	for i, v := range e.vars {
		e.at[v] = box[i]
	}
	for j, i := range left {
		slopes[e.vars[i]] = next()
		slopes[e.vars[i]][j] = at(1)
	}
	for _, i := range e.order {
		if e.isLifted(i) >= 0 {
			continue
		}
		n, args := e.nodes[i], e.operands(i)
		own := next()
		slopes[i] = own
		boxes := e.gather(i, e.at)
		for k, a := range args {
			if slopes[a] == nil {
				continue
			}
			s := e.partial(x, i, k, boxes)
			if s == at(0) {
				continue
			}
			for j, d := range slopes[a] {
				if d != at(0) {
					own[j] = own[j].add(s.mul(d))
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
				sum = sum.add(d.mul(off[j]))
			}
		}
		if !math.IsNaN(sum.lo) && !math.IsNaN(sum.hi) {
			b = b.meet(sum)
		}
		e.at[i] = b
	}
	return true
}
