package rules_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/lint"
	"fishplate/lint/compare"
	"fishplate/rules"
)

// TestMoveOfThePowertrain moves marten's powertrain half an inch back by one
// edit: the axle loads, every gap and every shaft reading that was taken
// before the move follow by themselves, and the comparison lists what was read
// at the old place.
func TestMoveOfThePowertrain(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(filepath.Join(dir, "marten"), os.DirFS("../examples/tamarack/builds/marten")))
	shop, err := os.ReadFile("../examples/tamarack/shop.toml")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "shop.toml"), shop, 0o644))
	require.NoError(t, os.Mkdir(filepath.Join(dir, ".git"), 0o755)) // the top, up to which the shop's file has a say
	main := filepath.Join(dir, "marten", "build.toml")
	text, err := os.ReadFile(main)
	require.NoError(t, err)
	moved := strings.Replace(string(text), `at = { behind = "16 1/2 in"`, `at = { behind = "17 in"`, 1)
	require.NotEqual(t, string(text), moved)
	require.NoError(t, os.WriteFile(main, []byte(moved), 0o644))

	c := compare.Sources(openBuild(t, "../examples/tamarack/builds/marten"), openBuild(t, filepath.Join(dir, "marten")), rules.Packs(), lint.Options{AsOf: "2026-11-20"})
	require.False(t, c.Unread(), "%v %v", c.Before.Faults, c.After.Faults)

	require.Len(t, c.Moves, 1)
	assert.Equal(t, "assembly.powertrain", c.Moves[0].Assembly)
	assert.InDelta(t, 0.0127, c.Moves[0].By.X.Value(), 1e-9)
	var follow []string
	for _, r := range c.Moves[0].Readings {
		if r.Follows {
			follow = append(follow, r.Entry)
		}
	}
	assert.ElementsMatch(t, []string{"gap.drag-link-to-pan", "gap.engine-to-lid", "gap.fan-to-core", "gap.pan-to-axle", "shaft.rear"}, follow)

	// By statics: back by d, the front loses and the rear gains the same mass times d / L.
	front, rear := changeOf(c, "weight/front-axle", "vehicle.front"), changeOf(c, "weight/rear-axle", "vehicle.rear")
	require.NotNil(t, front)
	require.NotNil(t, rear)
	gain := rear.After.Value.Value() - rear.Before.Value.Value()
	assert.Greater(t, gain, 1.0)
	assert.InDelta(t, -gain, front.After.Value.Value()-front.Before.Value.Value(), 1e-9)
	// The fan leaves the core, which stands ahead of it, by as much as the engine went.
	fan := changeOf(c, "clearance/gap", "gap.fan-to-core")
	require.NotNil(t, fan)
	assert.InDelta(t, 0.0127, fan.After.Value.Value()-fan.Before.Value.Value(), 1e-9)
}
