package circuits

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	q "fishplate/ledger/quantity"
	"fishplate/rules/packtest"
)

// bench is what every ledger of these tests begins with.
const bench = `[build]
title = "A bench"
[part.battery]
name = "battery"
[part.lamp]
name = "lamp"
[supply]
voltage = "12 V"
`

func linked(t *testing.T, text string) *Network {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), []byte(bench+text), 0o600))
	return Of(packtest.Load(t, dir))
}

// A feed of 100 A that leads to a relay, from there to two lamps, one of them
// through a third circuit. All of 20 °C copper of 10 mm2, whose IEC 60228
// resistance is 1.91 ohm/km: 10 m of it is 19.1 mohm.
const tree = `
[zone.cold]
temperature = "20 ± 0 degC"
[relay.x]
contact-rating = "40 A"
[circuit.feed]
from = "part.battery"
to = ["relay.x"]
duty = "continuous"
gauge = "10 mm2"
insulation = "105 degC"
length = "10 ± 0 m"
return = "chassis"
fuse = "40 A"
zone = "zone.cold"
[circuit.one]
like = "circuit.feed"
from = "relay.x"
to = ["part.lamp"]
load = "4 ± 0 A"
return-resistance = "5 ± 0 mohm"
breaker = "5 A"
[circuit.two]
like = "circuit.feed"
from = "relay.x"
to = ["circuit.three"]
load = "2 ± 0 A"
return-resistance = "5 ± 0 mohm"
fuse = "20 A"
[circuit.three]
from = "circuit.two"
to = ["part.lamp"]
duty = "intermittent"
load = "1 ± 0 A"
gauge = "10 mm2"
insulation = "105 degC"
length = "10 ± 0 m"
return = "wire"
return-length = "20 ± 0 m"
zone = "zone.cold"
`

func TestCurrentsOfATree(t *testing.T) {
	n := linked(t, tree)
	for path, want := range map[string]float64{"circuit.feed": 7, "circuit.one": 4, "circuit.two": 3, "circuit.three": 1} {
		assert.InDelta(t, want, n.Current(n.byPath[path], Everything).Value(), 1e-12, path)
	}
	assert.Len(t, n.switched["relay.x"].runs, 2)
	assert.Len(t, n.byPath["circuit.two"].feeds, 1, "named at both ends, and counted once")
}

// I R of each run on the way, and of the end's own load on the way back.
func TestDropAlongATree(t *testing.T) {
	n := linked(t, tree)
	r := 19.1e-3
	for path, want := range map[string]float64{
		"circuit.feed":  7 * r,
		"circuit.one":   7*r + 4*r + 4*5e-3,
		"circuit.two":   7*r + 3*r + 2*5e-3,
		"circuit.three": 7*r + 3*r + 1*r + 1*2*r,
	} {
		assert.InDelta(t, want, n.AtEnd(n.byPath[path]).Value(), 1e-12, path)
	}
}

func TestNearestFuse(t *testing.T) {
	n := linked(t, tree)
	for path, want := range map[string]float64{"circuit.feed": 40, "circuit.one": 5, "circuit.two": 20, "circuit.three": 20} {
		assert.InDelta(t, want, n.Fuse(n.byPath[path]).Value(), 1e-12, path)
	}
}

// A lamp tapped off the starter's cable is not judged by what the starter
// draws; the cable is.
func TestCrankingIsNoOnesElseDrop(t *testing.T) {
	n := linked(t, `
[zone.cold]
temperature = "20 ± 0 degC"
[circuit.starter-cable]
from = "part.battery"
to = ["part.lamp"]
load = "500 ± 0 A"
duty = "cranking"
gauge = "50 mm2"
insulation = "105 degC"
length = "1 ± 0 m"
return = "chassis"
return-resistance = "0 ± 0 mohm"
zone = "zone.cold"
[circuit.tap]
like = "circuit.starter-cable"
from = "circuit.starter-cable"
load = "10 ± 0 A"
duty = "continuous"
`)
	r := 0.386e-3
	cable, tap := n.byPath["circuit.starter-cable"], n.byPath["circuit.tap"]
	assert.InDelta(t, 510*r, n.AtEnd(cable).Value(), 1e-12)
	assert.InDelta(t, 10*r+10*r, n.AtEnd(tap).Value(), 1e-12)
	assert.InDelta(t, 510, n.Current(cable, Everything).Value(), 1e-12)
}

