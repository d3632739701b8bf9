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

// ReadOnAnother are the values of an entry that OfAnother tells of.
func (b *Build) ReadOnAnother(path string) []q.Need {
	e, ok := b.Entry(path)
	if !ok || !b.Info().From.Known() {
		return nil
	}
	var out []q.Need
	for _, v := range e.Values() {
		f := e.schema.At(v.Key)
		if f == nil || !f.OfVehicle || !f.TakesQuantity() {
			continue
		}
		if r, err := q.Parse(v.Text, f.Dim, q.Options{}); err == nil && r.Grade == q.Estimate {
			out = append(out, q.Need{Key: path + "." + v.Key, Place: v.Place})
		}
	}
	return out
}
