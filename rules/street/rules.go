package street

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
)

// Pack is the pack street.
var Pack = &lint.Pack{
	Name:  "street",
	Title: "On the street: engine, emission gear, lamps, mirrors, belts and tires",
	Rules: []*lint.Rule{engineYear, engineDuty, emissionGear, lampHeights, rearLampsThere, mirrors, belts, tireCover, auxiliaryLamps},
}

const local = " Check your local code: it decides."

var engineYear = &lint.Rule{
	Name: "street/engine-year", Title: "the engine's model year is the vehicle's or newer",
	Due: ledger.AtDelivery, Sources: []q.Citation{data.Source("epa-switching"), data.Source("epa-policy"), data.Source("epa-heavy"), data.Source("referee")}, Backs: []string{"epa-switching", "referee"},
	Note: "Of a light-duty vehicle the US EPA's fact sheet asks, besides this, that the whole match a configuration certified for that model year or newer, with all its emission parts, or that a reasonable basis be documented. " +
		"The policy of 2020 keeps that basis and does not cover what touches on-board diagnostics. " +
		"Of a heavy-duty vehicle the sheet, from memory, asks for a certified heavy-duty configuration of the installed engine's year or newer; for those this is a should, after California's practice, from memory." + local,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		v := b.Vehicle()
		check := s.On(b.Engine(), "").When(v.Duty.Required(), "")
		if v.Duty.Is("heavy").Holds() {
			check.Recommended()
		}
		check.AtLeast(b.Engine().Year, v.Year)
	},
}

var engineDuty = &lint.Rule{
	Name: "street/engine-duty", Title: "engine and chassis were certified for the same duty",
	Should: true, Due: ledger.AtDelivery, Sources: []q.Citation{data.Source("epa-heavy"), data.Source("epa-switching")},
	Note: "A heavy-duty engine is certified on an engine dynamometer, a light vehicle as a whole on a chassis dynamometer: neither certificate speaks for the two together. " +
		"The US EPA's heavy-duty paragraph, and that light duty ends at 8,500 lb of gross rating, are from memory. An engine of the other duty raises a question here, and is no verdict." + local,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		v, e := b.Vehicle(), b.Engine()
		s.On(e, "").Holds(e.Duty.Same(v.Duty), "the engine was certified for %s duty and the chassis for %s: check your local code", e.Duty, v.Duty)
		light := data.Value("light-duty-rating")
		s.On(v, "light by its rating").When(v.Duty.Is("light"), "certified for heavy duty").AtMost(v.GrossRating, light)
		s.On(v, "heavy by its rating").When(v.Duty.Is("heavy"), "certified for light duty").AtLeast(v.GrossRating, light)
	},
}

var emissionGear = &lint.Rule{
	Name: "street/emission-gear", Title: "each piece of emission gear is accounted for, and what was not kept has a document",
	Due: ledger.AtDelivery, Sources: []q.Citation{data.Source("epa-switching"), data.Source("epa-policy"), data.Source("emission-gear")}, Backs: []string{"epa-switching", "epa-policy"},
	Note: "Asked is what the old engine and the new one usually have, by their fuels: a list of the trade's, without a source. An [emission.x] says what it was and what it is now. " +
		"The US EPA's fact sheet asks for every emission part of the configuration that the finished vehicle claims: the engine's own emission label shows them. " +
		"\"Not fitted to this engine\" needs that label, or the maker's word, as its document; from the 1996 model year on-board diagnostics belong here too (from memory)." + local,
	Caution: "A catalyst or particulate filter lights dry grass, undercoating and what is stored under a floor: shield it. Crankcase and tank vapor that is led nowhere reaches the cab and burns. Your local code and a licensed shop have the last word.",
	Check:   checkEmissionGear,
}

var lampHeights = &lint.Rule{
	Name: "street/lamp-heights", Title: "lamps stand at the heights of 49 CFR 571.108",
	Due: ledger.AtDelivery, Sources: []q.Citation{data.Source("cfr-571-108-headlamps"), data.Source("cfr-571-108-quoted"), data.Source("cfr-571-108")},
	Note: "From the road to the lamp's center, at curb weight, on the finished tires and springs: both axles' ride height is in it. One that was measured before other tires or springs went on, or before more than 2 % of the weight was put on or taken off, waits to be measured again. A headlamp is asked for where tires, springs or body were changed. The headlamp's 22 to 54 in were read; a stop lamp's and a turn signal's are second-hand and the others from memory, and so are shoulds. " +
		"The text is for new vehicles, and codes for lifted trucks are often tighter." + local,
	Caution: "A lamp that stands too high blinds who comes the other way, and one too low is not seen. Aim the headlamps again after any change of ride height.",
	Check:   checkLampHeights,
}

