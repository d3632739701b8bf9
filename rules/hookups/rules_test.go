package hookups

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/lint"
	"fishplate/rules/packtest"
)

func TestPack(t *testing.T) { packtest.Run(t, Pack, "testdata") }

func TestEverySourceIsUsed(t *testing.T) { assert.Empty(t, data.Unused()) }

// check runs one rule on a ledger.
func check(t *testing.T, rule *lint.Rule, ledger string) []*lint.Result {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), []byte(ledger), 0o644))
	rep := lint.Check(packtest.Load(t, dir), []*lint.Pack{{Name: "hookups", Rules: []*lint.Rule{rule}}}, lint.Options{AsOf: "2026-11-20"})
	require.Empty(t, rep.Faults)
	return slices.DeleteFunc(rep.Results, func(r *lint.Result) bool { return r.Rule != rule })
}

// verdicts are the verdicts that a rule gives, by subject.
func verdicts(t *testing.T, rule *lint.Rule, ledger string) map[string]string {
	out := map[string]string{}
	for _, r := range check(t, rule, ledger) {
		out[r.Subject()] = r.Verdict.String()
	}
	return out
}

// Why a part is not fed is said in words.
func TestReasons(t *testing.T) {
	for giver, want := range map[string]string{
		"fitted = false\ngives = { vacuum = \"24 inHg\" }":                                   "it is fed by part.pump, which came off",
		"gives = { kick-down = true }":                                                       "it is fed by part.pump, which gives no vacuum",
		"gives = { vacuum = \"24 inHg\" }\nneeds = { belt-drive = { from = \"part.a\" } }":   "it is fed by part.pump, which is not fed itself",
		"gives = { vacuum = \"24 inHg\" }\nneeds = { vacuum = { from = \"part.booster\" } }": "its vacuum goes round in a ring, and nothing makes it",
		"gives = { vacuum = \"9 inHg\" }":                                                    "",
	} {
		got := check(t, fed, "[part.a]\n[part.booster]\nneeds = { vacuum = { least = \"15 inHg\", from = \"part.pump\" } }\ngives = { vacuum = true }\n[part.pump]\n"+giver)
		i := slices.IndexFunc(got, func(r *lint.Result) bool { return r.Entry == "part.booster" })
		assert.Equal(t, "fail", got[i].Verdict.String())
		assert.Equal(t, want, got[i].Reason)
	}
	got := check(t, usualQuestions, "[answer.lamps]\nquestion = \"back-up-lamp\"\nsays = \"Yes.\"")
	assert.Equal(t, "no usual question is called \"back-up-lamp\"; did you mean \"back-up-lamps\"?", got[0].Reason)
}

// A need that names no giver yet is no pass: where all that gave the kind came
// off it is missing and says so, else it is not this rule's to judge.
func TestOrphanedWithoutAGiver(t *testing.T) {
	for parts, want := range map[string][2]string{
		"": {"not applicable", "it does not say yet what feeds it: see hookups/fed"},
		"[part.old]\nfitted = false\ngives = { vacuum = \"20 inHg\" }\n":                                                {"missing", "something that feeds it vacuum: all that did came off (part.old)"},
		"[part.old]\nfitted = false\ngives = { vacuum = \"20 inHg\" }\n[part.pump]\ngives = { vacuum = \"24 inHg\" }\n": {"not applicable", "it does not say yet what feeds it: see hookups/fed"},
	} {
		got := check(t, orphaned, "[part.booster]\nneeds = { vacuum = { least = \"15 inHg\" } }\n"+parts)
		got = slices.DeleteFunc(got, func(r *lint.Result) bool { return r.Entry != "part.booster" })
		require.Len(t, got, 1)
		said := got[0].Reason
		for _, n := range got[0].Needs {
			said += n.Key
		}
		assert.Equal(t, want, [2]string{got[0].Verdict.String(), said}, parts)
	}
}

// A long line of parts, each fed by the next, of which the last is fed by one
// that came off; and a ring that is fed from outside: what is wrong at the end
// reaches all, once, and does not loop.
func TestWhatIsWrongReachesAll(t *testing.T) {
	var b strings.Builder
	const n = 2000
	for i := range n {
		fmt.Fprintf(&b, "[part.p%d]\nneeds = { belt-drive = { from = \"part.p%d\" } }\ngives = { belt-drive = true }\n", i, i+1)
	}
	fmt.Fprintf(&b, "[part.p%d]\nfitted = false\ngives = { belt-drive = true }\n", n)
	b.WriteString(`
[part.turbo]
needs = { compressed-air = { least = "5 psi", from = "part.p0" }, vacuum = { least = "1 inHg", from = "part.ring" } }
gives = { charge-air = true }
[part.ring]
needs = { charge-air = { from = "part.turbo" } }
gives = { vacuum = "5 inHg" }
`)
	got := verdicts(t, fed, b.String())
	for i := range n {
		require.Equal(t, "fail", got[fmt.Sprintf("part.p%d (belt-drive)", i)])
	}
	assert.Equal(t, "fail", got["part.ring (charge-air)"])
	assert.Equal(t, "fail", got["part.turbo (vacuum)"])
}

