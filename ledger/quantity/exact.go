package quantity

// Equals tells whether the value as written is v in SI, whatever its
// tolerance: for counts, and for a zero that means "none". Missing stays
// missing.
func (q Quantity) Equals(v float64) Truth {
	if !q.Known() {
		return Unknown(q.Needs())
	}
	return Is(q.n.val == v)
}
