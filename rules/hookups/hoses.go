package hookups

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

var hoses = &lint.Rule{
	Name:    "hookups/hoses",
	Title:   "every hose but the fuel's stands what runs in it, its heat and its pressure, and is held",
	Due:     ledger.AtFirstStart,
	Sources: []q.Citation{data.Source("hose-materials"), data.Source("hose-warmth"), data.Source("practice")},
	Backs:   []string{"hose-materials", "hose-warmth"},
	Note: "The judgments are from memory. \"Not recommended\" is a must all the same, for people die of brakes, steering and oil fires, and are scalded by coolant, when a hose lets go; \"caution\", and the heat that a material stands where no maker's rating is written, are shoulds. " +
		"A maker's rating that is written is a must: for the hose's own figures, for the cap's pressure and the top tank's limit in coolant. A hose that leads from what gives hydraulic pressure to what needs it is rated for all of it. " +
		"What is pushed on is held by clamps or says how it is joined; a vacuum hose, and metal tube, may go without. No end hangs on a part that came off. An automatic's clutch fluid and brake fluid are taken as glycol: mineral fluid in them is another thing. The fuel's hoses are the pack fuel's.",
	Caution: "Hot coolant scalds, hot oil burns where it meets an exhaust, and a hose that lets go takes brakes or steering with it. Let it cool, and let the pressure off, before you touch it. Local codes and a licensed shop have the last word.",
	Check:   checkHoses,
}

var (
	hoseFluids    = data.Table("hose-fluids")
	hoseMaterials = data.Table("hose-materials")
	hoseWarmth    = data.Table("hose-warmth")
	hoseNames     = vehicle.MaterialNames(hoseMaterials.Rows())
)

func checkHoses(b *ledger.Build, s *lint.Sheet) {
	const other, unrated = "it carries something else", "its maker's rating is not written"
	phantom := q.Is(b.IsPhantom())
	for _, h := range b.Hoses() {
		fluid := hoseFluids.Word(h.Carries.String(), "as")
		here := h.Carries.Is(hoseFluids.Rows()...)
		row := q.LookWord(h.Material, "a known word (fishplate explain fuel/material lists the materials)", func(w string) (string, bool) { r, ok := hoseNames[w]; return r, ok })
		suits(s.On(h, "material").When(here, other), h, row, fluid)
		tube := vehicle.IsMetal(h.Material).OrElse(false)
		s.On(h, "how it is held").When(here, other).When(tube.Not(), "metal tube").When(h.Carries.Is("vacuum").Not(), "a vacuum hose pushes on").
			Holds(vehicle.Held(h).And(vehicle.Clamped(h).OrElse(true)), "%q holds no hose", h.Clamps)
		ends, off, parts := vehicle.EndsAboard(b, h)
		s.On(h, "ends").When(here, other).When(q.Is(parts).Or(phantom), "no end of it is a part").Holds(ends, "it hangs on %s, which came off", off)

		rated := h.RatedPressure.Given().Or(phantom)
		s.On(h, "pressure").When(here, other).When(rated, unrated).When(h.Pressure.Given().Or(phantom), "its pressure is not in the ledger").AtMost(h.Pressure, h.RatedPressure)
		coolant := h.Carries.Is("coolant")
		s.On(h, "the cap's pressure").When(coolant, other).When(rated, unrated).AtMost(vehicle.TradeSize(b.Cooling().Cap), h.RatedPressure)
		s.On(h, "the pump's pressure").When(here, other).When(q.Is(len(pressing(b, h)) > 0).Or(phantom), "it leads to nothing from what gives it pressure").When(tube.Not().Or(rated), "metal tube that no maker rates").
			AtMost(greatest(pressing(b, h)), h.RatedPressure)

		hot := h.RatedTemperature.Given()
		s.On(h, "heat").When(here, other).When(hot.Or(phantom), unrated).When(h.Temperature.Given().Or(phantom), "its heat is not in the ledger").AtMost(h.Temperature, h.RatedTemperature)
		s.On(h, "the top tank's heat").When(coolant, other).When(hot.Or(phantom), unrated).AtMost(b.Cooling().TopTankLimit, h.RatedTemperature)
		s.On(h, "heat by its material").Recommended().When(here, other).When(hot.Not(), "its maker's rating is written").When(tube.Not(), "metal tube").
			When(h.Temperature.Given().Or(phantom), "its heat is not in the ledger").
			AtMost(h.Temperature, hoseWarmth.Look(row, "warmest", q.Temperature, "a temperature that it stands"))
	}
}

// suits judges one cell of the table of materials: not recommended fails, caution
// fails as a should.
func suits(u *lint.Subject, h *ledger.Hose, row q.Word, fluid string) {
	grade := q.LookWord(row, "a judgment with "+h.Carries.String(), func(m string) (string, bool) {
		g := hoseMaterials.Word(m, fluid)
		return g, g != ""
	})
	if grade.Is("caution").Holds() {
		u.Recommended()
	}
	u.Holds(grade.Is("ok"), "%s is %s with %s [%s]", row, inGrade[grade.String()], h.Carries, hoseMaterials.Cite)
}

var inGrade = map[string]string{"caution": "to be watched", "not-recommended": "not recommended"}

// pressing are the pressures that the part at one end of a hose gives to the part
// at the other.
func pressing(b *ledger.Build, h *ledger.Hose) []q.Quantity {
	if b.IsPhantom() {
		return []q.Quantity{h.Pressure}
	}
	var out []q.Quantity
	for _, ends := range [][2]ledger.Ref{{h.From, h.To}, {h.To, h.From}} {
		if need, ok := b.Part(ends[1]).Needs[assist]; ok && need.From.Same(ends[0].Word).Holds() && !h.Role.Is("return", "suction").Holds() {
			gift, _ := b.Part(ends[0]).Gift(assist)
			out = append(out, vehicle.TradeSize(gift.Level))
		}
	}
	return out
}

const assist = "hydraulic-assist"

func greatest(all []q.Quantity) q.Quantity {
	if len(all) == 0 {
		return q.SI(0, q.Pressure)
	}
	return q.Max(all[0], all[1:]...)
}
