package hookups

import (
	"fmt"
	"os"
	"path/filepath"
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

// Each kind of swap raises its own questions.
func TestSwapsRaiseTheirQuestions(t *testing.T) {
	for _, c := range []struct{ out, in, raised, not string }{
		{"gasoline", "diesel", "canister", "glow-circuit"},
		{"diesel", "gasoline", "glow-circuit", "cold-start"},
		{"gasoline", "gasoline", "canister-purge", "canister"},
		{"diesel", "diesel", "cold-start", "in-tank-pump"},
		{"gasoline", "electric", "cab-heat", "idle-up"},
	} {
		got := verdicts(t, usualQuestions, fmt.Sprintf("[engine-was]\nfuel = %q\n[engine]\nfuel = %q\n", c.out, c.in))
		assert.Equal(t, "missing", got["build ("+c.raised+")"], c)
		assert.Equal(t, "not applicable", got["build ("+c.not+")"], c)
	}
	got := verdicts(t, usualQuestions, "[transmission]\npart = \"part.box\"\nkind = \"manual\"\n[part.box]\norigin = \"donor\"\n")
	assert.Equal(t, "missing", got["build (clutch-release)"])
	assert.Equal(t, "not applicable", got["build (transmission-cooling)"])
	assert.Equal(t, "not applicable", got["build (vacuum-users)"])
}
