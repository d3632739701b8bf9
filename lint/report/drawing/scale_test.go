package drawing_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	q "fishplate/ledger/quantity"
	"fishplate/lint/report/drawing"
	"fishplate/rules"
)

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
