package driveline

import (
	"embed"

	q "fishplate/ledger/quantity"
	"fishplate/rules/refdata"
)

//go:embed refdata/*.toml
var files embed.FS

var data = refdata.Load("driveline", files)

var (
	angleBySpeed = speedTable(data.Table("angle-by-speed"))
	slowest      = q.SI(angleBySpeed.X[0], q.AngularSpeed) // of the table's rows
	tubes        = data.Table("tubes")
	angleCite    = data.Source("angle-by-speed")
	leastAngle   = data.Value("least-joint-angle")
	cvAngle      = data.Value("greatest-angle-of-constant-velocity")
	difference   = data.Value("greatest-difference")
	resultant    = data.Value("greatest-resultant")
	acceleration = data.Value("greatest-torsional-acceleration")
	usable       = data.Value("share-of-critical")

	noAngle  = q.SI(0, q.Angle)
	noLength = q.SI(0, q.Length)
	one      = q.Number(1)
	minus    = q.Number(-1)
)

// speedTable lays out angle by speed.
func speedTable(from *refdata.Table) *q.Table {
	t := &q.Table{Name: "angle by speed, " + from.Cite.String(), XDim: q.AngularSpeed, YDim: q.Angle}
	for _, row := range from.Rows() {
		speed := q.Cited("speed", row, from.Cite.String())
		angle, _ := from.Cell(row, "angle")
		t.X, t.Y = append(t.X, speed.Value()), append(t.Y, angle.Value())
	}
	return t
}

// angleLimit is the greatest joint angle at a shaft speed. Slower than the
// table begins its first row is kept; faster than it ends there is none.
func angleLimit(speed q.Quantity) q.Quantity { return angleBySpeed.At(q.Max(speed, slowest)) }