// Too little is told once, at the part that gets it.
func TestTooLittleIsToldOnce(t *testing.T) {
	got := verdicts(t, fed, `
[part.engine]
gives = { vacuum = "5 inHg" }
[part.servo]
needs = { vacuum = { least = "15 inHg", from = "part.engine" } }
gives = { kick-down = true }
[part.gearbox]
needs = { kick-down = { from = "part.servo" } }
`)
	assert.Equal(t, map[string]string{"part.servo (vacuum)": "fail", "part.gearbox (kick-down)": "pass"}, got)
}

// asked are the questions that a ledger leaves open, by matter; a matter that
// nothing raises is not there, one that is settled is empty.
func asked(t *testing.T, ledger string) map[string][]string {
	out := map[string][]string{}
	for _, r := range check(t, usualQuestions, ledger) {
		if r.Entry != "build" || r.Verdict == lint.NotApplicable {
			continue
		}
		out[r.Aspect] = nil
		for _, n := range r.Needs {
			for _, name := range questionNames {
				if regexp.MustCompile(`[( ]` + name + `[,:)]`).MatchString(n.Key) {
					out[r.Aspect] = append(out[r.Aspect], name)
				}
			}
		}
	}
	return out
}

func everything(of map[string][]string) []string {
	var out []string
	for _, names := range of {
		out = append(out, names...)
	}
	return out
}

// Each kind of swap raises its own questions.
func TestSwapsRaiseTheirQuestions(t *testing.T) {
	for _, c := range []struct{ out, in, raised, not string }{
		{"gasoline", "diesel", "canister", "glow-circuit"},
		{"diesel", "gasoline", "glow-circuit", "cold-start"},
		{"gasoline", "gasoline", "canister-purge", "canister"},
		{"diesel", "diesel", "cold-start", "in-tank-pump"},
		{"gasoline", "electric", "cab-heat", "idle-up"},
		{"gasoline", "diesel", "runaway", "charging"},
		{"diesel", "gasoline", "throttle-return", "runaway"},
		{"diesel", "electric", "charging", "throttle-return"},
	} {
		got := everything(asked(t, fmt.Sprintf("[engine-was]\nfuel = %q\n[engine]\nfuel = %q\n", c.out, c.in)))
		assert.Contains(t, got, c.raised, c)
		assert.NotContains(t, got, c.not, c)
	}
	got := everything(asked(t, "[transmission]\npart = \"part.box\"\nkind = \"manual\"\n[part.box]\norigin = \"donor\"\n"))
	assert.Contains(t, got, "clutch-release")
	assert.NotContains(t, got, "transmission-cooling")
	assert.NotContains(t, got, "vacuum-users")
}

// Other facts of a ledger raise theirs, and nothing else does.
func TestFactsRaiseTheirQuestions(t *testing.T) {
	for _, c := range []struct{ fact, raises string }{
		{"[part.p]\nrole = \"vacuum-pump\"\nfitted = false\ngives = { vacuum = \"20 inHg\" }", "vacuum-users"},
		{"[part.p]\nrole = \"steering-shaft\"\norigin = \"made\"", "steering-joints"},
		{"[part.p]\nrole = \"brake-hose\"\norigin = \"bought\"", "brake-hoses"},
		{"[vehicle.front]\nspring-rate-was = \"400 lb/in\"", "brake-hoses"},
		{"[part.p]\nrole = \"muffler\"\norigin = \"bought\"", "cab-air"},
		{"[gap.g]\nrelief = \"1 in\"", "cuts"},
		{"[part.p]\nrole = \"crossmember\"\norigin = \"made\"", "cuts"},
		{"[part.p]\nrole = \"alternator-bracket\"\norigin = \"made\"", "accessory-bracket"},
		{"[part.p]\nat = { behind = \"51 in\", right = \"0 in\", above = \"20 in\" }\nwas-at = { behind = \"50 in\", right = \"0 in\", above = \"20 in\" }", "after-a-move"},
		{"[vehicle.rear]\ntire-was = \"tire.t\"\n[tire.t]", "other-tires"},
		{"[part.p]\nrole = \"radiator\"\norigin = \"bought\"", "coolant-bleeds"},
		{"[circuit.a]\nzone = \"zone.a\"\n[circuit.b]\nzone = \"zone.b\"\n[zone.a]\n[zone.b]", "wires-held"},
		{"[part.p]\nrole = \"fuel-pump\"\n[circuit.a]\nto = [\"part.p\"]", "pump-stops"},
		{"[transmission]\nkind = \"automatic\"\npart = \"part.t\"\n[part.t]\norigin = \"donor\"\n[part.c]\nrole = \"clutch\"\nfitted = false", "clutch-left-over"},
		{"[transmission]\nkind = \"automatic\"\npart = \"part.t\"\n[part.t]\norigin = \"donor\"", "park-holds"},
		{"[vehicle]\ndrive = \"four-wheel\"\n[engine-was]\n[engine]\nfuel = \"diesel\"", "front-axle"},
		{"[part.p]\nrole = \"air-conditioning-compressor\"\n[engine-was]\n[engine]\nfuel = \"diesel\"", "air-conditioning"},
		{"[part.p]\nrole = \"fuel-tank\"\norigin = \"original\"\n[engine-was]\n[engine]\nfuel = \"diesel\"", "tank-pickup"},
	} {
		assert.Contains(t, everything(asked(t, c.fact)), c.raises, c.fact)
	}
	for _, quiet := range []string{
		"", "[part.p]\nrole = \"steering-shaft\"\norigin = \"original\"", "[part.p]\nrole = \"muffler\"",
		"[gap.g]\nmeasured = \"1 in\"", "[part.p]\nrole = \"fuel-pump\"",
		"[part.p]\nat = { behind = \"50.2 in\", right = \"0 in\", above = \"20 in\" }\nwas-at = { behind = \"50 in\", right = \"0 in\", above = \"20 in\" }",
		"[engine]\npart = \"part.e\"\nfuel = \"diesel\"\n[part.e]\norigin = \"original\"",
	} {
		assert.Empty(t, asked(t, quiet), quiet)
	}
}

