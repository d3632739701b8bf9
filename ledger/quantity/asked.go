package quantity

// What a rule may ask of a value besides comparing it. Where the value is
// missing, so is the answer.

// Equals tells whether the value as written is v in SI, whatever its
// tolerance: for counts, and for a zero that means "none".
func (q Quantity) Equals(v float64) Truth {
	if !q.Known() {
		return Unknown(q.Needs())
	}
	return Is(q.n.val == v)
}

// Graded tells whether a value is of that grade or better.
func (q Quantity) Graded(least Grade) Truth {
	if !q.Known() {
		return Unknown(q.Needs())
	}
	return Is(q.Grade() >= least)
}
