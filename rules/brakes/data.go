package brakes

import (
	"embed"

	q "fishplate/ledger/quantity"
	"fishplate/rules/refdata"
)

//go:embed refdata
var files embed.FS

var (
	data     = refdata.Load("brakes", files)
	stopRows = data.Table("stopping")
	gravity  = data.Value("gravity")
	grip     = data.Value("grip")
)

// pedalTime is how long the brakes take to bite, where nobody has timed them.
var pedalTime = q.AssumedValue("pedal time", data.Value("pedal-time").Spelling(), "assumed, hydraulic brakes: "+data.Source("practice").String())

// asked is a column of 49 CFR 393.52(d) for a vehicle of that gross rating.
func asked(column string, grossRating q.Quantity) q.Quantity {
	upTo, _ := stopRows.Cell("B1", column)
	over, _ := stopRows.Cell("B2", column)
	return q.Below(data.Value("heavier-than"), grossRating, over, upTo)
}
