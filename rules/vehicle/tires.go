package vehicle

import (
	"regexp"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

// Diameter is a tire's outer diameter, not loaded: as the ledger states it,
// else the nominal one of its size; m.
func Diameter(b *ledger.Build, t *ledger.Tire) q.Quantity {
	return q.FirstOf(t.Diameter, Nominal(b, t))
}

// Nominal is the diameter that a tire's size says, with what the standard
// leaves to the maker; m. It is one value a tire, so that its doubt cancels where
// the tire comes in twice.
func Nominal(b *ledger.Build, t *ledger.Tire) q.Quantity {
	return ledger.Memo(b, nominalOf(t.Path()), func() q.Quantity { return nominal(t) })
}

type nominalOf string

func nominal(t *ledger.Tire) q.Quantity {
	return q.Look(t.Size, q.Length, "a diameter", func(size string) (q.Quantity, bool) {
		figure := func(text, unit string) q.Quantity {
			r, _ := q.Parse(text+unit, q.Any, q.Options{Exact: true})
			return q.Leaf(r, &q.Source{Entry: t.Path(), Key: "size", Place: t.Size.Source().Place})
		}
		k := q.Leaf(moldedReading, &q.Source{Key: "molded height of " + t.Path(), Cite: moldedCite})
		if m := metric.FindStringSubmatch(size); m != nil {
			return TireDiameter(figure(m[3], " in"), figure(m[1], " mm"), figure(m[2], " %"), k).
				As("nominal diameter of "+t.Path(), "d + 2 S a"), true
		}
		if m := flotation.FindStringSubmatch(size); m != nil {
			return FlotationDiameter(figure(m[1], " in"), figure(m[2], " in"), k).
				As("nominal diameter of "+t.Path(), "as marked"), true
		}
		return q.Quantity{}, false
	})
}

var (
	metric    = regexp.MustCompile(`^\s*[A-Z]*\s*(\d{3})/(\d{2,3})\s*Z?[RBD-]\s*(\d{2}(?:\.5)?)`)
	flotation = regexp.MustCompile(`^\s*(\d{2}(?:\.\d+)?)\s*[xX]\s*\d{1,2}(?:\.\d+)?\s*Z?[RBD-]\s*(\d{2}(?:\.5)?)`)
)

// Taller is how much more diameter an axle's tires have than as received: none
// where the ledger names no other tires as received.
func Taller(now, was ledger.Ref, b *ledger.Build) q.Quantity {
	return q.Choose(was.Given(), Diameter(b, b.Tire(now)).Sub(Diameter(b, b.Tire(was))), q.SI(0, q.Length))
}
