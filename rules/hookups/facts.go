package hookups

import (
	"strings"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

// fact is what a ledger states anyway and from which a question follows.
type fact func(*ledger.Build) q.Truth

// facts are the facts by their names in the table of questions, but for swaps
// of one fuel for another, which factNamed reads from their names.
var facts = map[string]fact{
	"engine-in": func(b *ledger.Build) q.Truth { return engineSwapped(b).And(is(b, "electric").Not()) },
	"diesel-in": func(b *ledger.Build) q.Truth { return engineSwapped(b).And(is(b, "diesel")) },
	"automatic-in": func(b *ledger.Build) q.Truth {
		return gearboxSwapped(b).And(b.Transmission().Kind.Is("automatic"))
	},
	"manual-in": func(b *ledger.Build) q.Truth {
		return gearboxSwapped(b).And(b.Transmission().Kind.Is("manual"))
	},
	"clutch-out": func(b *ledger.Build) q.Truth { return cameOff(b, roles("clutch", "clutch-pedal", "clutch-master")) },
	"vacuum-gone": func(b *ledger.Build) q.Truth {
		return cameOff(b, func(p *ledger.Part) q.Truth { _, gives := p.Gives["vacuum"]; return q.Is(gives) })
	},
	"original-tank": func(b *ledger.Build) q.Truth {
		return engineSwapped(b).And(anyFitted(b, func(p *ledger.Part) q.Truth {
			return p.Role.Is("fuel-tank").And(p.Origin.Is("original"))
		}))
	},
	"electric-pump": electricPump,
	"steering-changed": func(b *ledger.Build) q.Truth {
		return changed(b, "steering-box", "steering-rack", "steering-gear", "steering-column", "steering-shaft", "steering-coupler", "drag-link", "tie-rod", "pitman-arm", "idler-arm")
	},
	"brakes-changed": func(b *ledger.Build) q.Truth {
		ride := q.Is(false)
		for _, a := range b.Axles() {
			ride = ride.Or(a.RideChanged.Given()).Or(a.SpringRateWas.Given())
		}
		return ride.Or(changed(b, "brake-line", "brake-hose", "master-cylinder", "brake-booster", "hydraulic-booster"))
	},
	"exhaust-changed": func(b *ledger.Build) q.Truth {
		return changed(b, "exhaust", "exhaust-pipe", "exhaust-manifold", "downpipe", "muffler", "tail-pipe", "tailpipe")
	},
	"tires-changed": func(b *ledger.Build) q.Truth {
		is := q.Is(false)
		for _, a := range b.Axles() {
			is = is.Or(a.TireWas.Given())
		}
		return is
	},
	"coolant-changed": func(b *ledger.Build) q.Truth { return changed(b, "radiator", "expansion-tank") },
	"cut":             cut,
	"bracket-made": func(b *ledger.Build) q.Truth {
		return anyFitted(b, func(p *ledger.Part) q.Truth {
			return p.Role.Is("alternator-bracket", "bracket").And(p.Origin.Is("made"))
		})
	},
	"moved": func(b *ledger.Build) q.Truth {
		for p := range b.Fitted() {
			if far(b.MovedSinceWork(p)) {
				return q.Is(true)
			}
		}
		return q.Is(false)
	},
	"four-wheel-kept": func(b *ledger.Build) q.Truth {
		return b.Vehicle().Drive.Is("four-wheel").And(engineSwapped(b).Or(gearboxSwapped(b)))
	},
	"air-conditioning-kept": func(b *ledger.Build) q.Truth {
		return engineSwapped(b).And(anyFitted(b, roles("air-conditioning-compressor", "air-conditioning-condenser")))
	},
	"cooler-behind-valve": coolerBehindValve,
	"wires-cross": func(b *ledger.Build) q.Truth {
		zones := map[string]bool{}
		for _, c := range b.Circuits() {
			if c.Zone.Known() {
				zones[c.Zone.String()] = true
			}
		}
		return q.Is(len(zones) > 1)
	},
}

// factNamed is a fact by its name: one of facts, or a swap by fuel.
func factNamed(name string) fact {
	if f := facts[name]; f != nil {
		return f
	}
	out, in, fuels := strings.Cut(name, "-to-")
	same, alike := strings.CutPrefix(name, "same-")
	switch {
	case fuels:
		return func(b *ledger.Build) q.Truth { return engineSwapped(b).And(was(b, out)).And(is(b, in)) }
	case same == "fuel":
		return func(b *ledger.Build) q.Truth {
			return engineSwapped(b).And(q.Is(b.Engine().Fuel.Known())).And(was(b, b.Engine().Fuel.String()))
		}
	case alike:
		return func(b *ledger.Build) q.Truth { return engineSwapped(b).And(was(b, same)).And(is(b, same)) }
	}
	panic("hookups: no fact " + name)
}

// engineSwapped: there was another engine, or this one did not come with the
// vehicle.
func engineSwapped(b *ledger.Build) q.Truth {
	e := b.Engine()
	return b.EngineWas().Given().Or(e.Given().And(b.Part(e.Part).Origin.Is("original").Not()))
}

// gearboxSwapped: this one did not come with the vehicle.
func gearboxSwapped(b *ledger.Build) q.Truth {
	t := b.Transmission()
	return t.Given().And(b.Part(t.Part).Origin.Is("original").Not())
}

// was tells what fuel went out: the old engine's, else the vehicle's.
func was(b *ledger.Build, fuel string) q.Truth {
	return q.Is(fuel == "any").Or(q.FirstTruth(b.EngineWas().Fuel.Is(fuel), b.Vehicle().Fuel.Is(fuel)))
}

func is(b *ledger.Build, fuel string) q.Truth { return b.Engine().Fuel.Is(fuel) }

// anyFitted tells whether a fitted part is such. A part of which that is not
// known is none, unless it is a word of no list that hides it.
func anyFitted(b *ledger.Build, such func(*ledger.Part) q.Truth) q.Truth {
	out := q.Is(false)
	for p := range b.Fitted() {
		out = out.Or(such(p).OrElse(false))
	}
	return out
}

// cameOff tells whether a part that came off is such.
func cameOff(b *ledger.Build, such func(*ledger.Part) q.Truth) q.Truth {
	out := q.Is(false)
	for _, p := range b.Parts() {
		out = out.Or(p.Fitted.Not().And(such(p)).OrElse(false))
	}
	return out
}

func roles(names ...string) func(*ledger.Part) q.Truth {
	return func(p *ledger.Part) q.Truth { return p.Role.Is(names...) }
}

// changed tells whether a fitted part of one of the roles did not come with
// the vehicle, or was altered.
func changed(b *ledger.Build, names ...string) q.Truth {
	return anyFitted(b, func(p *ledger.Part) q.Truth {
		return p.Role.Is(names...).And(p.Change.Given().Or(p.Origin.Is("original").Not()))
	})
}

// electricPump: a pump sits in the tank, or a circuit feeds one.
func electricPump(b *ledger.Build) q.Truth {
	fed := map[string]bool{}
	for _, c := range b.Circuits() {
		for _, to := range c.To {
			fed[to.String()] = true
		}
	}
	return anyFitted(b, func(p *ledger.Part) q.Truth {
		return p.Role.Is("in-tank-pump").Or(p.Role.Is("fuel-pump", "lift-pump", "feed-pump").And(q.Is(fed[p.Path()])))
	})
}

// cut: room was made for a gap, or a crossmember or frame was made or altered.
func cut(b *ledger.Build) q.Truth {
	for _, g := range b.Gaps() {
		if g.Relief.Known() && g.Relief.Value() > 0 {
			return q.Is(true)
		}
	}
	return anyFitted(b, func(p *ledger.Part) q.Truth {
		return p.Role.Is("crossmember", "frame").And(p.Origin.Is("made").Or(p.Change.Given()))
	})
}

// coolerBehindValve: a cooler that coolant cools stands in a loop with a heater
// valve, or with a heater core where a valve is fitted somewhere.
func coolerBehindValve(b *ledger.Build) q.Truth {
	valve := anyFitted(b, roles("heater-valve"))
	inCoolant := map[string]bool{}
	for _, c := range b.Radiators() {
		if c.CooledBy.Is("coolant").Holds() && c.Part.Known() {
			inCoolant[c.Part.String()] = true
		}
	}
	out := q.Is(false)
	for _, l := range b.Loops() {
		behind, cooled := q.Is(false), q.Is(false)
		for _, r := range l.Through {
			if !r.Names("part").Holds() {
				continue
			}
			role := b.Part(r).Role
			behind = behind.Or(role.Is("heater-valve").Or(role.Is("heater-core").And(valve)).OrElse(false))
			cooled = cooled.Or(q.Is(inCoolant[r.String()]))
		}
		out = out.Or(behind.And(cooled))
	}
	return out
}

// far tells whether a move is more than what linkages and hoses give, or of
// unknown length.
func far(m ledger.Move) bool {
	if !m.Some.Holds() {
		return false
	}
	for _, way := range []q.Quantity{m.By.X, m.By.Y, m.By.Z} {
		if !way.Known() || q.Abs(way).Value() > movedFar.Value() {
			return true
		}
	}
	return false
}
