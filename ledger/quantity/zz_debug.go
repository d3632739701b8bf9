package quantity

func (q Quantity) Size() int { return len(q.tape().nodes) }
