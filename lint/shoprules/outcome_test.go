package shoprules_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/lint"
)

// TestOutcomes: each of the verdicts, by the arithmetic of the numbers above: part.a
// weighs 19 to 21 lb, part.b 29 to 31 lb and part.c is not weighed.
func TestOutcomes(t *testing.T) {
	a, b, c := "part('part.a').mass", "part('part.b').mass", "part('part.c').mass"
	for _, x := range []struct {
		holds string
		want  lint.Verdict
		needs string
	}{
		{a + " < " + b, lint.Pass, ""},
		{a + " > " + b, lint.Fail, ""},
		{a + " < q('20 lb')", lint.Unproven, ""},
		{a + " < q('21 lb')", lint.Unproven, ""}, // it may be 21 lb
		{a + " <= q('21 lb')", lint.Pass, ""},
		{a + " >= q('19 lb')", lint.Pass, ""},
		{a + " > q('19 lb')", lint.Unproven, ""},
		{a + " - " + a + " <= q('0 lb')", lint.Pass, ""}, // what is shared cancels
		{a + " < " + c, lint.Missing, "part.c.mass"},
		{a + " < q('20 lb') || true", lint.Pass, ""},
		{a + " < q('20 lb') && false", lint.Fail, ""},
		{a + " < q('20 lb') && " + c + " > q('1 lb')", lint.Missing, "part.c.mass"},
		{c + " > q('1 lb') || " + a + " < " + b, lint.Pass, ""},
		{"!(" + a + " < q('20 lb'))", lint.Unproven, ""},
		{"parts().all(p, p.mass < q('100 lb'))", lint.Missing, "part.c.mass"},
		{"parts().exists(p, p.mass > q('28 lb'))", lint.Pass, ""},
		{"parts().all(p, p.mass < q('28 lb'))", lint.Fail, ""}, // part.b alone settles it
		{"parts().filter(p, has(p.mass)).all(p, p.mass < q('100 lb'))", lint.Pass, ""},
		{"sum(parts().map(p, p.mass)) < q('100 lb')", lint.Missing, "part.c.mass"},
		{"sum(parts().filter(p, has(p.mass)).map(p, p.mass)) <= q('52 lb')", lint.Pass, ""},
		{"sum(parts().filter(p, p.role == 'radiator').map(p, p.mass)) <= q('0 lb')", lint.Missing, "part.c.role"},
		{"sum(tires().map(x, x.load_rating)) <= q('0 lb')", lint.Pass, ""}, // there are none
		{"part('part.a').role == 'alternator'", lint.Pass, ""},
		{"part('part.b').role == 'alternator'", lint.Missing, "part.b.role"},
		{"part('part.d').mass < q('1 lb')", lint.Missing, "part.d"},
		{"part('part.a').role in ['alternator', 'radiator']", lint.Pass, ""},
		{"entry_name(part('part.a')) == 'part.a'", lint.Pass, ""},
		{"vehicle.front.tire.diameter > q('1 in')", lint.Missing, "vehicle.front.tire"},
		{"reads(vehicle.front.tires, 2) && !reads(part('part.c').count, 3)", lint.Pass, ""},
		{"size(parts()) == 3 && parts().size() < 4", lint.Pass, ""},
		{"min(" + a + ", " + b + ") <= q('21 lb') && max(parts().filter(p, has(p.mass)).map(p, p.mass)) >= q('29 lb')", lint.Pass, ""},
		{"first(" + c + ", " + a + ") <= q('21 lb')", lint.Pass, ""},
		{"below(" + a + ", q('20 lb'), q('1 in'), q('3 in')) < q('2 in')", lint.Unproven, ""},
		{"below(" + a + ", q('20 lb'), q('1 in'), q('3 in')) < q('4 in')", lint.Pass, ""},
		{"(" + a + " < " + b + " ? q('1 in') : q('3 in')) < q('2 in')", lint.Pass, ""},
		{"(" + c + " < " + b + " ? q('1 in') : q('3 in')) < q('2 in')", lint.Missing, "part.c.mass"},
		{"sqrt(vehicle.wheelbase * vehicle.wheelbase) >= q('121 in') && pow(vehicle.wheelbase, 2) > q('100 in2')", lint.Pass, ""},
		{"abs(q('-3 in')) <= q('3 in') && sin(q('30 deg')) <= 0.5 && -q('3 in') < q('0 in')", lint.Pass, ""},
		{"transmission.gears[7] > 1", lint.Missing, "transmission.gears"},
		{"weighings().all(w, w.levels.all(l, l.value > 0.5))", lint.Pass, ""},
	} {
		t.Run(x.holds, func(t *testing.T) {
			rep := by(t, "[rule.x]\ntitle = \"x\"\nsource = \"s\"\nholds = \"\"\"\n"+x.holds+"\"\"\"\n", van)
			require.Empty(t, rep.Faults)
			rs := of(rep, "shop/x")
			require.Len(t, rs, 1)
			assert.Equal(t, x.want, rs[0].Verdict, rs[0].Reason)
			var needs []string
			for _, n := range rs[0].Needs {
				needs = append(needs, n.Key)
			}
			assert.Equal(t, x.needs, strings.Join(needs, " "))
			if x.want == lint.Unproven {
				assert.NotEmpty(t, rs[0].Margin.Doubts(), "it says what to read better")
			}
		})
	}
}

