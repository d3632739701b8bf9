package circuits

import (
	"fishplate/ledger"
	"fishplate/ledger/quantity"
)

// joint is where circuits join: a relay, or the end or the beginning of a
// circuit. What many circuits that meet there share is worked out once, and
// not for each pair of them.
type joint struct {
	name string
	into set // the runs that lead to it
	out  set // the runs that it feeds

	deep       int     // how many circuits lead to it one behind another; less than 0 while that is counted
	carries    [2]once // the current of all that it feeds, by load
	along      [2]once // the most that is lost on the way to it, by load
	protection once    // the nearest fuse before it
}

// depth is how many circuits there are from a source to a run's end; those of a circle
// count once.
func (r *Run) depth() int {
	if r.fed == nil {
		return 1
	}
	return 1 + r.fed.depth()
}

func (j *joint) depth() int {
	if j.deep == 0 {
		most := 0
		j.deep = -1
		for _, r := range j.into.runs {
			most = max(most, r.depth())
		}
		j.deep = most
	}
	return max(j.deep, 0)
}

// set is runs in the order in which they came, each once.
type set struct {
	runs []*Run
	has  map[*Run]bool
}

func (s *set) add(r *Run) {
	if s.has[r] {
		return
	}
	if s.has == nil {
		s.has = map[*Run]bool{}
	}
	s.has[r] = true
	s.runs = append(s.runs, r)
}

// joint is the one at what a reference names.
func (n *Network) joint(to ledger.Ref) *joint {
	j := n.joints[to.String()]
	if j == nil {
		j = &joint{name: to.String()}
		n.joints[j.name] = j
	}
	return j
}

// end is where a run ends that others name as what they come from.
func (n *Network) end(r *Run) *joint {
	name := "end of " + r.Path()
	j := n.joints[name]
	if j == nil {
		j = &joint{name: name}
		j.into.add(r)
		n.joints[name] = j
	}
	return j
}

// join tells each run what hangs on it: what names it as what it comes from,
// what its own end names, and what else hangs on there; each once.
func (n *Network) join() {
	for _, r := range n.known {
		var all []*joint
		if j := n.joints["end of "+r.Path()]; j != nil {
			all = append(all, j)
		}
		named := map[string]bool{}
		for _, to := range r.To {
			if named[to.String()] {
				continue
			}
			named[to.String()] = true
			j := n.joint(to)
			if f := n.byPath[to.String()]; f != nil && f.fed != j && !fedBy(r, f) {
				j = &joint{name: to.String()} // it comes from elsewhere, and yet is said to be fed
				j.out.add(f)
			}
			all = append(all, j)
		}
		seen := map[*joint]bool{}
		for _, j := range all {
			if !seen[j] && len(j.out.runs) > 0 {
				seen[j] = true
				r.feeds = append(r.feeds, j)
			}
		}
	}
}

// fedBy tells whether a run is one of those that feed another.
func fedBy(r, f *Run) bool { return f.fed != nil && f.fed.into.has[r] }

// currents are those of all that hangs on a joint: one by one, or where
// several runs lead to it, their sum, which these share. What a ground returns
// is no load.
func (n *Network) currents(j *joint, of Load) []quantity.Quantity {
	each := func() (terms []quantity.Quantity) {
		for _, f := range j.out.runs {
			if !f.Duty.Is("ground").Holds() {
				terms = append(terms, n.Current(f, of))
			}
		}
		return terms
	}
	if len(j.into.runs) < 2 || len(j.out.runs) < 2 {
		return each()
	}
	return []quantity.Quantity{j.carries[of].get(quantity.Current, j.name, j.out.runs[0].Place(), func() quantity.Quantity {
		return quantity.Sum(quantity.Current, each()...).As("current past "+j.name, "sum of what it feeds")
	})}
}
