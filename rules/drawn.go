package rules

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint/report/drawing"
	"fishplate/rules/circuits"
	"fishplate/rules/vehicle"
)

// Drawn is what the rules reckon of a build and its drawings show.
func Drawn(b *ledger.Build) drawing.Figures {
	w, n := vehicle.WeightsOf(b), circuits.Of(b)
	runs := map[string]*circuits.Run{}
	for _, r := range n.Runs {
		runs[r.Path()] = r
	}
	return drawing.Figures{
		Aboard:   vehicle.Aboard,
		Diameter: func(t *ledger.Tire) q.Quantity { return vehicle.Diameter(b, t) },
		Density:  vehicle.Density,
		Front:    loadsOf(w.Front), Rear: loadsOf(w.Rear),
		HeightWas: b.Vehicle().CGHeight, HeightNow: vehicle.CurbHeight(b),
		Wire: func(c *ledger.Circuit) drawing.Wire {
			r, ok := runs[c.Path()]
			if !ok {
				return drawing.Wire{}
			}
			return drawing.Wire{Current: n.Current(r, circuits.Everything), Drop: n.AtEnd(r), Fuse: n.Fuse(r)}
		},
	}
}

func loadsOf(s vehicle.State) drawing.AxleLoads {
	return drawing.AxleLoads{Received: s.Received, Predicted: s.Predicted, Built: s.Built, Curb: s.Curb, Loaded: s.Loaded}
}

// Followed are the rules whose figures a build's book follows over its commits.
var Followed = []string{"weight/front-axle", "weight/rear-axle", "weight/gross"}
