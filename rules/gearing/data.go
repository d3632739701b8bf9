package gearing

import (
	"embed"
	"math"

	q "fishplate/ledger/quantity"
	"fishplate/rules/refdata"
)

//go:embed refdata/*.toml
var files embed.FS

var data = refdata.Load("gearing", files)

var (
	cruising  = data.Value("cruise-speed")
	overIdle  = data.Value("least-over-idle")
	geared    = data.Value("governed-speed")
	startable = data.Value("start-grade")
	agreement = data.Value("signal-agreement")
	steepest  = data.Value("sine-of-45-deg")

	resistance = assumed("rolling-resistance")
	efficiency = assumed("driveline-efficiency")
	atClutch   = assumed("share-of-torque-at-clutch")

	one     = q.Number(1)
	level   = q.Number(0)
	perTurn = q.SI(1/(2*math.Pi), q.PerAngle) // 1 pulse a revolution
)

// assumed is an interval of the data as a default.
func assumed(key string) q.Quantity {
	v := data.Value(key)
	return q.AssumedValue(v.Source().Key, v.Spelling(), v.Source().Cite)
}
