package ledger_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An older name of a key is told with the one that it has now.
func TestOldKeys(t *testing.T) {
	write(t, map[string]string{"build.toml": "[weighing.a]\non = 2026-01-02\n[part.a]\nmass-before = \"1 lb\"\ncost = \"1\"\non = \"roof\"\n[work.a]\non = [\"part.a\"]\n[assembly.a]\ntaped-at = { behind = \"1 in\" }\n"})
	_, faults := load(t, ".")
	assert.Equal(t, []string{
		`build.toml:2:1: weighing has no key "on"; it is called "date"`,
		`build.toml:4:1: part has no key "mass-before"; it is called "mass-was"`,
		`build.toml:5:1: part has no key "cost"; it is called "price"`,
		`build.toml:6:1: part has no key "on"; it is called "mounted-on"`,
		`build.toml:8:1: work has no key "on"; it is called "parts"`,
		`build.toml:10:1: assembly has no key "taped-at"; it is called "measured-at"`,
	}, faultLines(faults))
}

// British spellings load as the American ones, down to the digest; the same
// key in both is one too many.
func TestBritishSpellings(t *testing.T) {
	write(t, map[string]string{
		"us/build.toml":  "[shaft.a]\ncenter-bearing = true\nmaterial = \"aluminum\"\n[circuit.a]\ncolor = \"gray/black\"\n[plug.a]\nways = 1\npins = { \"1\" = { color-was = \"gray\" } }\n",
		"uk/build.toml":  "[shaft.a]\ncentre-bearing = true\nmaterial = \"aluminium\"\n[circuit.a]\ncolour = \"grey/black\"\n[plug.a]\nways = 1\npins = { \"1\" = { colour-was = \"grey\" } }\n",
		"two/build.toml": "[circuit.a]\ncolor = \"red\"\ncolour = \"red\"\n",
	})
	us, faults := load(t, "us")
	require.Empty(t, faultLines(faults))
	uk, faults := load(t, "uk")
	require.Empty(t, faultLines(faults))
	assert.Equal(t, us.Digest(), uk.Digest())
	assert.Equal(t, "gray/black", uk.Circuits()[0].Color.String())
	assert.Equal(t, "aluminum", uk.Shafts()[0].Material.String())
	_, faults = load(t, "two")
	assert.Equal(t, []string{`two/build.toml:3:1: unknown key "colour" in circuit; did you mean "color"?`}, faultLines(faults))
}
