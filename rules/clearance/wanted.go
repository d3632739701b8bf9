package clearance

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

var wanted = &lint.Rule{
	Name:    "clearance/wanted",
	Title:   "the gaps that an engine from elsewhere, other tires or other springs put in question were measured",
	Due:     ledger.AtAssembly,
	Sources: []q.Citation{table.Cite},
	Note: "A gap that nobody looked for cannot be found too small. With another engine: steering through its travel, the pan over a front axle at bump, every shaft of the ledger, fuel and brake lines that are not the vehicle's own past what moves, and, where an engine drives it, the fan; where tires or ride height changed, the tires at bump and lock. " +
		"To the hood and the body, and belts to what stands still, are a should. What the exhaust asks for is clearance/hot-parts's.",
	Caution: hurt + " " + fire,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, need := range []struct {
			aspect string
			kinds  []string
			should bool
			is     q.Truth
			not    string
		}{
			{"steering", []string{"steering-to-fixed"}, false, swapped(b), noSwap},
			{"pan to axle", []string{"pan-to-axle"}, false, swapped(b).And(has(b, "front-axle")), "no other engine over a front axle"},
			{"shafts", []string{"shaft-to-fixed"}, false, swapped(b).And(q.Is(len(b.Shafts()) > 0)), "no other engine that turns a shaft"},
			{"lines by the shafts", []string{"line-to-moving"}, false, swapped(b).And(q.Is(len(b.Shafts()) > 0)).And(newLines(b)), "no other engine that turns a shaft past new lines"},
			{"tires", []string{"tire-to-body"}, false, standsOtherwise(b), "tires and springs are as received"},
			{"fan", []string{"fan-to-core"}, true, swapped(b).And(beltFan(b)), "no other engine with a fan on it"},
			{"around the engine", []string{"engine-to-hood", "engine-to-body", "belt-to-fixed"}, true, swapped(b).And(burns(b)), noSwap},
		} {
			check := s.On(b.Engine(), need.aspect)
			if need.should {
				check.Recommended()
			}
			all := q.Is(true)
			for _, kind := range need.kinds {
				all = all.And(taped(b, kind))
			}
			check.When(need.is, need.not).Holds(all, "")
		}
	},
}

const noSwap = "the engine is the vehicle's own"

// swapped tells that the engine is not the vehicle's own, or was another.
func swapped(b *ledger.Build) q.Truth {
	e := b.Engine()
	return e.Given().And(b.EngineWas().Given().Or(vehicle.FromElsewhere(b.Part(e.Part)).OrElse(false)))
}

// otherExhaust tells that the engine, or a part of the exhaust, is not the vehicle's own,
// or was altered; otherHeat that one of its hot end is.
func otherExhaust(b *ledger.Build) q.Truth {
	return otherOf(b, func(*ledger.Part) q.Truth { return q.Is(true) })
}

func otherHeat(b *ledger.Build) q.Truth {
	return otherOf(b, func(p *ledger.Part) q.Truth { return hotEnd(b, p) })
}

func otherOf(b *ledger.Build, counts func(*ledger.Part) q.Truth) q.Truth {
	out := swapped(b)
	for p := range b.Fitted() {
		if hotRoles.Word(p.Role.String(), "end") != "" {
			out = out.Or(counts(p).And(vehicle.FromElsewhere(p).Or(p.Change.Given())).OrElse(false))
		}
	}
	return out
}

// has tells whether the finished vehicle has a part of one of the roles.
func has(b *ledger.Build, roles ...string) q.Truth {
	out := q.Is(false)
	for p := range b.Fitted() {
		out = out.Or(p.Role.Is(roles...).OrElse(false))
	}
	return out
}

// newLines tells whether fuel or brake lines were led anew.
func newLines(b *ledger.Build) q.Truth {
	out := q.Is(false)
	for p := range b.Fitted() {
		out = out.Or(p.Role.Is("fuel-line", "brake-line").And(vehicle.FromElsewhere(p).Or(p.Change.Given())).OrElse(false))
	}
	return out
}

// beltFan tells whether the engine drives a fan; an electric one stays where it is.
func beltFan(b *ledger.Build) q.Truth {
	out := has(b, "fan-clutch")
	for p := range b.Fitted() {
		_, belt := p.Needs["belt-drive"]
		out = out.Or(p.Role.Is("fan").And(q.Is(belt)).OrElse(false))
	}
	return out
}

// standsOtherwise tells that tires, springs or ride height are not as received.
func standsOtherwise(b *ledger.Build) q.Truth {
	return q.Is(vehicle.Reworked(b, vehicle.Tires) || vehicle.Reworked(b, vehicle.Ride))
}
