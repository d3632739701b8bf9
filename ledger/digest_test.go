package ledger_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/syntax"
)

// digestCase is an invented ledger with one of many kinds of entry and value.
func digestCase(t *testing.T) (shop string, entries []*entryNode) {
	t.Helper()
	data, err := os.ReadFile("testdata/digest/shop.toml")
	require.NoError(t, err)
	text, err := os.ReadFile("testdata/digest/van/build.toml")
	require.NoError(t, err)
	return string(data), entriesOf(t, text)
}

// digestOf lays files down beside the shop's, and gives the build's digest;
// false where the ledger has faults.
func digestOf(t *testing.T, shop string, files map[string]string) (string, []ledger.Fault) {
	t.Helper()
	all := map[string]string{"shop.toml": shop}
	for name, text := range files {
		all["van/"+name] = text
	}
	write(t, all)
	b, faults := load(t, "van")
	if len(faults) > 0 {
		return "", faults
	}
	return b.Digest(), nil
}

// often is how often chance is tried.
func often() int {
	if testing.Short() {
		return 100
	}
	return 1000
}

func plainly(entries []*entryNode) map[string]string {
	var b strings.Builder
	for _, e := range entries {
		b.WriteString(headedEntry(plain, e))
	}
	return map[string]string{ledger.MainFile: b.String()}
}

func mustDigest(t *testing.T, shop string, files map[string]string) string {
	t.Helper()
	d, faults := digestOf(t, shop, files)
	require.Empty(t, faults)
	return d
}

// TestDigestOfEdits: each of a thousand random changes of one value gives
// another digest.
func TestDigestOfEdits(t *testing.T) {
	shop, entries := digestCase(t)
	base := mustDigest(t, shop, plainly(entries))
	rnd := rand.New(rand.NewPCG(1, 2))
	kinds := map[string]int{}
	for done := 0; done < often(); {
		i := rnd.IntN(len(entries))
		e := entries[i]
		if strings.HasPrefix(e.path, "signature.") {
			continue
		}
		node, what := edited(rnd, e.node, e.path)
		if node == nil {
			continue
		}
		changed := append([]*entryNode{}, entries...)
		changed[i] = &entryNode{e.path, node}
		files := plainly(changed)
		d, faults := digestOf(t, shop, files)
		if len(faults) > 0 {
			continue // a change that no ledger can hold
		}
		done++
		kinds[strings.Fields(what)[0]]++
		if strings.Contains(what, " price: ") || strings.Contains(what, " supplier: ") { // what was paid is not signed
			require.Equal(t, base, d, "%s: %s", e.path, what)
			continue
		}
		require.NotEqual(t, base, d, "%s: %s", e.path, what)
	}
	t.Log(kinds)
	if !testing.Short() {
		assert.Len(t, kinds, 8, "every sort of edit was tried")
	}
}

// TestDigestOfReformattings: none of a thousand other ways to write the same
// ledger gives another digest.
func TestDigestOfReformattings(t *testing.T) {
	shop, entries := digestCase(t)
	base := mustDigest(t, shop, plainly(entries))
	rnd := rand.New(rand.NewPCG(3, 4))
	texts := map[string]bool{}
	for range often() {
		files := reformatted(t, rnd, entries)
		d, faults := digestOf(t, shop, files)
		require.Empty(t, faults, "%v", files)
		require.Equal(t, base, d, "%v", files)
		texts[fmt.Sprint(files)] = true
	}
	assert.Greater(t, len(texts), often()*99/100)
}

// The shop's file: what applies to the build is in its digest, and no more.
func TestDigestOfTheShop(t *testing.T) {
	shop, entries := digestCase(t)
	base := mustDigest(t, shop, plainly(entries))
	for _, c := range []struct {
		name, old, new string
		same           bool
	}{
		{"its name", `name = "Invented Conversions"`, `name = "Others"`, true},
		{"units of display", `name =`, "units = \"si\"\nname =", true},
		{"the order of packs", `"weight", "wiring"`, `"wiring", "weight"`, true},
		{"a pack twice", `"weight", "wiring"`, `"wiring", "weight", "wiring"`, true},
		{"a pack less", `"weight", "wiring"`, `"weight"`, false},
		{"a pack more", `"weight", "wiring"`, `"weight", "wiring", "fuel"`, false},
		{"no pack", `"weight", "wiring"`, ``, false},
		{"all packs", "packs = [\"weight\", \"wiring\"]\n", ``, false},
		{"a limit", `"5 %"`, `"4 %"`, false},
		{"a limit less", "\"wiring/voltage-drop\" = \"5 %\"\n", "", false},
		{"a limit's spelling", `"5 %"`, `"5 percent"`, true},
		{"a limit of a pack that does not apply", `"10 um"`, `"5 um"`, true},
		{"a hookup that a part gives", `"pressure"`, `"power"`, true}, // a fault: replaced below
		{"a hookup that no part has", `compare = "present"`, `compare = "equal"`, true},
		{"a zone that is named", `"185 degF"`, `"186 degF"`, false},
		{"a zone that is not", `"120 degF"`, `"121 degF"`, true},
		{"a tire that is named", `"3042 lb"`, `"3043 lb"`, false},
		{"a comment", `[shop]`, "# ours\n[shop]", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.name == "a hookup that a part gives" {
				c.old, c.new, c.same = `compare = "level"`, `compare = "sum"`, false
			}
			require.Contains(t, shop, c.old)
			d := mustDigest(t, strings.Replace(shop, c.old, c.new, 1), plainly(entries))
			assert.Equal(t, c.same, d == base)
		})
	}
	own := map[string]string{ledger.MainFile: plainly(entries)[ledger.MainFile], "more.toml": "[zone.bay]\ntemperature = \"185 degF\"\n"}
	assert.Equal(t, base, mustDigest(t, shop, own), "a shared entry that moved to the build")
	text := strings.Replace(own[ledger.MainFile], `"title" =`, "\"packs\" = [\"wiring\", \"weight\"]\n\"title\" =", 1)
	assert.Equal(t, base, mustDigest(t, shop, map[string]string{ledger.MainFile: text}), "packs that the build names itself")
}

