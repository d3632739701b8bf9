package shoprules

import (
	"fishplate/ledger/quantity"
	"fishplate/ledger/schema"
)

// sort is what a value is, as far as it is known before anything runs.
type sort uint8

const (
	anything sort = iota // not known, for it is wrong or the language's own matter
	aTruth
	aText
	aNumber
	anAmount
	anEntry
	aList
)

// shape is a value before anything runs. A quantity is a phantom of its
// dimension: what is reckoned with it shows whether dimensions fit.
type shape struct {
	sort  sort
	q     quantity.Quantity
	of    *fields       // of an entry
	elem  *shape        // of a list; nil of one that is empty
	words *schema.Field // of a text: the key that says which words it may be
	text  *string       // of a text that is written out
	num   *float64      // of a number that is
}

func amountOf(dim quantity.Dim) *shape {
	return &shape{sort: anAmount, q: phantom(dim)}
}

func phantom(dim quantity.Dim) quantity.Quantity {
	return quantity.Waits(dim, "a value", quantity.Place{})
}

// noun is what messages call it.
func (s *shape) noun() string {
	switch s.sort {
	case aTruth:
		return "a yes or no"
	case aText:
		return "text"
	case aNumber:
		return "a number"
	case anAmount:
		if d := s.q.Dim(); d == quantity.Ratio || d == quantity.Any {
			return "a quantity"
		} else {
			return "a quantity (" + d.String() + ")"
		}
	case anEntry:
		return "an entry (" + s.of.name + ")"
	case aList:
		return "a list"
	}
	return "this"
}

// amount is the shape as a quantity, a number as a pure one.
func (s *shape) amount() (quantity.Quantity, bool) {
	switch s.sort {
	case anAmount:
		return s.q, true
	case aNumber:
		return phantom(quantity.Ratio), true
	case anything:
		return phantom(quantity.Any), true
	}
	return quantity.Quantity{}, false
}
