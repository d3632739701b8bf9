package vehicle

import (
	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

// HeatingSource is the source of HeatingValue.
var HeatingSource = data.Source("afdc-heating")

var (
	leastEfficiency    = data.Value("least-brake-efficiency")
	greatestEfficiency = data.Value("greatest-brake-efficiency")
)

// HeatingValue is the lower heating value of what the engine burns; J/kg.
func HeatingValue(b *ledger.Build) q.Quantity {
	return data.Table("heating-values").Look(b.Engine().Fuel, "lower-heating-value", q.SpecificEnergy, "a heating value")
}

// FuelHeatFor is the heat of the fuel that makes a power:
//
//	P_f = P / eta
//
// eta brake efficiency. By definition.
func FuelHeatFor(power, efficiency q.Quantity) q.Quantity { return power.Div(efficiency) }

// LeastFuelHeat is the heat of the fuel at rated power in the best of engines;
// W.
func LeastFuelHeat(b *ledger.Build) q.Quantity {
	return FuelHeatFor(b.Engine().RatedPower, greatestEfficiency).As("least heat of the fuel at rated power", "P / 0.45")
}

// MostFuelHeat is the same in the worst; W.
func MostFuelHeat(b *ledger.Build) q.Quantity {
	return FuelHeatFor(b.Engine().RatedPower, leastEfficiency).As("most heat of the fuel at rated power", "P / 0.25")
}
