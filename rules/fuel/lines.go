package fuel

import (
	"slices"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
)

// What stands at the two ends of a fuel line, by role.
var (
	tankEnds = []string{"fuel-tank", "tank", "fuel-sender"}
	pumpEnds = []string{"lift-pump", "feed-pump", "fuel-pump", "injection-pump", "high-pressure-pump", "injector", "fuel-rail", "carburetor", "throttle-body", "engine"}
)

// supplyLines are the hoses and tubes that lead from each tank to the first
// pump, by what they join and whatever role they say; those of one tank are a
// group. None where no tank is joined to a pump.
func supplyLines(b *ledger.Build) [][]*ledger.Hose { return lead(b, tankEnds, pumpEnds) }

// returnLines are those that lead from each pump back to a tank.
func returnLines(b *ledger.Build) [][]*ledger.Hose { return lead(b, pumpEnds, tankEnds) }

// lead finds, for each part of some roles, the hoses on the way to a part of
// others. The way ends at the first of these, and does not come back through one
// of those; a hose between two of those (a pickup, from tank to sender) is part
// of the way of the second.
func lead(b *ledger.Build, from, to []string) [][]*ledger.Hose {
	hoses := fuelHoses(b)
	if b.IsPhantom() && len(hoses) > 0 {
		return [][]*ledger.Hose{hoses}
	}
	starts, ends := carry(b, hoses, from), carry(b, hoses, to)
	back := reach(hoses, ends, func(h *ledger.Hose) (string, string) { return h.To.String(), h.From.String() }, starts)
	var out [][]*ledger.Hose
	for start := range starts {
		ahead := reach(hoses, map[string]bool{start: true}, func(h *ledger.Hose) (string, string) { return h.From.String(), h.To.String() }, union(starts, ends))
		var way []*ledger.Hose
		for _, h := range hoses {
			if ahead[h] && back[h] {
				way = append(way, h)
			}
		}
		if len(way) == 0 {
			continue
		}
		for _, h := range hoses {
			if starts[h.From.String()] && h.To.String() == start {
				way = append(way, h)
			}
		}
		out = append(out, way)
	}
	slices.SortFunc(out, func(a, b []*ledger.Hose) int {
		switch {
		case a[0].Path() < b[0].Path():
			return -1
		case a[0].Path() > b[0].Path():
			return 1
		}
		return len(a) - len(b)
	})
	return out
}

// carry are the fitted parts of some roles that a hose joins.
func carry(b *ledger.Build, hoses []*ledger.Hose, roles []string) map[string]bool {
	out := map[string]bool{}
	for _, h := range hoses {
		for _, end := range []ledger.Ref{h.From, h.To} {
			if end.Names("part").Holds() && b.Part(end).Role.Is(roles...).And(b.Part(end).Fitted).Holds() {
				out[end.String()] = true
			}
		}
	}
	return out
}

// reach are the hoses that can be come to from some ends, going the way that
// along says and no further than where it stops.
func reach(hoses []*ledger.Hose, from map[string]bool, along func(*ledger.Hose) (enter, leave string), stop map[string]bool) map[*ledger.Hose]bool {
	leaving := map[string][]*ledger.Hose{}
	for _, h := range hoses {
		leaving[h.Path()] = append(leaving[h.Path()], h) // a hose may name the next one as its end
		if h.From.Known() && h.To.Known() {
			enter, _ := along(h)
			leaving[enter] = append(leaving[enter], h)
		}
	}
	out, at := map[*ledger.Hose]bool{}, make([]string, 0, len(from))
	for end := range from {
		at = append(at, end)
	}
	for len(at) > 0 {
		here := at[0]
		at = at[1:]
		for _, h := range leaving[here] {
			if out[h] {
				continue
			}
			out[h] = true
			at = append(at, h.Path())
			if _, next := along(h); !stop[next] {
				at = append(at, next)
			}
		}
	}
	return out
}

func union(a, b map[string]bool) map[string]bool {
	out := map[string]bool{}
	for _, m := range []map[string]bool{a, b} {
		for k := range m {
			out[k] = true
		}
	}
	return out
}

// lossIn is the friction in hoses and tubes, one after the other.
func lossIn(b *ledger.Build, lines []*ledger.Hose) quantity.Quantity {
	liquid := Liquid{Viscosity: b.Fuel().Viscosity, Density: heaviest(b)}
	losses := make([]quantity.Quantity, len(lines))
	for i, h := range lines {
		losses[i] = LineLoss(Pipe{Name: h.Path(), Flow: h.Flow, Bore: h.Bore, Length: h.Length, Roughness: roughness}, liquid, pipeLimits)
	}
	return quantity.Sum(quantity.Pressure, losses...)
}

// greatest is the loss of the worst of several ways, and waits for hoses where
// there is none.
func greatest(b *ledger.Build, ways [][]*ledger.Hose, name, waits string) quantity.Quantity {
	if len(ways) == 0 {
		return quantity.Waits(quantity.Pressure, waits, b.Fuel().Place())
	}
	return worst(ways, name, "sum of the friction losses", func(way []*ledger.Hose) quantity.Quantity { return lossIn(b, way) })
}

// worst is the greatest of what several ways come to, each by the formula.
func worst(ways [][]*ledger.Hose, name, formula string, of func([]*ledger.Hose) quantity.Quantity) quantity.Quantity {
	if len(ways) == 1 {
		return of(ways[0]).As(name, formula)
	}
	each := make([]quantity.Quantity, len(ways))
	for i, way := range ways {
		each[i] = of(way).As(name+" by "+way[0].Path(), formula)
	}
	return quantity.Max(each[0], each[1:]...).As(name, "the greatest of the ways")
}

// supplyLoss is the friction in the lines from the tank to the first pump.
func supplyLoss(b *ledger.Build) quantity.Quantity {
	return greatest(b, supplyLines(b), "supply line loss", "hoses that carry fuel and lead, by their from and to, from a part with the role fuel-tank or fuel-sender to a fuel pump")
}

// returnLoss is that in the lines from the pump back to the tank.
func returnLoss(b *ledger.Build) quantity.Quantity {
	return greatest(b, returnLines(b), "return line loss", noReturn)
}

const noReturn = "hoses that carry fuel and lead, by their from and to, from the injection pump or the engine back to the tank"
