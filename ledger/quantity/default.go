package quantity

import "sync"

// Default is q where it is known, else the assumed value, whose grade must say
// so (see AssumedValue). What is assumed for a key of the ledger carries that
// key and its place: it is a value of its own, which does not cancel against
// the same assumption about another key.
func Default(q, assumed Quantity) Quantity {
	agree("a default", q.Dim(), assumed.Dim())
	leaf := assumed.Known() && assumed.node().op == opLeaf
	if leaf && assumed.node().grade != Assumed {
		panic("a default must be graded assumed: " + assumed.Name())
	}
	if q.Known() {
		return q
	}
	if key := absent(q.node()); leaf && key != nil {
		return Quantity{key.src.standIn(assumed.node())}
	}
	return assumed
}

// absent is the leaf of the key that a missing value stands at; of a choice,
// its first. It is nil where a value is reckoned from others, or its entry is
// not known.
func absent(n *node) *node {
	if n.op == opChoose {
		n = n.args[0]
	}
	if n.op != opLeaf || n.src == nil || n.src.Entry == "" || len(n.needs) == 0 {
		return nil
	}
	return n
}

var standIns sync.Mutex

// standIn is the assumed leaf as the value of this key, one and the same each
// time that it is asked for.
func (s *Source) standIn(assumed *node) *node {
	standIns.Lock()
	defer standIns.Unlock()
	if n, ok := s.stand[assumed]; ok {
		return n
	}
	n := *assumed
	n.src = &Source{Entry: s.Entry, Key: s.Key, Place: s.Place, Cite: assumed.src.Cite}
	if s.stand == nil {
		s.stand = map[*node]*node{}
	}
	s.stand[assumed] = &n
	return &n
}
