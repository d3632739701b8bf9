package ledger_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
)

// A wire's end is checked when a ledger is read, like any other reference.
func TestPinReferences(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"no such plug", "[plug.dash]\n[plug.dash.pins]\n1 = { to = \"plug.dsh:4\" }\n", `build.toml:3:12: there is no plug.dsh; did you mean "plug.dash"?`},
		{"no such splice", "[splice.lamp-feed]\n[plug.dash]\npins = { 1 = { to = \"splice.lamps-feed\" } }\n", `build.toml:3:21: there is no splice.lamps-feed; did you mean "splice.lamp-feed"?`},
		{"no such relay", "[splice.a]\njoins = [\"relay.start\"]\n", `build.toml:2:10: there is no relay.start`},
		{"a plug without a pin", "[plug.dash]\n[splice.a]\njoins = [\"plug.dash\"]\n", `build.toml:3:10: joins.0: takes a pin of the plug, as in "plug.dash:4"; got "plug.dash"`},
		{"a pin of a part", "[part.ecu]\n[plug.dash]\npins = { 1 = { to = \"part.ecu:4\" } }\n", `build.toml:3:21: pins.1.to: only a plug has pins; got "part.ecu:4"`},
		{"a wire that ends at a gap", "[gap.a]\n[plug.dash]\npins = { 1 = { to = \"gap.a\" } }\n", `build.toml:3:21: takes the name of an entry: plug.x, splice.x, part.x or relay.x; got "gap.a"`},
		{"a pin twice in one table", "[plug.dash.pins]\n1 = { now = \"kept\" }\n2 = { now = \"kept\" }\n1 = { now = \"new\" }\n", `build.toml:4:1: `},
	} {
		t.Run(c.name, func(t *testing.T) {
			write(t, map[string]string{"build.toml": c.text})
			b, faults := load(t, ".")
			require.Nil(t, b)
			require.Len(t, faults, 1)
			assert.Contains(t, faults[0].String(), c.want)
		})
	}
}

// A row that is not in the table waits for itself, and a reference finds its
// plug and pin.
func TestPins(t *testing.T) {
	write(t, map[string]string{"build.toml": "[plug.dash]\n[plug.dash.pins]\n1 = { to = \"plug.dash:B 2\" }\n"})
	b, faults := load(t, ".")
	require.Empty(t, faults)
	dash := b.Plugs()[0]
	plug, pin := dash.Pin("1").To.Pin()
	assert.Equal(t, "plug.dash B 2", plug.String()+" "+pin)
	assert.Same(t, dash, b.Plug(plug))
	place, ok := dash.Pin("1").Place()
	assert.True(t, ok)
	assert.Equal(t, 3, place.Line)

	absent := dash.Pin("B 2")
	_, ok = absent.Place()
	assert.False(t, ok)
	for _, w := range []ledger.Ref{absent.To, absent.Circuit, {Word: absent.Now}, {Word: absent.OtherEnd}} {
		require.False(t, w.Known())
		assert.Equal(t, "plug.dash.pins.B 2", w.Needs()[0].Key)
		assert.Equal(t, 1, w.Needs()[0].Place.Line)
	}
}