// TestConductorArea: sizes of two systems are compared by their copper. 12 AWG is
// 3.31 mm2 (6530 circular mils, NFPA 70 Chapter 9 Table 8), 14 AWG 2.08 mm2 (4110).
func TestConductorArea(t *testing.T) {
	const wires = `
[circuit.awg]
gauge = "12 awg"
[circuit.heavier]
gauge = "4 mm2"
[circuit.lighter]
gauge = "3 mm2"
[circuit.thin]
gauge = "#14 AWG"
[circuit.unsaid]
length = "3 ft"
[circuit.like-it]
like = "circuit.awg"
`
	for least, want := range map[string]string{
		"conductor_area('12 AWG')": "awg pass, heavier pass, lighter fail, thin fail, unsaid missing circuit.unsaid.gauge, like-it pass",
		"conductor_area(' 3 mm2')": "awg pass, heavier pass, lighter pass, thin fail, unsaid missing circuit.unsaid.gauge, like-it pass",
		"q('3.32 mm2')":            "awg fail, heavier pass, lighter fail, thin fail, unsaid missing circuit.unsaid.gauge, like-it fail",
		"q('2.07 mm2')":            "awg pass, heavier pass, lighter pass, thin pass, unsaid missing circuit.unsaid.gauge, like-it pass",
	} {
		rep := by(t, "[rule.x]\ntitle = \"x\"\nsource = \"s\"\neach = \"circuit\"\nvalue = \"conductor_area(it.gauge)\"\nat-least = \""+least+"\"\n", wires)
		require.Empty(t, rep.Faults, least)
		got := map[string]string{}
		for _, r := range of(rep, "shop/x") {
			_, name, _ := strings.Cut(r.Entry, ".")
			got[name] = r.Verdict.String()
			for _, n := range r.Needs {
				got[name] += " " + n.Key
			}
		}
		for _, each := range strings.Split(want, ", ") {
			name, verdict, _ := strings.Cut(each, " ")
			assert.Equal(t, verdict, got[name], "%s of %s", least, name)
		}
	}
}

// TestEach: one check an entry, those that where leaves out do not apply, in the
// order of the entries, and never another.
func TestEach(t *testing.T) {
	const shop = `
[rule.x]
title = "light"
each = "part"
where = "has(it.mass)"
value = "it.mass"
at-most = "q('25 lb')"
level = "must"
due = "mock-up"
because = "one fell"
caution = "it falls"
source = "a note of ours (from memory)"
[limits]
"shop/x" = "24 lb"
`
	for range 5 {
		rep := by(t, shop, van)
		require.Empty(t, rep.Faults)
		require.Empty(t, rep.Notes)
		rs := of(rep, "shop/x")
		require.Len(t, rs, 3)
		for i, want := range []struct {
			entry   string
			verdict lint.Verdict
		}{{"part.b", lint.Fail}, {"part.a", lint.Pass}, {"part.c", lint.NotApplicable}} {
			assert.Equal(t, want.entry, rs[i].Entry)
			assert.Equal(t, want.verdict, rs[i].Verdict)
		}
		assert.True(t, rs[0].Counts && rs[0].Tight, "a must that is due, by the shop's own tighter limit")
		r := rs[0].Rule
		assert.Equal(t, []string{"one fell", "it falls", "a note of ours (from memory)"}, []string{r.Note, r.Caution, r.Sources[0].String()})
	}
}

