package ledger_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
)

// Every known role and fluid is in one row of the table, or is one of the few
// roles that are used all over the vehicle; so is every kind of entry that does
// not go by what it names.
func TestSystemsAreWhole(t *testing.T) {
	var names, roles, fluids, kinds []string
	for _, row := range ledger.SystemDefaults() {
		names = append(names, row.System)
		roles = append(roles, row.Roles...)
		fluids = append(fluids, row.Fluids...)
		kinds = append(kinds, row.Kinds...)
	}
	assert.Equal(t, []string{"engine", "mounts", "air", "exhaust", "cooling", "fuel", "electrical", "controls", "transmission", "driveline", "axles", "steering",
		"brakes", "suspension", "wheels", "body", "interior", "lighting", "climate", "papers"}, names)
	once := func(list []string) []string {
		slices.Sort(list)
		require.Equal(t, list, slices.Compact(slices.Clone(list)), "a word stands in one row only")
		return list
	}
	roles = append(roles, "accessory", "fluid", "fluid-pump", "hose", "motor", "pump", "rack", "reducer", "tank")
	for _, l := range ledger.WordLists() {
		switch l.Name {
		case "role":
			assert.Equal(t, l.Words, once(roles))
		case "fluid":
			assert.Equal(t, l.Words, once(fluids))
		}
	}
	once(kinds)
	for _, k := range ledger.Kinds() {
		assert.True(t, k.System == "" || slices.Contains(names, k.System), "%s: no system %q", k.Name, k.System)
		assert.True(t, k.System != "" || !k.Single || k.ShopOnly, "%s goes by no reference, and has no system", k.Name)
	}
}

func TestSystemOfEntries(t *testing.T) {
	write(t, map[string]string{
		"shop.toml": "[word.hydraulics]\nof = \"system\"\n[word.juice]\nof = \"system\"\nlike = \"electrical\"\n[word.blower-drive]\nof = \"role\"\nlike = \"fan\"\n",
		"van/build.toml": `
[part.core]
role = "radiator"
[part.cab-core]
role = "radiator"
system = "climate"
[part.drive]
role = "blower drive"
[part.thing]
[part.arm]
system = "Hydraulics"
[part.box]
system = "juice"
[hose.a]
carries = "diesel"
[hose.b]
carries = "steam"
to = "part.core"
[tank.a]
fluid-was = "gasoline"
[gap.a]
between = ["a bolt", "part.cab-core"]
[work.a]
parts = ["part.thing", "part.arm"]
[work.b]
after = ["work.c"]
[work.c]
after = ["work.b"]
[answer.a]
entries = ["vehicle.front.rating", "part.core"]
[decision.a]
about = ["part.core.role"]
[vehicle]
[vehicle.front]
rating = "4000 lb"
[circuit.a]
[part.odd]
role = "radiator"
system = "colling"
`})
	b, faults := load(t, "van")
	require.Empty(t, faultLines(faults))
	for path, want := range map[string]string{
		"part.core": "cooling", "part.cab-core": "climate", "part.drive": "cooling", "part.thing": "", "part.arm": "hydraulics", "part.box": "electrical",
		"hose.a": "fuel", "hose.b": "cooling", "tank.a": "fuel", "gap.a": "climate", "work.a": "hydraulics", "work.b": "", "answer.a": "axles",
		"decision.a": "cooling", "vehicle": "body", "vehicle.front": "axles", "circuit.a": "electrical", "part.odd": "cooling",
	} {
		e, ok := b.Entry(path)
		require.True(t, ok, path)
		assert.Equal(t, want, b.System(e), path)
	}
	odd, _ := b.Entry("part.odd")
	require.Len(t, odd.Unheard(), 1)
	assert.Contains(t, odd.Unheard()[0].Need.Key, `did you mean "cooling"?`)
	list := b.Entries()
	b.BySystem(list)
	assert.Equal(t, []string{"decision.a", "hose.b", "part.core"}, []string{list[0].Path(), list[1].Path(), list[2].Path()})
	assert.Equal(t, []string{"cooling", "climate", "hydraulics", ""}, ledger.Systems([]string{"", "hydraulics", "cooling", "climate", "cooling"}))
}