// A first ledger of six parts is asked in a few lines, not in one a question.
func TestAFirstLedgerIsAskedInAFewLines(t *testing.T) {
	got := asked(t, `
[vehicle]
fuel = "gasoline"
drive = "four-wheel"
[engine-was]
part = "part.old"
[engine]
part = "part.new"
fuel = "diesel"
[transmission]
part = "part.box"
kind = "automatic"
[part.old]
role = "engine"
origin = "original"
fitted = false
[part.new]
role = "engine"
origin = "donor"
[part.box]
role = "transmission"
origin = "donor"
[part.tank]
role = "fuel-tank"
origin = "original"
[part.muffler]
role = "muffler"
origin = "bought"
[part.mount]
role = "crossmember"
origin = "made"
`)
	assert.LessOrEqual(t, len(got), 8)
	assert.Greater(t, len(everything(got)), 25)
}

// An answer counts with its date, and of what was tried, where nothing was
// moved or changed later; the same day counts.
func TestAnswersAreOfTheirDay(t *testing.T) {
	const ask = "[part.m]\nrole = \"muffler\"\norigin = \"bought\"\n%s\n[assembly.a]\n%s\n[answer.air]\nquestion = \"cab-air\"\nsays = \"No smell, no reading.\"\n%s"
	for _, c := range []struct{ part, assembly, answer, want string }{
		{"", "", "date = 2026-04-10", ""},
		{"", "", "", "answer.air.date"},
		{"fitted-on = 2026-04-10", "moved = 2026-04-09", "date = 2026-04-10", ""},
		{"fitted-on = 2026-04-11", "", "date = 2026-04-10", "answer.air tried again: it is of 2026-04-10, and part.m went on on 2026-04-11"},
		{"", "moved = 2026-05-01", "date = 2026-04-10", "answer.air tried again: it is of 2026-04-10, and assembly.a moved on 2026-05-01"},
	} {
		for _, r := range check(t, usualQuestions, fmt.Sprintf(ask, c.part, c.assembly, c.answer)) {
			if r.Aspect != "cuts and cab air" {
				continue
			}
			if c.want == "" {
				assert.Equal(t, lint.Pass, r.Verdict, c)
				assert.Equal(t, "settled: cab-air by answer.air", r.Reason)
				continue
			}
			require.Len(t, r.Needs, 1, c)
			assert.Equal(t, c.want, r.Needs[0].Key)
		}
	}
}

// Pulses 2.75 % out are advised against and let through, as 49 CFR 393.82 lets
// 5 mph in 50 through; 11 % are not.
func TestPulsesNearTheirLimits(t *testing.T) {
	const ask = "[part.s]\ngives = { road-speed-signal = \"%d pulses/mi\" }\n[part.p]\nneeds = { road-speed-signal = { exactly = \"4000 pulses/mi\", from = \"part.s\" } }"
	for pulses, want := range map[int][2]string{4000: {"pass", "pass"}, 4110: {"pass", "fail"}, 3610: {"pass", "fail"}, 4440: {"fail", "fail"}} {
		got := verdicts(t, fed, fmt.Sprintf(ask, pulses))
		assert.Equal(t, want, [2]string{got["part.p (road-speed-signal)"], got["part.p (road-speed-signal, closely)"]}, pulses)
	}
}