// TestHoldsInWords: a truth that does not hold is told by the rule's title: what the
// expression says is for whoever writes rules.
func TestHoldsInWords(t *testing.T) {
	rep := by(t, "[rule.x]\ntitle = \"no wire is lighter\\n than 16 AWG\"\nsource = \"s\"\neach = \"circuit\"\nholds = \"it.gauge != '18 AWG'\"\n", "[circuit.a]\ngauge = \"18 AWG\"\n")
	require.Empty(t, rep.Faults)
	require.Len(t, of(rep, "shop/x"), 1)
	assert.Equal(t, "not so: no wire is lighter than 16 AWG", of(rep, "shop/x")[0].Reason)
}

// TestWaived: a shop's rule is waived by its name like any other.
func TestWaived(t *testing.T) {
	rep := by(t, "[rule.x]\ntitle = \"x\"\nsource = \"s\"\nlevel = \"must\"\ndue = \"plan\"\nholds = \"false\"\n", van+`
[waiver.w]
rule = "shop/x"
entry = "vehicle"
because = "a try"
by = "Ann"
until = 2027-01-01
`)
	require.Empty(t, rep.Faults)
	require.Len(t, of(rep, "shop/x"), 1)
	assert.Equal(t, lint.Waived, of(rep, "shop/x")[0].Verdict)
	for _, r := range of(rep, "ledger/waiver") {
		assert.Equal(t, lint.Pass, r.Verdict, r.Reason)
	}
}

// TestSince: a build that was delivered before a rule was made is not judged by it,
// nor does its digest change with it.
func TestSince(t *testing.T) {
	const rule = "[rule.x]\ntitle = \"x\"\nsource = \"s\"\nholds = \"true\"\nsince = 2026-06-01\n"
	delivered := strings.Replace(van, "[build]", "[build]\ndelivered = 2026-05-01", 1)
	assert.Empty(t, of(by(t, rule, delivered), "shop/x"))
	assert.Equal(t, by(t, "", delivered).Digest(), by(t, rule, delivered).Digest())
	assert.Len(t, of(by(t, rule, van), "shop/x"), 1)
	assert.NotEqual(t, by(t, "", van).Digest(), by(t, rule, van).Digest(), "a rule that judges is part of what is signed")
	trial := "[rule.x.trial.a]\nbuild = \"trials/a\"\nverdict = \"pass\"\n"
	assert.Equal(t, by(t, rule, van).Digest(), by(t, rule+trial, van).Digest(), "what tries it is not")
}

// TestWeakensNothing: whatever a shop's rules say, every check of the packs comes out
// as it does without them, and they are judged though a build names other packs.
func TestWeakensNothing(t *testing.T) {
	const rules = `
[rule.front-axle]
title = "shop's"
value = "figure('weight/gross', 'vehicle')"
at-most = "q('1 lb')"
source = "s"
[rule.weight]
title = "true"
holds = "true"
level = "should"
source = "s"
`
	without, with := by(t, "", van), by(t, rules, van)
	require.Empty(t, with.Faults)
	var a, b []string
	for _, r := range without.Results {
		a = append(a, r.Key()+r.Verdict.String()+r.Rule.Level())
	}
	for _, r := range with.Results {
		if lint.PackOf(r.Rule.Name) != "shop" {
			b = append(b, r.Key()+r.Verdict.String()+r.Rule.Level())
		}
	}
	assert.Equal(t, a, b)
	assert.Len(t, of(with, "shop/front-axle"), 1)
	assert.Len(t, of(by(t, rules, strings.Replace(van, "[build]", "[build]\npacks = [\"fuel\"]", 1)), "shop/weight"), 1)
	for _, id := range []string{`"weight/front-axle"`, `"../x"`, `"X"`} {
		assert.NotEmpty(t, by(t, "[rule."+id+"]\ntitle = \"x\"\nsource = \"s\"\nholds = \"true\"\n", van).Faults, id)
	}
}