func TestCirclesWait(t *testing.T) {
	for name, text := range map[string]string{
		"of two":      "[circuit.a]\nfrom = \"circuit.b\"\nload = \"1 A\"\n[circuit.b]\nfrom = \"circuit.a\"\nload = \"1 A\"\n[circuit.out]\nfrom = \"circuit.a\"\nload = \"2 A\"\n",
		"of itself":   "[circuit.a]\nfrom = \"circuit.a\"\nload = \"1 A\"\n[circuit.b]\nto = [\"circuit.b\"]\nload = \"1 A\"\n[circuit.out]\nfrom = \"circuit.a\"\nload = \"2 A\"\n",
		"by a relay":  "[relay.x]\n[circuit.a]\nfrom = \"relay.x\"\nto = [\"relay.x\"]\nload = \"1 A\"\n[circuit.b]\nfrom = \"circuit.a\"\nto = [\"relay.x\"]\nload = \"1 A\"\n[circuit.out]\nfrom = \"circuit.a\"\nload = \"2 A\"\n",
		"by one `to`": "[circuit.a]\nto = [\"circuit.b\"]\nload = \"1 A\"\n[circuit.b]\nto = [\"circuit.a\"]\nload = \"1 A\"\n[circuit.out]\nfrom = \"circuit.a\"\nload = \"2 A\"\n",
	} {
		n := linked(t, text)
		for _, path := range []string{"circuit.a", "circuit.b"} {
			c := n.Current(n.byPath[path], Everything)
			require.False(t, c.Known(), "%s: %s", name, path)
			assert.Contains(t, c.Needs()[0].Key, "do not lead back", name)
			assert.False(t, n.Fuse(n.byPath[path]).Known(), name)
		}
		out := n.byPath["circuit.out"]
		assert.InDelta(t, 2, n.Current(out, Everything).Value(), 1e-12, "%s: what hangs on a circle still knows its own load", name)
		assert.False(t, n.AtEnd(out).Known(), name)
	}
}

func TestFeedersWithoutFrom(t *testing.T) {
	n := linked(t, `
[relay.x]
[circuit.a]
from = "part.battery"
to = ["circuit.b", "relay.x"]
[circuit.b]
load = "1 A"
[circuit.c]
relay = "relay.x"
load = "2 A"
[circuit.d]
from = "circuit.a"
relay = "relay.x"
load = "4 A"
[circuit.lost]
load = "8 A"
[circuit.ground]
from = "circuit.a"
duty = "ground"
`)
	assert.InDelta(t, 7, n.Current(n.byPath["circuit.a"], Everything).Value(), 1e-12)
	drop := n.AtEnd(n.byPath["circuit.lost"])
	require.False(t, drop.Known())
	var keys []string
	for _, need := range drop.Needs() {
		keys = append(keys, need.Key)
	}
	assert.Contains(t, keys, "circuit.lost.from")
}

func TestTemperatures(t *testing.T) {
	n := linked(t, "[zone.hot]\nengine-space = true\n[zone.known]\ntemperature = \"85 ± 1 degC\"\nengine-space = true\n[zone.other]\n[circuit.a]\nzone = \"zone.hot\"\n[circuit.b]\nzone = \"zone.known\"\n[circuit.c]\nzone = \"zone.other\"\n[circuit.d]\n")
	for path, want := range map[string]float64{"circuit.a": 50, "circuit.b": 85, "circuit.c": 30, "circuit.d": 30} {
		temp := n.Temperature(n.byPath[path])
		assert.InDelta(t, want+273.15, temp.Value(), 1e-9, path)
		lo, hi := temp.Bounds()
		assert.Less(t, lo, hi, path)
		assert.Equal(t, path == "circuit.b", temp.Grade() != q.Assumed, path)
	}
}

func TestInsulationWords(t *testing.T) {
	for word, want := range map[string]float64{"GXL": 125, "gpt": 80, "105 degC": 105, "105 °C": 105, "221 degF": 105, "ISO 6722 class B": 100, "class F": 200} {
		rating := InsulationRating(q.Written(word, &q.Source{Entry: "circuit.a", Key: "insulation"}))
		assert.InDelta(t, want+273.15, rating.Value(), 1e-9, word)
	}
	assert.False(t, InsulationRating(q.Written("red", &q.Source{Entry: "circuit.a", Key: "insulation"})).Known())
}
