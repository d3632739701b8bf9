package vehicle

import (
	"fmt"
	"slices"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

// Matter is something that a test's outcome rests on, and that later work can
// change.
type Matter struct {
	roles []string // of the parts that it is made of
	tires bool     // other tires change it
	ride  bool     // other springs change it
	place bool     // where its parts stand is part of it
	mass  bool     // more than a small share of the weight, put on or taken off, changes it
}

// What tests rest on.
var (
	Brakes = Matter{roles: []string{"brake-booster", "hydraulic-booster", "anti-lock-unit", "brake-caliper", "brake-drum", "brake-hose", "brake-line", "brake-pads",
		"brake-rotor", "brake-shoes", "master-cylinder", "parking-brake", "proportioning-valve", "wheel-cylinder"}}
	Tires  = Matter{roles: []string{"tire"}, tires: true}
	Ride   = Matter{roles: []string{"spring", "leaf-spring", "shackle", "suspension"}, ride: true}
	Mass   = Matter{mass: true}
	Assist = Matter{roles: []string{"brake-booster", "hydraulic-booster", "vacuum-pump", "vacuum-reservoir", "power-steering-pump", "hydraulic-pump", "engine"}}
	Pull   = Matter{roles: []string{"engine", "transmission", "transfer-case", "torque-converter", "clutch", "front-axle", "rear-axle"}}
	Heat   = Matter{place: true, roles: []string{"engine", "turbocharger", "injection-pump", "radiator", "radiator-cap", "thermostat", "water-pump", "coolant-pump", "fan", "fan-clutch", "fan-shroud",
		"charge-air-cooler", "intercooler", "transmission-cooler", "oil-cooler", "air-conditioning-condenser", "transmission"}}
	FuelSupply = Matter{roles: []string{"engine", "injection-pump", "lift-pump", "feed-pump", "fuel-pump", "fuel-tank", "fuel-sender", "fuel-line", "fuel-filter", "water-separator"}}
	Cranking   = Matter{roles: []string{"engine", "battery", "starter", "ground-cable", "starter-relay", "isolator"}}
	Rolls      = Matter{roles: []string{"tire", "front-axle", "rear-axle", "transfer-case", "speed-sender"}, tires: true}
)

var littleMass = data.Value("mass-that-spoils-no-test")

// Latest are the tests that are, or may be, of a kind, without those that a later
// one of the kind follows.
func Latest(b *ledger.Build, kind string) []*ledger.Test {
	var last ledger.Date
	for _, t := range b.Tests() {
		if t.Kind.Is(kind).Holds() && t.Date.Known() && (!last.Known() || t.Date.After(last).Holds()) {
			last = t.Date
		}
	}
	var out []*ledger.Test
	for _, t := range b.Tests() {
		followed := t.Date.Known() && last.After(t.Date).Holds()
		if !t.Kind.Is(kind).Fails() && !followed {
			out = append(out, t)
		}
	}
	return out
}

// change is one thing that the work did, with its date where the ledger has it.
type change struct {
	entry string
	did   string
	on    ledger.Date
	part  *ledger.Part // that went on or came off
}

// Untouched tells whether nothing that the matters are made of changed after a
// day; where something did, the words say what and when. On the day itself
// counts as before it. What says no date went on, or came off, before the
// vehicle was weighed as built, as fitted-on and removed-on have it; where that
// weighing is later than the day, or there is none, it waits for the date.
// Where nothing ever changed no day is asked for.
func Untouched(b *ledger.Build, day ledger.Date, of ...Matter) (q.Truth, string) {
	fresh, told := q.Is(true), ""
	built := b.Weighed("as-built")
	note := func(c change) {
		late := c.after(built, day)
		if late.Holds() && told == "" {
			told = fmt.Sprintf("%s %s on %s, after the test on %s", c.entry, c.did, c.on, day)
		}
		fresh = fresh.And(late.Not())
	}
	for _, c := range changesIn(b, of) {
		note(c)
	}
	if slices.ContainsFunc(of, func(m Matter) bool { return m.mass }) {
		for _, c := range heavy(b, day) {
			note(c)
		}
	}
	return fresh, told
}

// after tells whether the change came later than a day, by the weighing as built
// where it has none of its own.
func (c change) after(built *ledger.Weighing, day ledger.Date) q.Truth {
	if c.on.Known() {
		return c.on.After(day)
	}
	if built.Given().Holds() && built.Date.Known() && day.Known() && built.Date.String() <= day.String() {
		return q.Is(false)
	}
	return q.Unknown(slices.Concat(c.on.Needs(), day.Needs()))
}

// changesIn lists what the work did to the matters.
func changesIn(b *ledger.Build, of []Matter) []change {
	var out []change
	for _, c := range partsChanged(b) {
		if slices.ContainsFunc(of, func(m Matter) bool { return m.has(c.part) }) {
			out = append(out, c)
		}
	}
	for p := range b.Fitted() {
		if slices.ContainsFunc(of, func(m Matter) bool { return m.place && m.has(p) }) {
			for path, on := range b.MovesOf(p) {
				if c := (change{entry: path, did: "moved", on: on}); !slices.ContainsFunc(out, func(o change) bool { return o.entry == path && o.did == c.did }) {
					out = append(out, c)
				}
			}
		}
	}
	for _, w := range b.Works() {
		mended := w.Did.Is(stirring...).Holds()
		if mended && slices.ContainsFunc(w.Parts, func(r ledger.Ref) bool {
			return slices.ContainsFunc(of, func(m Matter) bool { return m.has(b.Part(r)) })
		}) {
			out = append(out, change{entry: w.Path(), did: "was done", on: w.Date})
		}
	}
	for _, a := range b.Axles() {
		tire := b.Tire(a.Tire)
		if a.TireWas.Known() && !a.TireWas.Same(a.Tire.Word).Holds() && slices.ContainsFunc(of, func(m Matter) bool { return m.tires }) {
			out = append(out, change{entry: tire.Path(), did: "was fitted", on: a.TireFitted})
		}
		if (a.SpringRateWas.Known() || a.RideChanged.Known()) && slices.ContainsFunc(of, func(m Matter) bool { return m.ride }) {
			out = append(out, change{entry: a.Path(), did: "got other springs", on: a.SpringsFitted})
		}
	}
	return out
}

// has tells whether a part belongs to the matter.
func (m Matter) has(p *ledger.Part) bool {
	return len(m.roles) > 0 && p.Role.Is(m.roles...).Holds()
}

type partsChangedKey struct{}

// partsChanged are the changes of the parts that went on or came off.
func partsChanged(b *ledger.Build) []change {
	return ledger.Memo(b, partsChangedKey{}, func() (out []change) {
		for _, p := range b.Parts() {
			if c, ok := reworked(p); ok {
				out = append(out, c)
			}
		}
		return out
	})
}

// reworked is that a part went on or came off.
func reworked(p *ledger.Part) (change, bool) {
	c := change{entry: p.Path(), part: p}
	original := p.Origin.Is("original")
	switch {
	case p.FittedOn.Known() && !p.RemovedOn.After(p.FittedOn).Holds():
		c.did, c.on = "was fitted", p.FittedOn
	case p.RemovedOn.Known(), original.Holds() && p.Fitted.Fails():
		c.did, c.on = "was taken off", p.RemovedOn
	case original.Fails() && Aboard(p).Holds():
		c.did, c.on = "was fitted", p.FittedOn
	default:
		return c, false
	}
	return c, true
}

// heavy are the changes of mass that matter: each that is more than a small
// share of the weight by itself, and, where those with a later date are that
// together, the heaviest of them.
func heavy(b *ledger.Build, day ledger.Date) []change {
	curb := WeightsOf(b).Total.Curb
	if !curb.Known() {
		return nil
	}
	limit := littleMass.Value() * curb.Value()
	built := b.Weighed("as-built")
	var out []change
	var most change
	later, heaviest := 0.0, 0.0
	for _, c := range partsChanged(b) {
		mass := Several(c.part.Count, c.part.Mass)
		if !mass.Known() {
			continue
		}
		m := mass.Value()
		if m > limit {
			out = append(out, c)
		}
		if c.after(built, day).Holds() {
			if later += m; most.entry == "" || m > heaviest {
				most, heaviest = c, m
			}
		}
	}
	if later > limit {
		out = append(out, most)
	}
	return out
}

// Reworked tells whether the work changed anything that a matter is made of,
// whenever it was.
func Reworked(b *ledger.Build, of Matter) bool { return len(changesIn(b, []Matter{of})) > 0 }

// stirring is work that may leave a part otherwise than a test or a reading off it
// had it.
var stirring = []string{"renewed", "repaired", "adjusted", "made", "fitted", "removed"}

// Stirred tells what was done to a part after a day on which something was read
// off it: it moved, or what it hangs on, it went on or came off, or was worked on.
// "" where nothing was. A reading without a date is taken as
// from before a move that has one.
func Stirred(b *ledger.Build, p *ledger.Part, read ledger.Date) string {
	if path, on := b.MovedAfter(p, read); path != "" {
		return fmt.Sprintf("%s moved on %s", path, on)
	}
	if p.FittedOn.After(read).Holds() {
		return fmt.Sprintf("%s was fitted on %s", p.Path(), p.FittedOn)
	}
	if p.RemovedOn.After(read).Holds() {
		return fmt.Sprintf("%s was taken off on %s", p.Path(), p.RemovedOn)
	}
	for _, w := range b.Works() {
		if w.Did.Is(stirring...).Holds() && w.Date.After(read).Holds() && slices.ContainsFunc(w.Parts, func(r ledger.Ref) bool { return r.Is(p.Path()).Holds() }) {
			return fmt.Sprintf("%s was done to %s on %s", w.Path(), p.Path(), w.Date)
		}
	}
	return ""
}
