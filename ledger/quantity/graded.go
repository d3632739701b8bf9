package quantity

// Graded tells whether a value is of that grade or better. Where the value is
// missing, so is the answer.
func (q Quantity) Graded(least Grade) Truth {
	if !q.Known() {
		return Unknown(q.Needs())
	}
	return Is(q.Grade() >= least)
}
