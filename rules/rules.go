// Package rules lists the rule packs. Nothing registers itself: what is here
// is what runs.
package rules

import (
	"fishplate/lint"
	"fishplate/lint/shoprules"
	"fishplate/rules/brakes"
	"fishplate/rules/clearance"
	"fishplate/rules/cooling"
	"fishplate/rules/driveline"
	"fishplate/rules/fuel"
	"fishplate/rules/gearing"
	"fishplate/rules/harness"
	"fishplate/rules/hookups"
	"fishplate/rules/paperwork"
	"fishplate/rules/street"
	"fishplate/rules/weight"
	"fishplate/rules/wiring"
)

// Packs are all packs, in the order in which they are listed to people.
func Packs() []*lint.Pack {
	return []*lint.Pack{
		weight.Pack,
		clearance.Pack,
		wiring.Pack,
		fuel.Pack,
		hookups.Pack,
		cooling.Pack,
		driveline.Pack,
		gearing.Pack,
		brakes.Pack,
		street.Pack,
		harness.Pack,
		paperwork.Pack,
	}
}

// All are the packs, and behind them the rules that a build's shop makes of its own.
func All() []*lint.Pack {
	packs := Packs()
	return append(packs, shoprules.Pack(packs))
}
