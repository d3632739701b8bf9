package quantity

// Put is the quantity as it is with other readings in place of some leaves,
// those of values that are missing among them: choices are made again, and what
// only waited for them is known.
func (q Quantity) Put(readings map[*Source]Reading) Quantity { return q.tape().put(readings) }

func (t *tape) put(readings map[*Source]Reading) Quantity {
	made := make([]*node, len(t.nodes))
	for i, n := range t.nodes {
		args := make([]*node, 0, len(n.args))
		changed := false
		for _, a := range t.operands(i) {
			args = append(args, made[a])
			changed = changed || made[a] != t.nodes[a]
		}
		switch r, put := readings[n.src]; {
		case n.op == opLeaf && n.src != nil && put:
			made[i] = Leaf(r, n.src).n
		case !changed:
			made[i] = n
		case n.op == opChoose:
			made[i] = n.chosen(args)
		default:
			m := *n
			m.args, m.needs = args, nil
			made[i] = m.done().n
		}
	}
	return Quantity{made[len(made)-1]}
}

// chosen makes a choice again with other operands. What hangs on a truth that is
// not known stays open, for its operands do not say which holds.
func (n *node) chosen(args []*node) *node {
	if !n.first {
		m := *n
		m.args = args
		return &m
	}
	qs := make([]Quantity, len(args))
	for i, a := range args {
		qs[i] = Quantity{a}
	}
	q := FirstOf(qs...)
	if c := n.called(); c.name != "" {
		q = q.As(c.name, c.formula)
	}
	return q.node()
}
