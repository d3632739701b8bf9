package ledger_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
)

const moving = `
[assembly.engine]
at = { behind = "16 in", right = "0 in", above = "27 in" }
was-at = { behind = "18 in", right = "0 in", above = "26 in" }
measured-at = { behind = "17 in", right = "0 in", above = "27 in" }
[assembly.turbo]
at = { from = "assembly.engine", behind = "-10 in" }
[part.outlet]
at = { from = "assembly.turbo", right = "9 in" }
[part.clamp]
at = "part.outlet"
[part.battery]
at = { behind = "70 in" }
was-at = { behind = "-16 in" }
[part.rail]
at = { behind = "20 in" }
[part.unknown]
[gap.one]
between = ["part.rail"]
`

// A part goes where what it hangs on goes, over any number of steps, though
// its own place on it is not known; the moves are the differences of the
// datums above.
func TestMoves(t *testing.T) {
	write(t, map[string]string{"build.toml": moving})
	b, faults := load(t, ".")
	require.Empty(t, faults)
	parts := map[string]*ledger.Part{}
	for _, p := range b.Parts() {
		parts[p.Path()] = p
	}
	along := func(m ledger.Move, way string) float64 {
		return m.Along(q.Written(way, nil)).Value() / 0.0254
	}
	for _, name := range []string{"part.outlet", "part.clamp"} {
		work, tape := b.MovedSinceWork(parts[name]), b.MovedSinceRead(ledger.Reading{Before: q.Is(false)}, parts[name])
		assert.InDelta(t, -2, along(work, "back"), 1e-9, name)
		assert.InDelta(t, 2, along(work, "-back"), 1e-9, name)
		assert.InDelta(t, 1, along(work, "up"), 1e-9, name)
		assert.InDelta(t, -1, along(tape, "back"), 1e-9, name)
		assert.True(t, b.HangsOn(parts[name].At, ledger.Ref{Word: q.Written("assembly.engine", nil)}).Holds(), name)
	}
	assert.InDelta(t, 86, along(b.MovedSinceWork(parts["part.battery"]), "back"), 1e-9)
	for _, name := range []string{"part.rail", "part.unknown"} {
		m := b.MovedSinceWork(parts[name])
		assert.True(t, m.Some.Fails(), name)
		assert.Zero(t, m.Along(q.MissingWord(&q.Source{Key: "along"})).Value(), "what did not move needs no direction")
	}
	assert.True(t, b.MovedSinceRead(ledger.Reading{Before: q.Is(false)}, parts["part.battery"]).Some.Fails())
	first, second := b.Gaps()[0].Ends()
	assert.Equal(t, "part.rail", first.String())
	assert.Equal(t, "gap.one.between", second.Needs()[0].Key)
}

// What was read before a thing moved, by the dates, is carried over from where
// that stood before; the same day counts as after, no date as before. Where it
// stood is asked for, if the ledger does not say.
func TestMovesByDate(t *testing.T) {
	write(t, map[string]string{"build.toml": `
[assembly.engine]
at = { behind = "16 in" }
was-at = { behind = "18 in" }
moved = 2026-03-08
[assembly.turbo]
at = { from = "assembly.engine", behind = "-10 in" }
was-at = { from = "assembly.engine", behind = "-9 in" }
moved = 2026-03-20
[assembly.lost]
at = { behind = "1 in" }
moved = 2026-03-08
[part.outlet]
at = { from = "assembly.turbo", right = "9 in" }
[part.battery]
at = { behind = "70 in" }
was-at = { behind = "-16 in" }
moved = 2026-03-08
[part.lost]
at = { from = "assembly.lost" }
[part.tray]
at = "part.battery"
`})
	b, faults := load(t, ".")
	require.Empty(t, faults)
	for _, p := range b.Parts() {
		for day, want := range map[string]map[string]float64{
			"2026-03-07": {"part.outlet": -3, "part.battery": 86, "part.tray": 86},
			"2026-03-08": {"part.outlet": -1, "part.battery": 0, "part.tray": 0, "part.lost": 0},
			"2026-03-20": {"part.outlet": 0, "part.battery": 0, "part.tray": 0, "part.lost": 0},
			"":           {"part.outlet": -3, "part.battery": 86, "part.tray": 86},
		} {
			read := ledger.Date{Word: q.MissingWord(&q.Source{Key: "read"})}
			if day != "" {
				read = ledger.Date{Word: q.Written(day, nil)}
			}
			m := b.MovedSinceRead(ledger.Reading{Before: q.Is(false), Read: read}, p)
			by, known := want[p.Path()]
			if !known {
				assert.Equal(t, "where assembly.lost stood before it moved (was-at)", m.By.X.Needs()[0].Key)
				continue
			}
			assert.InDelta(t, by, m.Along(q.Written("back", nil)).Value()/0.0254, 1e-9, "%s %s", p.Path(), day)
			assert.Equal(t, by != 0, m.Some.Holds(), "%s %s", p.Path(), day)
		}
	}
}
