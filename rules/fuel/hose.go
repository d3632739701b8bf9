package fuel

import (
	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

const (
	isTube  = "metal tube: its material is judged, and it has no type"
	unrated = "metal tube that no maker rates"
)

func checkHoseClass(b *ledger.Build, s *lint.Sheet) {
	for _, h := range fuelHoses(b) {
		tube := vehicle.IsMetal(h.Material).OrElse(false)
		fuel := carriesFuel(h)
		for _, f := range fuels(b) {
			made, why := madeFor(h, f)
			s.On(h, f.String()).When(tube.Not(), isTube).When(fuel.And(f.Required()), "").Holds(made, "%s", why)
		}
		phantom := quantity.Is(b.IsPhantom())
		whole := h.Role.Is("reducer").OrElse(false).Not()
		for _, end := range []struct {
			at   string
			bore quantity.Quantity
		}{{"bore at its start", h.BoreFrom}, {"bore at its end", h.BoreTo}} {
			s.On(h, end.at).When(fuel, "").When(whole, "a reducer, which has two bores").When(end.bore.Given().And(h.Bore.Given()).Or(phantom), "one of the two bores is not in the ledger").
				Same(vehicle.TradeSize(h.Bore), vehicle.TradeSize(end.bore), data.Value("bore-match"))
		}
		s.On(h, "how warm").When(fuel, "").When(h.Temperature.Given().Or(phantom), "not in the ledger yet").Work().
			Holds(vehicle.PlausibleAtLeast(b, h.Temperature, data.Value("line-warm-at-least")), "")
		s.On(h, "clamps").When(fuel, "").When(tube.Not(), isTube).
			Holds(vehicle.Held(h).And(vehicle.Clamped(h).OrElse(true)), "%q holds no fuel hose", h.Clamps)
		ends, off, parts := vehicle.EndsAboard(b, h)
		s.On(h, "ends").When(fuel, "").When(quantity.Is(parts).Or(phantom), "no end of it is a part").Holds(ends, "it hangs on %s, which came off", off)
		s.On(h, "immersion").When(h.Immersed, "it does not lie in the fuel").When(fuel, "").
			Holds(h.RatedImmersed, "its maker does not rate it for lying in the fuel")
		typed(s.On(h, "pressure"), h.RatedPressure, typePressure(h)).When(tube.Not().Or(h.RatedPressure.Given()), unrated).When(fuel, "").
			AtMost(h.Pressure, quantity.FirstOf(h.RatedPressure, typePressure(h)))
		typed(s.On(h, "temperature"), h.RatedTemperature, typeTemperature(h)).When(tube.Not().Or(h.RatedTemperature.Given()), unrated).When(fuel, "").
			AtMost(h.Temperature, quantity.FirstOf(h.RatedTemperature, typeTemperature(h)))
	}
}

// typed makes a check a should where the type's figure, which is from memory,
// stands in for a maker's rating.
func typed(u *lint.Subject, rated, byType quantity.Quantity) *lint.Subject {
	if rated.Given().Not().And(byType.Given()).Holds() {
		u.Recommended().Says("no maker's rating is written; the limit is that of its type: %s", data.Source("j30-numbers"))
	}
	return u
}

// madeFor tells whether a hose is made for a fuel, and what is wrong where it
// is not: its maker says so, else its type's scope, which says nothing of a
// hose that lies in the fuel.
func madeFor(h *ledger.Hose, fuel quantity.Word) (made quantity.Truth, why string) {
	rated := quantity.Is(false)
	for _, w := range h.Words(h.RatedFor, "rated-for") {
		rated = rated.Or(sameFuel(w, fuel))
	}
	switch {
	case rated.Fails():
		return rated, "its maker rates it for other fuels than " + fuel.String()
	case h.Immersed.Holds():
		return rated, ""
	}
	why = "SAE J30 has type " + typeOf(h.Class.String()) + " for other fuels than " + fuel.String() + "; 30R13 is the one for diesel and biodiesel, or the maker must rate it (rated-for)"
	if cell := scopeCell(h.Class, fuel); cell.Known() && scopes[cell.String()] == "" && !rated.Known() {
		return quantity.Unknown([]quantity.Need{{Key: h.Path() + ".rated-for, the maker's word: SAE J30's scope does not say that " + typeOf(h.Class.String()) + " carries " + fuel.String(), Place: h.Place()}}), why
	}
	return quantity.FirstTruth(rated, inScope(h.Class, fuel)), why
}

// sameFuel tells whether a rating for one fuel counts for another: the same
// word, or the same column of the matrix ("diesel" and "B5").
func sameFuel(rating, fuel quantity.Word) quantity.Truth {
	alike := columnOf(rating).Is(columnOf(fuel).String())
	return rating.Is(fuel.String()).Or(rating.Required().And(alike.OrElse(false)))
}

// scopeCell is a cell of SAE J30's scope: a type with a family of fuels.
func scopeCell(class, fuel quantity.Word) quantity.Word {
	row := quantity.LookWord(class, "a type of SAE J30", func(w string) (string, bool) {
		t := typeOf(w)
		return t, types.Word(t, "service") != ""
	})
	return quantity.JoinWords(" with ", row, familyOf(fuel))
}

func inScope(class, fuel quantity.Word) quantity.Truth {
	return quantity.LookWord(scopeCell(class, fuel), "a word in the scope of SAE J30", func(c string) (string, bool) {
		w, ok := scopes[c]
		return w, ok
	}).Is("yes")
}

func typePressure(h *ledger.Hose) quantity.Quantity {
	return quantity.Look(h.Class, quantity.Pressure, "a pressure of SAE J30", func(w string) (quantity.Quantity, bool) {
		t, ok := pressures[typeOf(w)]
		if !ok {
			return quantity.Quantity{}, false
		}
		return t.At(h.Bore), true
	})
}

func typeTemperature(h *ledger.Hose) quantity.Quantity {
	return quantity.Look(h.Class, quantity.Temperature, "a temperature of SAE J30", func(w string) (quantity.Quantity, bool) {
		return heats.Cell(typeOf(w), "temperature")
	})
}
