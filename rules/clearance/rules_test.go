package clearance

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/lint"
	"fishplate/rules/packtest"
)

func TestPack(t *testing.T) { packtest.Run(t, Pack, "testdata") }

func TestEverySourceIsUsed(t *testing.T) { assert.Empty(t, data.Unused()) }

// A gap that is older than the move of what it hangs on rests on it, also where
// the way there goes by another part or another assembly; it says so in words.
func TestRemeasuredByDates(t *testing.T) {
	const words = "measured on 2026-04-02, before assembly.a moved on 2026-04-10: measure it again"
	for name, c := range map[string]struct{ ledger, says string }{
		"by its assembly":     {"read = 2026-04-02\n[part.engine]\nat = { from = \"assembly.a\" }\n", words},
		"by another part":     {"read = 2026-04-02\n[part.engine]\nat = \"part.box\"\n[part.box]\nat = { from = \"assembly.a\" }\n", words},
		"by another assembly": {"read = 2026-04-02\n[part.engine]\nat = { from = \"assembly.b\" }\n[assembly.b]\nat = { from = \"assembly.a\" }\nmoved = 2026-01-01\n", words},
		"that says so":        {"read = 2026-04-02\nbefore-move = true\n[part.engine]\nat = { from = \"assembly.a\" }\n", "it was measured before the move: measure it again"},
		"on the same day":     {"read = 2026-04-10\n[part.engine]\nat = { from = \"assembly.a\" }\n", ""},
		"without a date":      {"[part.engine]\nat = { from = \"assembly.a\" }\n", "measured, for all that is written, before assembly.a moved on 2026-04-10: measure it again"},
		"by itself":           {"read = 2026-04-02\n[part.engine]\nat = { behind = \"2 in\" }\nwas-at = { behind = \"1 in\" }\nmoved = 2026-04-03\n", "measured on 2026-04-02, before part.engine moved on 2026-04-03: measure it again"},
		"by work":             {"read = 2026-04-02\n[part.engine]\n[work.mounts]\nparts = [\"part.engine\"]\ndid = \"adjusted\"\ndate = 2026-04-03\n", "measured on 2026-04-02, before work.mounts was done to part.engine on 2026-04-03: measure it again"},
		"taken off since":     {"read = 2026-04-02\n[part.engine]\nremoved-on = 2026-04-03\n", "measured on 2026-04-02, before part.engine was taken off on 2026-04-03: measure it again"},
		"on nothing":          {"read = 2026-04-02\n[part.engine]\nat = { behind = \"1 in\" }\n", ""},
	} {
		b := packtest.Build(t, "[build]\nstage = \"assembly\"\n[assembly.a]\nwas-at = { behind = \"17 in\" }\nat = { behind = \"18 in\" }\nmoved = 2026-04-10\n[gap.lid]\nbetween = [\"lid\", \"part.engine\"]\n"+c.ledger)
		for _, r := range lint.Check(b, []*lint.Pack{Pack}, lint.Options{AsOf: "2026-11-20"}).Results {
			if r.Rule == remeasured && r.Aspect == "" {
				assert.Equal(t, c.says, r.Reason, name)
				assert.Equal(t, c.says == "", r.Verdict == lint.Pass, name)
			}
		}
	}
}

// "0 in" of motion is none: a gap of an inch where an inch is asked passes. Read
// as half an inch either way it would be left open. "0 ± 1/8 in" keeps its doubt.
func TestNoMotion(t *testing.T) {
	for motion, want := range map[string]lint.Verdict{"0 in": lint.Pass, "0 mm": lint.Pass, "0 ± 1/8 in": lint.Unproven, "1/8 in": lint.Fail} {
		b := packtest.Build(t, "[build]\nstage = \"assembly\"\n[gap.shaft]\nkind = \"shaft-to-fixed\"\nbetween = [\"shaft\", \"rail\"]\nmeasured = \"1.00 ± 0 in\"\nmotion = \""+motion+"\"\n")
		for _, r := range lint.Check(b, []*lint.Pack{Pack}, lint.Options{AsOf: "2026-11-20"}).Results {
			if r.Rule == gap && r.Aspect == "" {
				assert.Equal(t, want, r.Verdict, motion)
			}
		}
	}
}
