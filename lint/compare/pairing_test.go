package compare_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/lint/compare"
)

const twins = `[build]
packs = []
[part.lamp]
[circuit.left]
from = "relay.left"
to = ["part.lamp"]
length = "3 ft"
[relay.left]
contact-rating = "30 A"
coil = "circuit.left"
[circuit.right]
from = "relay.right"
to = ["part.lamp"]
length = "3 ft"
[relay.right]
contact-rating = "30 A"
coil = "circuit.right"
[answer.which]
entries = ["circuit.right"]
`

// Two pairs that say the same and name one another round in a ring are told
// apart by who else names them, and stay in pairs.
func TestPairingTwins(t *testing.T) {
	after := strings.NewReplacer(".left", ".b-side", ".right", ".a-side").Replace(twins)
	c := compared(t, twins, after)
	got := map[string]string{}
	for _, e := range c.Edits {
		require.Equal(t, compare.Renamed, e.Kind, e.Entry)
		got[e.Was] = e.Entry
	}
	require.Equal(t, map[string]string{"circuit.left": "circuit.b-side", "relay.left": "relay.b-side", "circuit.right": "circuit.a-side", "relay.right": "relay.a-side"}, got)
}

// What changed its name and a value is another entry; so is one that says
// nothing but its name, and one of another kind.
func TestPairingNeedsEqualContent(t *testing.T) {
	c := compared(t, "[build]\npacks = []\n[part.a]\nmass = \"1 lb\"\n[part.b]\n[load.c]\nmass = \"3 lb\"\n", "[build]\npacks = []\n[part.x]\nmass = \"2 lb\"\n[part.y]\n[part.z]\nmass = \"3 lb\"\n")
	require.Equal(t, map[compare.EditKind]int{compare.Added: 3, compare.Removed: 3}, kindsOf(c))
}

// kindsOf is how many edits there are of a kind.
func kindsOf(c *compare.Comparison) map[compare.EditKind]int {
	kinds := map[compare.EditKind]int{}
	for _, e := range c.Edits {
		kinds[e.Kind]++
	}
	return kinds
}

// Of three that were alike two are left, under other names.
func TestPairingOfSome(t *testing.T) {
	like := "mass = \"1 lb\"\n"
	c := compared(t, "[build]\npacks = []\n[part.a]\n"+like+"[part.b]\n"+like+"[part.c]\n"+like, "[build]\npacks = []\n[part.x]\n"+like+"[part.y]\n"+like)
	require.Equal(t, map[compare.EditKind]int{compare.Renamed: 2, compare.Removed: 1}, kindsOf(c))
}

// A signature holds for the names that were signed: renaming breaks it, and
// signing again mends that; the signature of before was not broken by it.
func TestRenameUnderSignature(t *testing.T) {
	text := "[build]\npacks = []\nstage = \"plan\"\n[part.a]\nmass = \"1 lb\"\n"
	other := strings.Replace(text, "part.a", "part.b", 1)
	bs := shopOf(t, t.TempDir(), map[string]string{"a/build.toml": text, "b/build.toml": other}, "a", "b")
	sign := func(b *ledger.Build) string {
		digest := b.SignedDigest("plan", "Ann", "2026-01-01")
		return "[signature.plan]\nstage = \"plan\"\nby = \"Ann\"\ndate = 2026-01-01\ndigest = \"" + digest + "\"\n"
	}
	c := compared(t, text+sign(bs[0]), other+sign(bs[0]))
	x := change(c, "ledger/signature", "signature.plan")
	require.Equal(t, compare.Worse, x.Kind)
	require.True(t, c.Failed())
	c = compared(t, text+sign(bs[0]), other+sign(bs[1]))
	require.Empty(t, c.Changes)
	require.Equal(t, compare.Renamed, edit(c, "part.b").Kind)
}
