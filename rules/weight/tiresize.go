package weight

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/rules/vehicle"
)

var tireSize = &lint.Rule{
	Name: "weight/tire-size", Title: "a tire's diameter and its turns a mile are those of its size, within 8 %",
	Due: ledger.AtPlan, Sources: []q.Citation{data.Source("practice"), vehicle.TireSource, vehicle.RollingSource},
	Backs:   []string{"practice"},
	Note:    "The ledger says it twice, and road speed, gearing, shaft speed and ride height go by one of the two. What the standard leaves to the maker, wear and the rolling factor's spread are in the 8 % (common practice); a tire of the next size is about 3 % off and is not found.",
	Caution: "A tire of another diameter than is written makes the speedometer, the shafts' speeds and the clearances wrong. Read the sidewall, and roll it out over ten turns.",
	Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, a := range b.Axles() {
			t, phantom := b.Tire(a.Tire), q.Is(b.IsPhantom())
			nominal := vehicle.Nominal(b, t)
			sized := nominal.Given().Or(phantom)
			const unsized = "its size is not in the ledger, or says no diameter"
			s.On(a, "diameter").When(named(b, a), noTire).When(sized, unsized).When(t.Diameter.Given().Or(phantom), "no other diameter than its size's").
				Same(t.Diameter, nominal, data.Value("off-its-size"))
			s.On(a, "turns a mile").When(named(b, a), noTire).When(sized, unsized).When(t.RevsPerMile.Given().Or(phantom), "no turns a mile in the ledger").
				Same(t.RevsPerMile, vehicle.SizeTurns(b, t), data.Value("off-its-size"))
		}
	},
}
