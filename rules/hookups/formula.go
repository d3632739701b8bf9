package hookups

import q "fishplate/ledger/quantity"

// Taken is what one part must supply of a hookup that adds up (heat, flow),
// all that it feeds at once:
//
//	T = sum of n t
//
// n how many of a part there are, t what one takes. That all take their most
// at the same time is the safe assumption. Common practice, no source.
func Taken(dim q.Dim, takers ...Taker) q.Quantity {
	terms := make([]q.Quantity, len(takers))
	for i, t := range takers {
		terms[i] = t.Count.Mul(t.Takes)
	}
	return q.Sum(dim, terms...).As("fed in all", "sum of count × takes")
}

// Taker is a part that takes: how many there are, and what one of them takes.
type Taker struct{ Count, Takes q.Quantity }
