package street

import (
	"fmt"
	"slices"
	"strings"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/ledger/spelling"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

func checkEmissionGear(b *ledger.Build, s *lint.Sheet) {
	v, e := b.Vehicle(), b.Engine()
	for _, name := range gear.Rows() {
		fuels := strings.Split(gear.Word(name, "fuel"), " or ")
		said := q.Is(false)
		for _, m := range b.Emissions() {
			said = said.Or(m.Gear.Is(name).OrElse(false))
		}
		s.On(v, name).When(v.Fuel.Is(fuels...).Or(e.Fuel.Is(fuels...)), "neither engine burns a fuel that it goes with").
			Holds(said.Or(unwritten("an emission.x whose gear is "+name+misspelt(b, name), v)), "")
	}
	for _, m := range b.Emissions() {
		s.On(m, "").When(m.Now.Required(), "").Holds(m.Now.Is("kept").Or(m.Document.Required()), "it was not kept, and no document says why")
	}
}

// misspelt tells of an entry whose gear no row is called, and that was perhaps
// meant for this one.
func misspelt(b *ledger.Build, name string) string {
	for _, m := range b.Emissions() {
		if word := m.Gear.String(); !slices.Contains(gear.Rows(), word) && spelling.Nearest(word, gear.Rows()) == name {
			return fmt.Sprintf("; %s says %q: did you mean %q?", m.Path(), word, name)
		}
	}
	return ""
}

func checkLampHeights(b *ledger.Build, s *lint.Sheet) {
	headlamp := q.Is(false)
	for _, l := range b.Lamps() {
		headlamp = headlamp.Or(l.Kind.Is("headlamp"))
		fresh, late := vehicle.Untouched(b, l.Read, vehicle.Tires, vehicle.Ride, vehicle.Mass)
		check := s.On(l, "").When(l.Kind.Is("auxiliary", "clearance", "plate", "back-up").Not(), "the text has no fixed height for it").
			When(q.Is(!l.Height.Known()).Or(measuredSince(l, fresh, late)), "")
		if l.Kind.Is("headlamp").Fails() {
			check.Recommended()
		}
		if l.Kind.Is("side-marker").Holds() {
			check.AtLeast(l.Height, height(l.Kind, "lowest"))
			continue
		}
		check.Between(l.Height, height(l.Kind, "lowest"), height(l.Kind, "highest"))
	}
	s.On(b.Vehicle(), "headlamp").When(headlamp.Not(), "a headlamp is in the ledger").
		When(lampsMoved(b), "tires, springs and body were not changed").
		Holds(unwritten("a lamp.x of kind headlamp", b.Vehicle()), "")
}

// measuredSince holds where a lamp's height was measured after all that changes
// it, and else waits for it to be measured again.
func measuredSince(l *ledger.Lamp, fresh q.Truth, late string) q.Truth {
	if late != "" {
		return q.Unknown([]q.Need{{Key: l.Path() + ".height measured again: " + late, Place: l.Read.Source().Place}})
	}
	return fresh
}

// lampsMoved tells whether the work changed how high lamps stand, or took the
// body that carries them.
func lampsMoved(b *ledger.Build) q.Truth {
	return q.Is(vehicle.Reworked(b, vehicle.Tires) || vehicle.Reworked(b, vehicle.Ride)).Or(bodyChanged(b))
}

// bodyChanged tells whether the body or the rear is another than the vehicle
// came with: a part of it was altered, came off, or did not come with it.
func bodyChanged(b *ledger.Build) q.Truth {
	out := q.Is(b.IsPhantom())
	for _, p := range b.Parts() {
		changed := p.Change.Given().Or(p.Fitted.Not()).Or(p.Origin.Is("original").Not())
		out = out.Or(p.Role.Is(bodyParts...).And(changed).OrElse(false))
	}
	return out
}

// checkRearLamps asks for the lamps that a rear has, where it was changed.
func checkRearLamps(b *ledger.Build, s *lint.Sheet) {
	changed := bodyChanged(b)
	for _, level := range []string{"must", "should"} {
		var open []string
		for _, kind := range rearLamps.Rows() {
			if rearLamps.Word(kind, "level") != level {
				continue
			}
			there := q.Is(false)
			for _, l := range b.Lamps() {
				there = there.Or(l.Kind.Is(kind).OrElse(false))
			}
			if !there.Holds() {
				open = append(open, kind)
			}
		}
		done := q.Is(len(open) == 0)
		if len(open) > 0 {
			done = unwritten("a lamp.x of kind "+strings.Join(open, ", and one of kind "), b.Vehicle())
		}
		check := s.On(b.Vehicle(), rearAspects[level]).When(changed, "neither body nor rear was changed")
		if level == "should" {
			check.Recommended()
		}
		check.Holds(done, "")
	}
}

var rearAspects = map[string]string{"must": "tail, stop and turn", "should": "plate and reflectors"}

func checkMirrors(b *ledger.Build, s *lint.Sheet) {
	for _, side := range []string{"left", "right"} {
		largest := q.SI(0, q.Area)
		on := q.Is(false)
		for _, m := range b.Mirrors() {
			here := m.Side.Is(side)
			on = on.Or(here)
			flat := q.Choose(here.And(m.Kind.Is("flat")), m.Area, q.SI(0, q.Area))
			largest = q.Max(largest, flat)
		}
		there := q.Choose(on.Or(unwritten("a mirror.x on the "+side, b.Vehicle())), largest, largest)
		s.On(b.Vehicle(), side).AtLeast(there.As("largest flat mirror on the "+side, "the greatest of their areas"), mirrorArea(b.Vehicle().GrossRating))
	}
}

// cover is how far the body stands out past an axle's tires: as the tape read
// it, else reckoned. What the ledger does not call changed did not change.
func cover(b *ledger.Build, a *ledger.Axle) q.Quantity {
	now, was := b.Tire(a.Tire), b.Tire(a.TireWas)
	none := q.SI(0, q.Length)
	track := q.Choose(a.TrackWas.Given(), Grown(a.Track, a.TrackWas).As("track grown, "+a.Path(), "T - T'"), none)
	width := q.Choose(a.TireWas.Given(), Grown(now.SectionWidth, was.SectionWidth).As("section width grown, "+a.Path(), "S - S'"), none)
	moved := Sideways(track, width).As("tire moved out, "+a.Path(), "(dT + dS) / 2")
	return q.FirstOf(a.Cover, Covered(q.Default(a.CoverWas, coverAsReceived), moved).As("cover left, "+a.Path(), "c' - dy"))
}
