package ledger

import q "fishplate/ledger/quantity"

// OfAnother tells whether a value is an estimate of what is of one vehicle
// alone, in a build that was begun from another.
func (b *Build) OfAnother(v q.Quantity) bool {
	src := v.Source()
	if src == nil || v.Grade() != q.Estimate || !b.Info().From.Known() {
		return false
	}
	e, ok := b.Entry(src.Entry)
	if !ok {
		return false
	}
	f := e.schema.At(src.Key)
	return f != nil && f.OfVehicle
}
