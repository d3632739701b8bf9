package street

import (
	"embed"

	q "fishplate/ledger/quantity"
	"fishplate/rules/refdata"
)

//go:embed refdata
var files embed.FS

var (
	data      = refdata.Load("street", files)
	headlamps = data.Table("headlamps")
	quoted    = data.Table("quoted-lamps")
	lamps     = data.Table("lamps")
	gear      = data.Table("gear")
	rearLamps = data.Table("rear-lamps")
	bodyParts = data.Table("body-parts").Rows()
	roadLamps = data.Table("road-lamps").Rows()
)

// coverAsReceived is what the body stood out past the tire, where nobody has
// measured it.
var coverAsReceived = q.AssumedValue("fender cover as received", data.Value("cover-as-received").Spelling(), "assumed, the maker covered the tire: "+data.Source("covered").String())

// height is a column of the lamps' heights.
func height(kind q.Word, column string) q.Quantity {
	return q.Look(kind, q.Length, "a "+column+" height", func(word string) (q.Quantity, bool) {
		for _, t := range []*refdata.Table{headlamps, quoted} {
			if v, ok := t.Cell(word, column); ok {
				return v, true
			}
		}
		return lamps.Cell(word, column)
	})
}

// mirrorArea is what an outside mirror has at least, by the gross rating.
func mirrorArea(grossRating q.Quantity) q.Quantity {
	return q.Below(data.Value("heavier-than"), grossRating, data.Value("mirror-heavier"), data.Value("mirror"))
}
