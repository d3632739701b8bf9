package weight

import (
	"fmt"
	"strings"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

var countedOnce = &lint.Rule{
	Name: "weight/counted-once", Title: "a part whose mass is part of another's has no mass of its own, and the other has one",
	Due: ledger.AtPlan, Sources: []q.Citation{data.Source("practice"), data.Source("moments")},
	Note:    "counted-in names the other. Its mass goes where the other's goes.",
	Caution: overloaded,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, p := range b.Parts() {
			in := b.Part(p.CountedIn)
			check := s.On(p, "").When(p.CountedIn.Given().Or(q.Is(b.IsPhantom())), "its mass is its own")
			switch {
			case p.Mass.Known():
				check.Holds(q.Is(false), "it has a mass of %s, and is counted in %s: one of the two is wrong", p.Mass.Spelling(), in.Path())
			case in.CountedIn.Known():
				check.Holds(q.Is(false), "%s is counted in another itself", in.Path())
			case vehicle.Aboard(p).Holds() && vehicle.Aboard(in).Fails():
				check.Holds(q.Is(false), "%s came off, and it did not", in.Path())
			default:
				check.Holds(inLedger(in.Mass), "")
			}
		}
	},
}

// inLedger is that a value is there, and missing until it is.
func inLedger(v q.Quantity) q.Truth {
	if v.Known() {
		return q.Is(true)
	}
	return q.Unknown(v.Needs())
}

var onTheScale = &lint.Rule{
	Name: "weight/on-the-scale", Title: "what the scale did not find says whether it went on before or after the weighing",
	Due: ledger.AtDelivery, Sources: []q.Citation{data.Source("practice"), data.Source("moments")},
	Note: "Where the ledger has over 2 % more on the vehicle than was on the scale, beyond all tolerances, each part without a date that may be the difference is asked for its fitted-on. " +
		"One from after the weighing then counts on top of it. On each axle ledger and scale are within 10 % (common practice): further apart, one of the two is wrong, and every other weight rests on it.",
	Caution: overloaded,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		lacking, all := missed(b), q.Is(true)
		for _, p := range b.Parts() {
			if mayBe(p, lacking, vehicle.WeightsOf(b).Total.Built) {
				all = all.And(q.Unknown(p.FittedOn.Needs()))
			}
		}
		s.On(b.Vehicle(), "").When(b.Weighed("as-built").Given(), "not weighed as built").Holds(all, "")
		for _, a := range b.Axles() {
			w := vehicle.WeightsOf(b).Of(a)
			s.On(a, "within 10 %").When(b.Weighed("as-built").Given(), "not weighed as built").When(w.Expected.Given().And(w.Built.Given()).Or(q.Is(b.IsPhantom())), "not all that was weighed is in the ledger").
				Holds(found(w), "%s", outBy(b, w))
		}
	},
}

// missed is how much less the scale found than the ledger predicts, in kg, where
// that is beyond all tolerances and more than a small share; else 0.
func missed(b *ledger.Build) float64 {
	w := vehicle.WeightsOf(b).Total
	if !w.Expected.Known() || !w.Built.Known() {
		return 0
	}
	over := w.Expected.Sub(w.Built)
	if low, _ := over.Bounds(); low > data.Value("scale-missed").Value()*w.Built.Value() {
		return over.Value()
	}
	return 0
}

// found holds where the scale found on an axle about what the ledger has on it: it fails
// where the two are further apart than the tolerances of both let them be.
func found(w vehicle.State) q.Truth {
	if !w.Expected.Known() || !w.Built.Known() {
		return q.Unknown(append(w.Expected.Needs(), w.Built.Needs()...))
	}
	low, high := w.Expected.Sub(w.Built).Bounds()
	return q.Is(max(low, -high) <= data.Value("scale-far-off").Value()*w.Built.Value())
}

// mayBe tells whether a part without a date may be what the scale did not find:
// it is no trifle, and not much more than what is lacking.
func mayBe(p *ledger.Part, lacking float64, built q.Quantity) bool {
	if lacking <= 0 || p.Origin.Is("original").Holds() || !vehicle.Aboard(p).Holds() || p.FittedOn.Known() || !p.Mass.Known() || p.CountedIn.Known() {
		return false
	}
	m := vehicle.Several(p.Count, p.Mass).Value()
	return m >= data.Value("trifle").Value()*built.Value() && m <= 1.5*lacking
}

// outBy says by how much prediction and scale are apart on an axle, and which
// entries may hold the difference: those of the greatest doubt.
func outBy(b *ledger.Build, w vehicle.State) string {
	if !w.Expected.Known() || !w.Built.Known() {
		return ""
	}
	over := w.Expected.Sub(w.Built)
	way := "more"
	if over.Value() < 0 {
		way = "less"
	}
	var held []string
	for _, d := range over.Doubts() {
		if len(held) < 3 && d.Source.Entry != "" {
			held = append(held, d.Source.Path())
		}
	}
	told := fmt.Sprintf("the ledger has %s %s on it than the scale found", b.Style().Format(q.Abs(over)), way)
	if len(held) > 0 {
		told += "; most of what is uncertain is in " + strings.Join(held, ", ")
	}
	return told
}

var replaced = &lint.Rule{
	Name: "weight/replaced", Title: "for each new engine, radiator, starter and the like the ledger says what became of the old one",
	Should: true, Due: ledger.AtMockUp, Sources: []q.Citation{data.Source("practice"), data.Source("moments")},
	Note:    "Until the vehicle is weighed as built the axle loads are reckoned: what came off and is not written down makes them too high where it sat. An old part whose mass was weighed with another's says counted-in.",
	Caution: overloaded,
	Check: func(b *ledger.Build, s *lint.Sheet) {
		v := b.Vehicle()
		unweighed := vehicle.WeightsOf(b).Total.Weighed
		s.On(v, "").When(q.Is(!unweighed.Holds()), "it was weighed as built").Holds(oldOnes(b), "")
	},
}

// oldOnes holds where each new part of a role that every vehicle comes with has
// an old one in the ledger.
func oldOnes(b *ledger.Build) q.Truth {
	all := q.Is(true)
	for _, role := range data.Table("replaced").Rows() {
		fresh, old := false, false
		for _, p := range b.Parts() {
			if p.Role.Is(role).Holds() {
				own := p.Origin.Is("original")
				fresh = fresh || own.Fails() && vehicle.Aboard(p).Holds()
				old = old || own.Holds()
			}
		}
		if fresh && !old {
			all = all.And(q.Unknown([]q.Need{{Key: "the old " + role + ", a part with origin = \"original\"", Place: b.Main()}}))
		}
	}
	return all
}
