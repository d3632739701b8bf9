package drawing_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
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

// The same of 200 ledgers that nobody wrote, from none to 60 parts, and some of
// 300, with names that are long, hostile or in other scripts.
func TestNothingOverlapsOnGenerated(t *testing.T) {
	if testing.Short() {
		t.Skip("seconds of checking")
	}
	kinds := map[string]int{}
	for i := range 200 {
		rnd := rand.New(rand.NewPCG(12, uint64(i)))
		parts := rnd.IntN(60)
		if i%40 == 0 {
			parts = 300
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

// discs are the discs of a look on a sheet.
func discs(s drawing.Sheet, look drawing.Look) []drawing.Mark {
	return slices.DeleteFunc(slices.Clone(s.Marks), func(m drawing.Mark) bool { return m.Form != drawing.Disc || m.Look != look })
}

// unitsPerMeter reads the scale off a view's bar: its outline is as long as the
// text behind it says.
func unitsPerMeter(t *testing.T, s drawing.Sheet) float64 {
	t.Helper()
	for i, m := range s.Marks {
		if m.Form == drawing.Rect && m.Box.H == 4 {
			long, err := q.Parse(s.Marks[i+2].Text, q.Length, q.Options{})
			require.NoError(t, err)
			return m.Box.W / long.Value
		}
	}
	t.Fatal("no scale")
	return 0
}

// What the side view draws agrees with the ledger's figures to within a pixel, by
// its own scale: wheelbase, the wheels, the height, every part's place, and the
// discs' areas.
func TestSideIsToScale(t *testing.T) {
	for _, name := range examples {
		r := example(t, name)
		f := rules.Drawn(r.Build)
		d, err := drawing.Of("side", r, f)
		require.NoError(t, err)
		s := d.Panels[0].Wide
		k := unitsPerMeter(t, s)
		wheels := discs(s, "d-heavy")
		require.Len(t, wheels, 2, name)
		front, rear := wheels[0], wheels[1]
		v := r.Build.Vehicle()
		assert.InDelta(t, v.Wheelbase.Value()*k, rear.Points[0].X-front.Points[0].X, 1, name)
		for i, a := range r.Build.Axles() {
			assert.InDelta(t, f.Diameter(r.Build.Tire(a.Tire)).Value()*k, 2*wheels[i].R, 1, name)
		}
		ground := front.Points[0].Y + front.R
		byName := map[string]drawing.Mark{}
		for _, m := range s.Marks {
			if m.Form == drawing.Disc && m.Look == "d-part" {
				byName[m.Text] = m
			}
		}
		seen, area := 0, 0.0
		for p := range r.Build.Fitted() {
			at := r.Build.Now(p.At)
			if !p.At.Known() || !p.Mass.Known() || !at.X.Known() || p.CountedIn.Known() || f.Aboard(p).Fails() || p.Mass.Value() == 0 {
				continue
			}
			for text, m := range byName {
				if strings.Contains(text, " "+p.Name.String()+", "+r.Build.Style().Format(p.Mass.Mul(p.Count))) && math.Abs(front.Points[0].X+at.X.Value()*k-m.Points[0].X) < 1 {
					seen++
					assert.InDelta(t, ground-at.Z.Value()*k, m.Points[0].Y, 1, "%s: %s", name, text)
					each := m.R * m.R / (p.Mass.Value() * p.Count.Value())
					if area == 0 {
						area = each
					}
					assert.InEpsilon(t, area, each, 0.01, "%s: %s", name, text)
					break
				}
			}
		}
		assert.GreaterOrEqual(t, seen, len(byName)*9/10, "%s: parts that are where the ledger says", name)
	}
}

// The bars of axle loads are as long as what stands on the axles, by the axis
// beside them, and the rating's line stands at the rating.
func TestAxleLoadsAreToScale(t *testing.T) {
	for _, name := range examples {
		r := example(t, name)
		f := rules.Drawn(r.Build)
		d, err := drawing.Of("axle-loads", r, f)
		require.NoError(t, err)
		if d.Empty() {
			require.False(t, f.Front.Loaded.Known(), name)
			require.NotEmpty(t, d.Beside, name)
			continue
		}
		for _, s := range []drawing.Sheet{d.Panels[0].Wide, d.Panels[0].Narrow} {
			zero, k := axisOf(t, s, "lb")
			var bars []float64
			for _, m := range s.Marks {
				if m.Form == drawing.Rect {
					assert.InDelta(t, zero, m.Box.X, 0.01)
					bars = append(bars, m.Box.W)
				}
			}
			for _, load := range []q.Quantity{f.Front.Received, f.Front.Predicted, f.Front.Loaded, f.Rear.Received, f.Rear.Loaded} {
				if load.Known() {
					assert.True(t, slices.ContainsFunc(bars, func(w float64) bool { return math.Abs(w-load.Value()*k) < 1 }), "%s: a bar for %g kg", name, load.Value())
				}
			}
		}
	}
}

// axisOf reads where zero is on a chart and how many units of the sheet there are
// to one of SI, off the first two figures of its axis.
func axisOf(t *testing.T, s drawing.Sheet, unit string) (zero, k float64) {
	t.Helper()
	u, ok := q.UnitNamed(unit)
	require.True(t, ok)
	var x []float64
	var v []float64
	for _, m := range s.Marks {
		var n float64
		if m.Form == drawing.Words && m.End == drawing.Middle {
			if _, err := fmt.Sscanf(m.Text, "%g", &n); err == nil {
				x, v = append(x, m.Points[0].X), append(v, n*u.Factor)
			}
		}
	}
	require.GreaterOrEqual(t, len(x), 2)
	k = (x[1] - x[0]) / (v[1] - v[0])
	return x[0] - v[0]*k, k
}

// A gap's dot stands at what is left of it in use, its heavy tick at the least.
func TestGapsAreToScale(t *testing.T) {
	r := example(t, "builds/heron")
	d, err := drawing.Of("gaps", r, rules.Drawn(r.Build))
	require.NoError(t, err)
	s := d.Panels[0].Wide
	zero, k := axisOf(t, s, "in")
	dots := discs(s, "d-ink")
	n := 0
	for _, c := range r.Results {
		if c.Rule.Name != "clearance/gap" || c.Aspect != "" || !c.Value.Known() || c.Value.Value() > 0.3 {
			continue
		}
		n++
		assert.True(t, slices.ContainsFunc(dots, func(m drawing.Mark) bool { return math.Abs(m.Points[0].X-(zero+c.Value.Value()*k)) < 1 }), c.Entry)
	}
	assert.Greater(t, n, 10)
}

// A shaft's tubes are as long as each other's lengths say, and its joints as far
// bent as the readings, times the factor that is stated.
func TestDrivelineAngles(t *testing.T) {
	r := example(t, "builds/heron")
	d, err := drawing.Of("driveline", r, rules.Drawn(r.Build))
	require.NoError(t, err)
	s := d.Panels[2].Wide // the rear shaft from the side: 3.1°, 5.6°, 3.3°
	joints := discs(s, "d-open")
	require.Len(t, joints, 2)
	a, b := joints[0].Points[0], joints[1].Points[0]
	require.Contains(t, textOf(s), "angles drawn 3 times as large")
	assert.InDelta(t, 3*5.6, math.Atan2(b.Y-a.Y, b.X-a.X)*180/math.Pi, 0.1)
	assert.Contains(t, textOf(s), "A 2.5°")
	assert.Contains(t, textOf(s), "B 2.3°")
	assert.Contains(t, textOf(s), "50.25 in")
}

func textOf(s drawing.Sheet) string {
	var out []string
	for _, m := range s.Marks {
		if m.Form == drawing.Words {
			out = append(out, m.Text)
		}
	}
	return strings.Join(out, " ")
}

// A figure's history stands at its values on the axis beside it, breaks where it
// was not known, and lists its events.
func TestHistory(t *testing.T) {
	u, _ := q.UnitNamed("lb")
	nan := math.NaN()
	moments := []drawing.Moment{{When: "2026-01-01", Value: 3000, Low: 2900, High: 3100}, {When: "2026-01-05", Value: nan, Low: nan, High: nan}, {When: "2026-01-09", Value: 3200, Low: 3190, High: 3210, Event: "weighed as built"}}
	for i := range moments {
		for _, v := range []*float64{&moments[i].Value, &moments[i].Low, &moments[i].High} {
			*v *= u.Factor
		}
	}
	d := drawing.History("front", "Front axle", u, moments, 4000*u.Factor)
	laidOut(t, "history", d)
	s := d.Panels[0].Wide
	points := discs(s, "d-nowfill")
	require.Len(t, points, 2)
	y := map[string]float64{}
	for _, m := range s.Marks {
		if m.Form == drawing.Words && m.End == drawing.End {
			y[m.Text] = m.Points[0].Y - 4
		}
	}
	require.Contains(t, y, "3000")
	require.Contains(t, y, "4000")
	k := (y["3000"] - y["4000"]) / 1000
	assert.InDelta(t, y["3000"], points[0].Points[0].Y, 0.1)
	assert.InDelta(t, y["3000"]-200*k, points[1].Points[0].Y, 0.1)
	assert.Contains(t, textOf(s), "2026-01-09 weighed as built")
	assert.True(t, drawing.History("x", "x", u, moments[1:2], nan).Empty())
}

// Whatever a ledger says, a drawing has no element and no attribute but those of
// its template, in either form, and its words are clean.
func TestHostileWordsStayWords(t *testing.T) {
	for i := range 12 {
		r := checked(t, generated(rand.New(rand.NewPCG(77, uint64(i))), 40))
		for _, d := range drawing.All(r, rules.Drawn(r.Build)) {
			var svg bytes.Buffer
			require.NoError(t, d.SVG(&svg))
			inert(t, svg.String())
			page, err := d.HTML()
			require.NoError(t, err)
			inert(t, string(page))
		}
	}
	var svg bytes.Buffer
	u, _ := q.UnitNamed("lb")
	require.NoError(t, drawing.History("x", names[3], u, []drawing.Moment{{When: names[4], Value: 1, Low: 0, High: 2, Event: names[5]}}, 1).SVG(&svg))
	inert(t, svg.String())
	assert.Contains(t, svg.String(), "&lt;script&gt;")
}

var elements = strings.Fields("svg title desc style rect circle polyline polygon text figure figcaption p ul li b span table caption thead tbody tr th td div")
var attributes = strings.Fields("class role aria-labelledby viewBox width height xmlns id x y cx cy r points font-size text-anchor scope")

// inert reads a drawing as XML, which it is in both forms.
func inert(t *testing.T, text string) {
	t.Helper()
	assert.Negative(t, strings.IndexFunc(text, func(r rune) bool {
		return r == '\u202e' || r == '\u200b' || r == '\u2066' || r < ' ' && r != '\n'
	}))
	for d := xml.NewDecoder(strings.NewReader(text)); ; {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		require.NoError(t, err)
		if e, ok := token.(xml.StartElement); ok {
			require.Contains(t, elements, e.Name.Local)
			for _, a := range e.Attr {
				require.Contains(t, attributes, a.Name.Local)
			}
		}
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
