package ledger_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"fishplate/ledger"
	"fishplate/ledger/revision"
)

// examplePairs are two versions of one build, and two builds of one shop.
var examplePairs = [][2]string{
	{"changes/winch/before", "changes/winch/after"},
	{"builds/heron", "builds/marten"},
}

func loadExample(t testing.TB, name string) *ledger.Build {
	place, err := revision.Open("../examples/tamarack/" + name)
	require.NoError(t, err)
	defer place.Close()
	builds, err := place.Builds()
	require.NoError(t, err)
	b, faults := ledger.NewLoader().Load(builds[0])
	require.Empty(t, faults)
	return b
}

// says is all that a ledger says.
func says(b *ledger.Build) map[string]string {
	out := map[string]string{}
	for _, e := range b.Entries() {
		out[e.Path()] = fmt.Sprint(e.Shop)
		for _, v := range e.Values() {
			out[e.Path()+" "+v.Key] = v.Type + " " + v.Text
		}
	}
	for rule, l := range b.Limits {
		out["limits "+rule] = l.Value.Spelling()
	}
	for _, p := range b.Packs {
		out["pack "+p.String()] = ""
	}
	return out
}

// A mix of nothing is the one ledger, of everything the other; of some units,
// it differs from the one in these and from the other in the rest.
func TestMix(t *testing.T) {
	for _, pair := range examplePairs {
		a, b := loadExample(t, pair[0]), loadExample(t, pair[1])
		units := ledger.Differences(a, b)
		require.NotEmpty(t, units)
		require.Equal(t, says(a), says(a.Mix(b, nil)))
		require.Equal(t, says(b), says(a.Mix(b, units)))
		require.Equal(t, says(a), says(b.Mix(a, units)))
		require.Empty(t, ledger.Differences(a, a))
		rapid.Check(t, func(t *rapid.T) {
			var take, leave []ledger.Difference
			for _, u := range units {
				if rapid.Bool().Draw(t, u.Path()) {
					take = append(take, u)
				} else {
					leave = append(leave, u)
				}
			}
			mix := a.Mix(b, take)
			require.ElementsMatch(t, take, ledger.Differences(a, mix))
			require.ElementsMatch(t, leave, ledger.Differences(mix, b))
			require.Equal(t, says(mix), says(b.Mix(a, leave)), "it is the same from either side")
		})
	}
}

// A single entry is mixed key by key, in its view as in its values.
func TestMixSingle(t *testing.T) {
	write(t, map[string]string{
		"a/build.toml": "[build]\ntitle = \"a\"\npacks = [\"x\"]\n[vehicle]\nwheelbase = \"100 in\"\nheight = \"70 in\"\nnote = \"old\"\n[supply]\n",
		"b/build.toml": "[build]\ntitle = \"b\"\npacks = []\n[vehicle]\nwheelbase = \"110 in\"\nseats = 3\nnote = \"new\"\n[engine]\nidle = \"700 rpm\"\n",
	})
	a, _ := load(t, "a")
	b, _ := load(t, "b")
	var paths []string
	for _, u := range ledger.Differences(a, b) {
		paths = append(paths, u.Path())
	}
	require.Equal(t, []string{"build.packs", "build.title", "engine.idle", "supply", "vehicle.height", "vehicle.note", "vehicle.seats", "vehicle.wheelbase"}, paths)

	m := a.Mix(b, []ledger.Difference{{Entry: "vehicle", Key: "wheelbase"}, {Entry: "vehicle", Key: "height"}, {Entry: "build", Key: "packs"}})
	v := m.Vehicle()
	require.Equal(t, b.Vehicle().Wheelbase.Value(), v.Wheelbase.Value())
	require.Equal(t, "b/build.toml", v.Wheelbase.Source().Place.File)
	require.False(t, v.Height.Known(), "taken away")
	require.False(t, v.Seats.Known(), "not taken over")
	require.Equal(t, "a", m.Title())
	require.NotNil(t, m.Packs)
	require.Empty(t, m.Packs)
	require.True(t, m.Supply().Given().Holds())
	require.True(t, m.Engine().Given().Fails())
	m = a.Mix(b, []ledger.Difference{{Entry: "supply"}, {Entry: "engine", Key: "idle"}})
	require.True(t, m.Supply().Given().Fails())
	require.True(t, m.Engine().Given().Holds())
}