var rearLampsThere = &lint.Rule{
	Name: "street/rear-lamps", Title: "where body or rear was changed, the lamps that belong there are in the ledger",
	Due: ledger.AtDelivery, Sources: []q.Citation{data.Source("cfr-571-108-required")},
	Note:    "Changed is a bed, bumper, body panel or frame that was altered, came off or did not come with the vehicle. Tail, stop and turn lamps are a must although the table is from memory: people die behind a vehicle that has none. Plate lamp and reflectors are a should." + local,
	Caution: "See each lamp work from behind, with the engine running and the brake pedal down, before the vehicle leaves the yard.",
	Check:   checkRearLamps,
}

var mirrors = &lint.Rule{
	Name: "street/mirrors", Title: "a flat outside mirror of the size of 49 CFR 571.111 is on each side",
	Should: true, Due: ledger.AtDelivery, Sources: []q.Citation{data.Source("cfr-571-111"), data.Source("cfr-571-111-heavier")}, Backs: []string{"cfr-571-111", "cfr-571-111-heavier"},
	Note: "19.5 in² a side up to 10,000 lb of gross rating is second-hand, 50 in² above it from memory; unit magnification. Up to 10,000 lb a passenger car's mirrors do instead (from memory), which is not judged here. " +
		"The largest flat mirror of a side counts; a convex one comes on top." + local,
	Caution: "What a body or a load hides from the driver gets run over. Sit in the seat and look before you measure.",
	Check:   checkMirrors,
}

var belts = &lint.Rule{
	Name: "street/belts", Title: "a re-webbed seat belt has the certificate of who did it",
	Due: ledger.AtDelivery, Sources: []q.Citation{data.Source("belts")},
	Note:    "Original belts, and new ones with their maker's label, need none. A belt that is not in the ledger was not touched." + local,
	Caution: "A belt sewn by guess lets go in the one moment that it is for. Have it done by a licensed belt shop, and renew a belt that has been in a crash.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, belt := range b.SeatBelts() {
			s.On(belt, "").When(belt.Webbing.Is("re-webbed"), "its webbing is its maker's").
				Holds(b.Document(belt.Certificate).Given().And(belt.Certificate.Required()).And(certifies(b, belt)), "its certificate is not in the ledger, or is of another kind and does not say that it proves the belt")
		}
	},
}

var tireCover = &lint.Rule{
	Name: "street/tire-cover", Title: "the body covers the tires' full width",
	Due: ledger.AtDelivery, Sources: []q.Citation{data.Source("covered")},
	Note: "Measured as fender-cover: a straight edge down from the fender, and a tape in to the tire's outer face, the lesser of the two sides. Not measured, it is what there was as received less half of what track and section width grew by. " +
		"There is no federal text for a modified light truck. Codes differ on whether tread or sidewall counts, on flares and flaps, and on the angle." + local,
	Caution: "An uncovered tire throws stones and water at eye height. Flares have to be fastened like a body part.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, a := range b.Axles() {
			s.On(a, "").When(a.Tire.Required(), "").AtLeast(cover(b, a), data.Value("cover"))
		}
	},
}

var auxiliaryLamps = &lint.Rule{
	Name: "street/auxiliary-lamps", Title: "auxiliary lamps are switched apart from the road lamps",
	Due: ledger.AtDelivery, Sources: []q.Citation{data.Source("lamps-apart")},
	Note:    "Goes by what switched-with says. Work and scene lamps need a switch of their own; of driving lamps some codes ask that the high beam put them out too, and of any lamp above the headlamps that it be covered on the road." + local,
	Caution: "Work lamps that come on with the road lamps blind everybody in front, or behind.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, l := range b.Lamps() {
			with := q.Is(false)
			for _, letters := range roadLamps {
				with = with.Or(l.SwitchedWith.Contains(letters))
			}
			s.On(l, "").When(l.Kind.Is("auxiliary"), "it is no auxiliary lamp").
				Holds(with.Not(), "it is switched with a road lamp, %q", l.SwitchedWith)
		}
	},
}

// unwritten is a truth that waits for an entry that is not there.
func unwritten(what string, e ledger.Subject) q.Truth {
	return q.Unknown([]q.Need{{Key: what, Place: e.Place()}})
}

// certifies tells that a belt's certificate is one by its kind, or by what it
// says that it proves.
func certifies(b *ledger.Build, belt *ledger.SeatBelt) q.Truth {
	d := b.Document(belt.Certificate)
	return d.Kind.Is("belt-certificate").Or(q.Is(ledger.Refer(d.Proves, belt.Path())))
}