// What stands apart is told apart, and what is one is not.
func TestDigestTellsApart(t *testing.T) {
	digest := func(text string) string { return mustDigest(t, "", map[string]string{ledger.MainFile: text}) }
	for _, c := range []struct {
		a, b string
		same bool
	}{
		{"", "[build]\nstage = \"delivery\"\n", true},
		{"[vehicle.front]\nrating = \"1 lb\"\n", "[vehicle]\n[vehicle.front]\nrating = \"1 lb\"\n", true},
		{"", "[exhaust]\n", false},
		{"", "[part.a]\n", false},
		{"[part.a]\n", "[part.b]\n", false},
		{"[part.a]\n", "[load.a]\n", false},
		{"[part.a]\nname = \"x\"\n", "[part.a]\nwhy = \"x\"\n", false},
		{"[weighing.a]\n", "[weighing.a]\naboard = []\n", false},
		{"[part.a]\n", "[part.a]\nneeds = {}\n", false},
		{"[part.a]\nneeds = { vacuum = {} }\n", "[part.a]\nneeds = { vacuum = true }\n", false},
		{"[part.a]\ngives = { vacuum = true }\n", "[part.a]\ngives = { vacuum = \"18 inHg\" }\n", false},
		{"[part.a]\ncount = 4\n", "[part.a]\ncount = 4.0\n", true},
		{"[part.a]\ncount = 4\n", "[part.a]\ncount = 0x4\n", true},
		{"[load.a]\ncount = 10_000_000\n", "[load.a]\ncount = 1e7\n", true},
		{"[part.a]\nmass = \"12 lb\"\n", "[part.a]\nmass = \"12.0 lb\"\n", false}, // another doubt
		{"[part.a]\nmass = \"12 ± 1 lb\"\n", "[part.a]\nmass = \"12 lb +/- 1 pounds\"\n", true},
		{"[part.a]\nmass = \"12 lb\"\n", "[part.a]\nmass = \"~12 lb\"\n", false},
		{"[part.a]\nmass = \"16 oz\"\n", "[part.a]\nmass = \"1 lb\"\n", false},
		{"[gap.a]\nmeasured = \"3½ in\"\n", "[gap.a]\nmeasured = \" 3  1/2″\"\n", true},
		{"[gap.a]\nmeasured = \"1/2 in\"\n", "[gap.a]\nmeasured = \"2/4 in\"\n", false},
		{"[zone.a]\ntemperature = \"90 °C\"\n", "[zone.a]\ntemperature = \"90 degC\"\n", true},
		{"[circuit.a]\ngauge = \"12 AWG\"\n", "[circuit.a]\ngauge = \"#12 awg\"\n", true},
		{"[part.a]\nnote = \"12 in\"\n", "[part.a]\nnote = \"12 inches\"\n", false}, // words, no quantity
		{"[part.a]\nnote = \"\"\"a\nb\"\"\"\n", "[part.a]\r\nnote = '''a\r\nb'''\r\n", true},
		{"[part.a]\nnote = \"a b\"\n", "[part.a]\nnote = \"a\\nb\"\n", false},
		{"[weighing.a]\ndate = 2026-01-02\n", "[weighing.a]\ndate = \"2026-01-02\"\n", true},
		{"[part.a]\nfitted = true\n", "[part.a]\n", false}, // said, if to no effect
		{"[fuel]\ncarries = [\"ab\", \"c\"]\n", "[fuel]\ncarries = [\"a\", \"bc\"]\n", false},
		{"[document.a]\nkind = \"photo\"\n", "[document.a]\nkind = \"Photo\"\n", false},
		{"[signature.a]\nby = \"Ann\"\n", "", true},
		{"[transmission]\ngears = [1]\n", "[transmission]\ngears = [\"1\"]\n", false}, // one is exact
		{"[cooling]\nmix = 0.0\n", "[cooling]\nmix = -0.0\n", true},
	} {
		assert.Equal(t, c.same, digest(c.a) == digest(c.b), "%q\n%q", c.a, c.b)
	}
}

// entryNode is an entry of a parsed file.
type entryNode struct {
	path string
	node *syntax.Node
}

func entriesOf(t *testing.T, text []byte) []*entryNode {
	t.Helper()
	doc := syntax.Read(text)
	require.Empty(t, doc.Faults)
	var out []*entryNode
	for _, kind := range doc.Root.Children {
		if !ledger.Single(kind.Key) {
			for _, c := range kind.Children {
				out = append(out, &entryNode{kind.Key + "." + c.Key, c})
			}
			continue
		}
		own := &syntax.Node{Key: kind.Key}
		for _, c := range kind.Children {
			if ledger.Single(kind.Key + "." + c.Key) {
				out = append(out, &entryNode{kind.Key + "." + c.Key, c})
			} else {
				own.Children = append(own.Children, c)
			}
		}
		if kind.Key != "vehicle" || len(own.Children) > 0 {
			out = append(out, &entryNode{kind.Key, own})
		}
	}
	return out
}
