package ledger

import (
	"reflect"
	"slices"

	q "fishplate/ledger/quantity"
	"fishplate/ledger/schema"
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

// Hookup is one thing that a part needs or gives.
type Hookup struct {
	Kind    string
	Level   q.Quantity // gives
	Least   q.Quantity `key:"least" dim:"any" exact:"" measures:"level" about:"the level that it must have: what feeds it gives as much or more"`
	Exactly q.Quantity `key:"exactly" dim:"any" measures:"equal" about:"what it must read: what feeds it gives the same"`
	Takes   q.Quantity `key:"takes" dim:"any" measures:"sum" about:"what it uses up: all that one part feeds add up to no more than it gives"`
	From    Ref        `key:"from" ref:"part" about:"what feeds it"`
	place   q.Place
}

// measureOf is the key that says how much is needed of what is compared so; ""
// of what is there or not.
func measureOf(compare string) string {
	t := reflect.TypeFor[Hookup]()
	for i := range t.NumField() {
		if tag := t.Field(i).Tag; compare != "" && tag.Get("measures") == compare {
			return tag.Get("key")
		}
	}
	return ""
}

// Place is where it is written.
func (h Hookup) Place() q.Place { return h.place }

// SchemaType is what a hookup is to the schema.
func (Hookup) SchemaType() schema.Type { return schema.Hookup }
