package shoprules_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger/quantity"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/lint/compare"
	"fishplate/rules"
)

// again are rules of the packs written once more as a shop would write them.
var again = []struct{ id, rule, aspect, text string }{
	{"roof", "weight/roof-load", "", `
value = """
  sum(parts().filter(p, p.fitted && p.mounted_on == 'roof').map(p, p.mass * p.count))
  + sum(loads().filter(l, l.mounted_on == 'roof').map(l, l.mass * l.count))
"""
at-most = "it.roof_rating"`},
	{"axles", "weight/gross", "against the axles", `
value = "it.gross_rating"
at-most = "it.front.rating + it.rear.rating"`},
	{"front-tires", "weight/tires-cover-rating", "", `
each = "vehicle.front"
value = "it.tire.load_rating * it.tires"
at-least = "it.rating"`},
	{"belt", "gearing/belt-speed", "", `
each = "engine"
where = "has(it.crank_pulley)"
value = "it.crank_pulley * radians(it.governed) * 0.5"
at-most = "q('50 m/s')"`},
	{"filter", "fuel/filter", "", `
each = "fuel"
value = "it.filter_rating"
at-most = "it.filter_asked"`},
	{"year", "street/engine-year", "", `
each = "engine"
value = "it.year"
at-least = "vehicle.year"`},
	{"bump", "clearance/bump", "", `
each = "gap"
where = "it.kind == 'pan-to-axle'"
value = "it.motion"
at-least = "vehicle.front.bump_travel"`},
	{"belts", "weight/payload", "seats and belts", `
value = "vehicle.seats"
at-least = "size(seat_belts())"`},
	{"front-wheel", "weight/wheel-load", "", `
each = "vehicle.front"
value = "figure('weight/front-axle', it) / it.tires"
at-most = "it.wheel.load_rating"`},
	{"front", "weight/front-axle", "", `
each = "vehicle.front"
value = "figure('weight/front-axle', it)"
at-most = "it.rating"`},
	{"hose", "fuel/hose-class", "pressure", `
each = "hose"
where = "has(it.rated_pressure)"
value = "it.pressure"
at-most = "it.rated_pressure"`},
}

// againShop is an example's shop with those rules.
func againShop(t testing.TB, from string) string {
	text, err := os.ReadFile(filepath.Join(from, "shop.toml"))
	require.NoError(t, err)
	var b strings.Builder
	b.Write(text)
	for _, a := range again {
		fmt.Fprintf(&b, "\n[rule.again-%s]\ntitle = \"as %s\"\nlevel = \"must\"\nsource = \"common practice, no source\"%s\n", a.id, a.rule, a.text)
	}
	return b.String()
}

// TestAgain: a rule of a pack that a shop writes again gives the same value, with
// the same bounds, doubts, verdict and levers, on every example that it judges.
func TestAgain(t *testing.T) {
	const shop = "../../examples/tamarack"
	text := againShop(t, shop)
	met := map[string]bool{}
	for _, build := range []string{"marten", "heron"} {
		dir := lay(t, map[string]string{"shop.toml": text})
		require.NoError(t, os.CopyFS(filepath.Join(dir, build), os.DirFS(filepath.Join(shop, "builds", build))))
		rep := judge(t, dir)
		require.Empty(t, rep.Faults)
		for _, a := range again {
			for _, r := range of(rep, "shop/again-"+a.id) {
				for _, p := range of(rep, a.rule) {
					if p.Entry == r.Entry && p.Aspect == a.aspect && r.Verdict != lint.NotApplicable && p.Verdict != lint.NotApplicable {
						met[a.id] = true
						alike(t, build+" "+a.id+" on "+r.Entry, p, r)
					}
				}
			}
		}
	}
	assert.GreaterOrEqual(t, len(met), 10, "%v", met)
}

func alike(t *testing.T, what string, p, r *lint.Result) {
	t.Helper()
	verdict := func(x *lint.Result) lint.Verdict {
		if x.Verdict == lint.Waived {
			return x.Underlying
		}
		return x.Verdict
	}
	assert.Equal(t, verdict(p), verdict(r), what)
	assert.Equal(t, p.Sense, r.Sense, what)
	for i, pair := range [][2]quantity.Quantity{{p.Value, r.Value}, {p.Limit, r.Limit}, {p.Margin, r.Margin}} {
		x, y := pair[0], pair[1]
		require.Equal(t, x.Known(), y.Known(), what)
		if !x.Known() {
			assert.Equal(t, x.Needs(), y.Needs(), what)
			continue
		}
		assert.InEpsilon(t, 1+x.Value(), 1+y.Value(), 1e-12, "%s %d", what, i)
		xl, xh := x.Bounds()
		yl, yh := y.Bounds()
		assert.InDelta(t, xl, yl, 1e-9*(xh-xl)+1e-12, "%s %d", what, i)
		assert.InDelta(t, xh, yh, 1e-9*(xh-xl)+1e-12, "%s %d", what, i)
	}
	if !p.Margin.Known() {
		return
	}
	doubts := func(x *lint.Result) (out []string) {
		for _, d := range x.Margin.Doubts() {
			if d.Source.Entry != "" && d.Doubt > 0 {
				out = append(out, fmt.Sprintf("%s %.6g", d.Source.Path(), d.Doubt))
			}
		}
		return out
	}
	assert.Equal(t, doubts(p), doubts(r), what)
	levers := func(x *lint.Result) (out []string) {
		for _, l := range lint.Levers(x) {
			out = append(out, l.Source.Path()+" "+l.Text)
		}
		return out
	}
	assert.Equal(t, levers(p), levers(r), what)
}

// TestAgainCauses: the same entries are to blame for what a change did to it.
func TestAgainCauses(t *testing.T) {
	const from = "../../examples/tamarack"
	dir := lay(t, map[string]string{"shop.toml": againShop(t, from)})
	for _, side := range []string{"before", "after"} {
		require.NoError(t, os.CopyFS(filepath.Join(dir, side), os.DirFS(filepath.Join(from, "changes/winch", side))))
	}
	place, err := revision.Open(dir)
	require.NoError(t, err)
	two, err := place.Builds()
	require.NoError(t, err)
	c := compare.Sources(two[1], two[0], rules.All(), lint.Options{Today: "2026-11-20"})
	require.False(t, c.Unread(), "%v %v", c.Before.Faults, c.After.Faults)
	causes := map[string][]string{}
	for _, x := range c.Changes {
		for _, by := range x.Causes {
			causes[x.Rule.Name] = append(causes[x.Rule.Name], fmt.Sprintf("%+v", *by))
		}
	}
	require.NotEmpty(t, causes["weight/front-axle"])
	assert.Equal(t, causes["weight/front-axle"], causes["shop/again-front"])
}
