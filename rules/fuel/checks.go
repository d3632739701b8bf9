package fuel

import (
	"slices"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

type key string

// fuels are the fuels carried, each once; one that is missing where the ledger
// names none.
func fuels(b *ledger.Build) []quantity.Word {
	return ledger.Memo(b, key("fuels"), func() []quantity.Word {
		var out []quantity.Word
		for _, f := range b.Fuel().Words(b.Fuel().Carries, "carries") {
			if !slices.ContainsFunc(out, func(o quantity.Word) bool { return plain(o.String()) == plain(f.String()) }) {
				out = append(out, f)
			}
		}
		return out
	})
}

// burnsDiesel goes by the engine, or by what is carried; a diesel fuel aboard
// makes a diesel whatever the engine says.
func burnsDiesel(b *ledger.Build) quantity.Truth {
	return ledger.Memo(b, key("diesel"), func() quantity.Truth {
		carries := quantity.Is(false)
		for _, f := range fuels(b) {
			carries = carries.Or(familyOf(f).Is("diesel", "biodiesel"))
		}
		return quantity.FirstTruth(b.Engine().Fuel.Is("diesel"), carries).Or(carries.OrElse(false))
	})
}

const noDiesel = "it does not burn diesel"

// carriesFuel tells whether a hose carries fuel, under that name or its own.
func carriesFuel(h *ledger.Hose) quantity.Truth {
	return h.Carries.Contains("fuel").Or(h.Carries.Is(fuelNames...))
}

// fuelHoses are the hoses that carry fuel, and those that do not say.
func fuelHoses(b *ledger.Build) []*ledger.Hose {
	return ledger.Memo(b, key("hoses"), func() []*ledger.Hose {
		return slices.DeleteFunc(slices.Clone(b.Hoses()), func(h *ledger.Hose) bool { return carriesFuel(h).Fails() })
	})
}

func checkMaterial(b *ledger.Build, s *lint.Sheet) {
	for _, f := range fuels(b) {
		for _, h := range fuelHoses(b) {
			stands(s.On(h, f.String()), h.Material, f, carriesFuel(h))
		}
		for _, w := range b.Wetted() {
			off := w.Part.Names("part").And(b.Part(w.Part).Fitted.Not()).OrElse(false)
			stands(s.On(w, f.String()), w.Material, f, off.Not())
		}
	}
}

// stands judges one cell: not recommended fails, caution fails as a should,
// unknown is missing.
func stands(u *lint.Subject, material, fuel quantity.Word, there quantity.Truth) {
	cell := quantity.JoinWords(" with ", rowOf(material), columnOf(fuel))
	says := inWords(cell, fuel)
	grade := quantity.LookWord(cell, "a defensible value", func(c string) (string, bool) {
		g := matrix()[c].grade
		return g, g != ""
	})
	u.Says("%s", says).When(there, "its part is not on the finished vehicle")
	if grade.Is("caution").Holds() {
		u.Recommended()
	}
	u.Holds(grade.Is("ok"), "%s", says)
}