// What dangles in a mix is found in the ledger that has it, and is not listed.
func TestMixDangling(t *testing.T) {
	write(t, map[string]string{
		"a/build.toml": "[build]\n[zone.bay]\ntemperature = \"90 degC\"\n[circuit.a]\nzone = \"zone.bay\"\n[part.pump]\n",
		"b/build.toml": "[build]\n[zone.roof]\ntemperature = \"50 degC\"\n[circuit.a]\nzone = \"zone.roof\"\n",
	})
	a, _ := load(t, "a")
	b, _ := load(t, "b")
	for _, m := range []*ledger.Build{a.Mix(b, []ledger.Difference{{Entry: "circuit.a"}}), b.Mix(a, []ledger.Difference{{Entry: "zone.roof"}})} {
		c := m.Circuits()[0]
		require.InDelta(t, 323.15, m.Zone(c.Zone).Temperature.Value(), 1e-9)
		for _, e := range m.Entries() {
			require.NotEqual(t, "zone.roof", e.Path())
		}
	}
	m := a.Mix(b, []ledger.Difference{{Entry: "part.pump"}})
	require.Empty(t, m.Parts())
}

// Entries under other names, wherever they are named, and back again.
func TestRenamed(t *testing.T) {
	write(t, map[string]string{"build.toml": `[build]
note = "part.a"
[part.a]
name = "part.a"
note = "part.a"
at = "part.b"
needs = { vacuum = { from = "part.b" } }
[part.b]
at = { from = "assembly.x", behind = "1 in", right = "2 in", above = "3 in" }
[assembly.x]
at = { behind = "1 in", right = "2 in", above = "3 in" }
[tank.t]
[weighing.w]
levels = { "tank.t" = 0.5 }
[plug.p]
pins = { "1" = { to = "plug.q:4" } }
[plug.q]
[splice.s]
joins = ["plug.p:1", "plug.q:4"]
[waiver.v]
rule = "x/y"
entry = "part.b"
because = "part.b"
by = "Ann"
until = 2026-01-01
[answer.z]
entries = ["part.a", "part.a.name", "vehicle"]
[vehicle]
`})
	b, faults := load(t, ".")
	require.Empty(t, faults)
	names := map[string]string{"part.a": "part.alpha", "part.b": "part.beta", "assembly.x": "assembly.xi", "tank.t": "tank.tau", "plug.q": "plug.kappa"}
	back := map[string]string{}
	for o, n := range names {
		back[n] = o
	}
	r := b.Renamed(names)
	got := says(r)
	for key, want := range map[string]string{
		"part.alpha at": "word part.beta", "part.alpha needs.vacuum.from": "word part.beta", "part.alpha note": "word part.a", "build note": "word part.a",
		"part.beta at.from": "word assembly.xi", "weighing.w levels.tank.tau": "number 0.5", "plug.p pins.1.to": "word plug.kappa:4",
		"splice.s joins.1": "word plug.kappa:4", "waiver.v entry": "word part.beta", "waiver.v because": "word part.b",
		"answer.z entries.0": "word part.alpha", "answer.z entries.1": "word part.alpha.name", "answer.z entries.2": "word vehicle",
	} {
		require.Equal(t, want, got[key], key)
	}
	p := r.Parts()[0]
	require.Equal(t, "part.alpha", p.Path())
	require.InDelta(t, 0.0508, r.Now(p.At).X.Value(), 1e-12)
	require.Equal(t, says(b), says(r.Renamed(back)))
	require.Equal(t, b.Parts()[0].Place(), p.Place(), "it stands where it stood")
}
