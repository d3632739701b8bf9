package ledger

import (
	"slices"

	q "fishplate/ledger/quantity"
)

// HookupRule says how what is fed is held against what is needed.
type HookupRule struct {
	Compare string // "level", "sum", "equal" or "present"
	Dim     q.Dim
}

// hookups are the kinds of hookup that the format knows. A shop can add more.
var hookups = map[string]HookupRule{
	"vacuum":            {"level", q.Pressure},
	"compressed-air":    {"level", q.Pressure},
	"charge-air":        {"present", q.Pressure},
	"hydraulic-assist":  {"level", q.Pressure},
	"hydraulic-flow":    {"level", q.Flow},
	"belt-drive":        {"present", q.Ratio},
	"coolant-heat":      {"sum", q.Power},
	"coolant-cooling":   {"sum", q.Power},
	"oil-cooling":       {"sum", q.Power},
	"fuel-supply":       {"present", q.Flow},
	"fuel-return":       {"present", q.Flow},
	"tach-signal":       {"equal", q.PerAngle},
	"road-speed-signal": {"equal", q.PerLength},
	"throttle-signal":   {"present", q.Ratio},
	"shift-signal":      {"present", q.Ratio},
	"idle-up-signal":    {"present", q.Ratio},
	"cut-out-signal":    {"present", q.Ratio},
	"kick-down":         {"present", q.Ratio},
}

// AnyHookup is the kind that stands for all on a ledger of phantoms.
const AnyHookup = "*"

// Hookup is the rule of a kind of hookup in this build.
func (b *Build) Hookup(kind string) HookupRule {
	if r, ok := b.hookups[kind]; ok {
		return r
	}
	return HookupRule{"level", q.Any}
}

func hookupNames(m map[string]HookupRule) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}
