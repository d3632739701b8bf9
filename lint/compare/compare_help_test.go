package compare_test

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	q "fishplate/ledger/quantity"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/lint/compare"
)

// shopOf lays down a shop of builds, "before/build.toml" and the like, and
// loads the builds asked for.
func shopOf(t require.TestingT, dir string, files map[string]string, names ...string) []*ledger.Build {
	for name, text := range files {
		path := filepath.Join(dir, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	}
	require.NoError(t, os.MkdirAll(filepath.Join(dir, ".git"), 0o755)) // the top, up to which a shop's file has a say
	var out []*ledger.Build
	for _, n := range names {
		out = append(out, loadBuild(t, filepath.Join(dir, n)))
	}
	return out
}

func loadBuild(t require.TestingT, folder string) *ledger.Build {
	b, faults := ledger.NewLoader().Load(openBuild(t, folder))
	require.Empty(t, faults)
	return b
}

func openBuild(t require.TestingT, folder string) *revision.Build {
	place, err := revision.Open(folder)
	require.NoError(t, err)
	builds, err := place.Builds()
	require.NoError(t, err)
	require.Len(t, builds, 1)
	return builds[0]
}

// compared compares two versions of one build, a file each.
func compared(t testing.TB, before, after string) *compare.Comparison {
	t.Helper()
	bs := shopOf(t, t.TempDir(), map[string]string{"a/build.toml": before, "b/build.toml": after}, "a", "b")
	c := compare.Builds(bs[0], bs[1], trialPacks(), lint.Options{AsOf: "2026-03-01"})
	require.Empty(t, c.Before.Faults)
	require.Empty(t, c.After.Faults)
	return c
}

// trialPacks are made-up rules: a sum of products, a reference, a product of
// two, work to be done, a pair.
func trialPacks() []*lint.Pack {
	rule := func(name string, due ledger.Stage, check func(*ledger.Build, *lint.Sheet)) *lint.Rule {
		return &lint.Rule{Name: name, Title: "made up", Due: due, Sources: []q.Citation{q.Practice}, Check: check}
	}
	return []*lint.Pack{
		{Name: "trial", Title: "made up", Rules: []*lint.Rule{
			rule("trial/front", ledger.AtPlan, func(b *ledger.Build, s *lint.Sheet) {
				s.On(b.Front(), "").AtMost(frontLoad(b), b.Front().Rating)
			}),
			rule("trial/tire", ledger.AtPlan, func(b *ledger.Build, s *lint.Sheet) {
				s.On(b.Front(), "").AtMost(frontLoad(b), b.Tire(b.Front().Tire).LoadRating.Times(2))
			}),
			rule("trial/drop", ledger.AtPlan, func(b *ledger.Build, s *lint.Sheet) {
				for _, c := range b.Circuits() {
					drop := c.Load.Mul(c.Length).Mul(q.Cited("wire", "3 mohm/ft", "a table")).Div(b.Supply().Voltage)
					s.On(c, "").When(c.Duty.Or("continuous").Is("signal").Not(), "a signal carries nothing").AtMost(drop, q.Cited("most", "10 %", "a table"))
				}
			}),
			rule("trial/hot", ledger.AtPlan, func(b *ledger.Build, s *lint.Sheet) {
				for _, c := range b.Circuits() {
					s.On(c, "").AtMost(b.Zone(c.Zone).Temperature, q.Cited("most", "105 degC", "a table"))
				}
			}),
			rule("trial/fed", ledger.AtPlan, func(b *ledger.Build, s *lint.Sheet) {
				for _, c := range b.Circuits() {
					s.On(c, "").Holds(b.Part(c.From).Fitted, "%s is not fitted", c.From)
				}
			}),
		}},
		{Name: "gaps", Title: "made up", Rules: []*lint.Rule{
			rule("gaps/least", ledger.AtPlan, func(b *ledger.Build, s *lint.Sheet) {
				for _, g := range b.Gaps() {
					s.On(g, "").AtLeast(g.Measured, q.Cited("least", "1 in", "a table"))
				}
			}),
		}},
	}
}

func frontLoad(b *ledger.Build) q.Quantity {
	var terms []q.Quantity
	for p := range b.Fitted() {
		share := q.Number(1).Sub(b.Now(p.At).X.Div(b.Vehicle().Wheelbase))
		terms = append(terms, p.Count.Mul(p.Mass).Mul(share))
	}
	return q.Sum(q.Mass, terms...)
}

// change finds the change of a check, nil where there is none.
func change(c *compare.Comparison, rule, entry string) *compare.Change {
	for _, x := range c.Changes {
		if x.Rule.Name == rule && x.Entry == entry {
			return x
		}
	}
	return nil
}

func cause(x *compare.Change, entry string) *compare.Cause {
	for _, c := range x.Causes {
		if c.Entry == entry {
			return c
		}
	}
	return nil
}

func edit(c *compare.Comparison, entry string) *compare.Edit {
	for _, e := range c.Edits {
		if e.Entry == entry {
			return e
		}
	}
	return nil
}

// requireAddUp: the shares and what they do together make the difference.
func requireAddUp(t require.TestingT, x *compare.Change) {
	if math.IsNaN(x.Delta) {
		return
	}
	sum, size := x.Together, math.Abs(x.After.Margin.Value())+math.Abs(x.Before.Margin.Value())+math.Abs(x.Before.Value.Value())+math.Abs(x.After.Value.Value())
	for _, c := range x.Causes {
		if !math.IsNaN(c.Share) {
			sum += c.Share
		}
	}
	require.InDelta(t, x.Delta, sum, 1e-7*size, "%s on %s", x.Rule.Name, x.Entry)
}
