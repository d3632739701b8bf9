package drawing_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/lint"
	"fishplate/lint/compare"
	"fishplate/lint/report/drawing"
	"fishplate/rules"
)

// Two states over each other: nothing overlaps, what moved has an arrow as long as
// it moved, and only what changed has a number.
func TestOver(t *testing.T) {
	for _, pair := range [][2]string{{"changes/winch/before", "changes/winch/after"}, {"changes/winch/after", "changes/winch/before"}} {
		before, after := example(t, pair[0]), example(t, pair[1])
		c := compare.Builds(before.Build, after.Build, rules.Packs(), lint.Options{AsOf: "2026-11-20"})
		all := drawing.Over(c, rules.Drawn(c.Before.Build), rules.Drawn(c.After.Build))
		require.NotEmpty(t, all, pair)
		for _, d := range all {
			laidOut(t, pair[1], d)
			page, err := d.HTML()
			require.NoError(t, err)
			inert(t, string(page))
		}
		if pair[0] != "changes/winch/before" {
			continue
		}
		require.Len(t, all, 4)
		s := all[0].Panels[0].Wide
		assert.Len(t, all[0].Tables[0].Rows, 4, "winch, its bumper, the old bumper, the battery")
		assert.Contains(t, strings.Join(slices.Concat(all[0].Tables[0].Rows...), " "), "Battery, two in parallel: moved 86 in ahead, 22 in to the left, 7 in up")
		k, longest := unitsPerMeter(t, s), 0.0
		for _, m := range s.Marks {
			if m.Look == "d-now" && m.Form == drawing.Line {
				longest = max(longest, math.Hypot(m.Points[0].X-m.Points[1].X, m.Points[0].Y-m.Points[1].Y))
			}
		}
		assert.InDelta(t, math.Hypot(86, 7)*0.0254*k, longest, 1)
	}
}

// The same of builds that have little in common, every check a change.
func TestOverOfStrangers(t *testing.T) {
	for _, pair := range [][2]string{{"builds/heron", "builds/dunlin"}, {"builds/marten", "builds/heron"}, {"builds/heron", "changes/winch/after"}} {
		before, after := example(t, pair[0]), example(t, pair[1])
		c := &compare.Comparison{Before: before, After: after}
		was := map[string]*lint.Result{}
		for _, r := range before.Results {
			was[r.Key()] = r
		}
		for i, r := range after.Results {
			c.Changes = append(c.Changes, &compare.Change{Rule: r.Rule, Before: was[r.Key()], After: r, Kind: []compare.ChangeKind{compare.Worse, compare.Drifted, compare.New}[i%3], Counts: i%2 == 0})
			delete(was, r.Key())
		}
		for _, r := range before.Results {
			if was[r.Key()] != nil {
				c.Changes = append(c.Changes, &compare.Change{Rule: r.Rule, Before: r, Kind: compare.Gone})
			}
		}
		all := drawing.Over(c, rules.Drawn(before.Build), rules.Drawn(after.Build))
		require.GreaterOrEqual(t, len(all), 2, pair)
		for _, d := range all {
			laidOut(t, strings.Join(pair[:], " and "), d)
		}
	}
}
