package drawing_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/lint"
	"fishplate/lint/report/drawing"
	"fishplate/lint/report/drawing/layout"
	"fishplate/rules"
)

var examples = []string{"builds/marten", "builds/heron", "builds/dunlin", "changes/winch/before", "changes/winch/after"}

func example(t *testing.T, name string) *lint.Report {
	t.Helper()
	r := reportOn(t, filepath.Join("../../../examples/tamarack", name))
	require.Empty(t, r.Faults)
	return r
}

// laidOut holds every layout of a drawing to it that no two texts lie on each other
// and none leaves the sheet.
func laidOut(t *testing.T, what string, d drawing.Drawing) {
	t.Helper()
	for i, p := range d.Panels {
		for _, s := range []drawing.Sheet{p.Wide, p.Narrow} {
			where := fmt.Sprintf("%s, %s, panel %d, %g wide", what, d.ID, i, s.Width)
			sheet := layout.Box{X: -0.01, Y: -0.01, W: s.Width + 0.02, H: s.Height + 0.02}
			require.False(t, math.IsNaN(s.Height) || math.IsInf(s.Height, 0), where)
			var seen []drawing.Mark
			for _, m := range s.Marks {
				for _, p := range m.Points {
					require.False(t, math.IsNaN(p.X+p.Y) || math.IsInf(p.X+p.Y, 0), where)
				}
				if m.Form != drawing.Words {
					continue
				}
				if !m.Box.Within(sheet) {
					t.Errorf("%s: %q leaves the sheet: %v in %g x %g", where, m.Text, m.Box, s.Width, s.Height)
				}
				for _, o := range seen {
					if m.Box.Grown(-0.05).Overlaps(o.Box) {
						t.Errorf("%s: %q %v lies on %q %v", where, m.Text, m.Box, o.Text, o.Box)
					}
				}
				seen = append(seen, m)
			}
		}
	}
}

func TestNothingOverlaps(t *testing.T) {
	for _, name := range examples {
		r := example(t, name)
		all := drawing.All(r, rules.Drawn(r.Build))
		require.GreaterOrEqual(t, len(all), 7, name)
		for _, d := range all {
			laidOut(t, name, d)
			assert.NotEmpty(t, d.Title)
			assert.NotEmpty(t, d.Text, "%s: %s", name, d.ID)
		}
	}
}

// What a wire leads to, and what a loop passes, stands there whole on a wide sheet of
// every example: it is wrapped before it is cut.
func TestLabelsAreWhole(t *testing.T) {
	for _, name := range examples {
		r := example(t, name)
		for _, d := range drawing.All(r, rules.Drawn(r.Build)) {
			if d.Kind != "wiring" && d.Kind != "loops" {
				continue
			}
			for _, p := range d.Panels {
				for _, m := range p.Wide.Marks {
					assert.NotContains(t, m.Text, "…", "%s: %s", name, d.ID)
				}
			}
		}
	}
}

// The same of 200 ledgers that nobody wrote, from none to 40 parts, two of 150 and one of
// 300, with names that are long, hostile or in other scripts.
func TestNothingOverlapsOnGenerated(t *testing.T) {
	if testing.Short() {
		t.Skip("seconds of checking")
	}
	kinds := map[string]int{}
	for i := range 200 {
		rnd := rand.New(rand.NewPCG(12, uint64(i)))
		parts := rnd.IntN(40)
		switch i {
		case 0:
			parts = 300
		case 1, 2:
			parts = 150
		}
		r := checked(t, generated(rnd, parts))
		for _, d := range drawing.All(r, rules.Drawn(r.Build)) {
			kinds[d.Kind]++
			laidOut(t, fmt.Sprintf("build %d of %d parts", i, parts), d)
		}
		if t.Failed() {
			return
		}
	}
	for _, name := range drawing.Names() {
		assert.Greater(t, kinds[name], 30, "%s was hardly ever drawn", name)
	}
}

// No figure is drawn that is not known: on a ledger of phantoms there is nothing.
func TestNothingKnownNothingDrawn(t *testing.T) {
	r := &lint.Report{Build: ledger.Phantoms()}
	for _, d := range drawing.All(r, rules.Drawn(r.Build)) {
		for _, p := range d.Panels {
			assert.Empty(t, discs(p.Wide, "d-part"), d.Kind)
			assert.Empty(t, discs(p.Wide, "d-heavy"), d.Kind)
		}
	}
}

// Of a plug of more pins than are drawn always the same are, and it is said.
func TestPlugOfManyPins(t *testing.T) {
	var text strings.Builder
	text.WriteString("[build]\ntitle = \"x\"\n[plug.p]\nways = 230\nopened = true\n")
	for i := 1; i <= 230; i++ {
		fmt.Fprintf(&text, "[plug.p.pins.%d]\nnow = \"kept\"\n", i)
	}
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), []byte(text.String()), 0o644))
	r := reportOn(t, dir)
	require.Empty(t, r.Faults)
	for range 5 {
		i := slices.IndexFunc(drawing.All(r, rules.Drawn(r.Build)), func(d drawing.Drawing) bool { return d.Kind == "plugs" })
		require.GreaterOrEqual(t, i, 0)
		d := drawing.All(r, rules.Drawn(r.Build))[i]
		rows := d.Tables[0].Rows
		require.Len(t, rows, 200)
		assert.Contains(t, fmt.Sprint(rows[0]), "1")
		assert.Contains(t, fmt.Sprint(rows[199]), "200")
		assert.Contains(t, d.Beside, "plug p: its ways past 200")
	}
}
