package lint_test

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/revision"
	"fishplate/lint"
)

// gaugePacks hold made-up rules: a part weighs at most 10 lb, must; it has a
// name, should; it is in two respects for sale.
var gaugePacks = []*lint.Pack{{Name: "toy", Title: "made-up rules", Rules: []*lint.Rule{
	{Name: "toy/mass", Title: "a part weighs no more than ten pounds", Due: ledger.AtAssembly, Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, p := range b.Parts() {
			s.On(p, "").When(p.Fitted, "it came off").AtMost(p.Mass, quantity.Cited("ten", "10 lb", "made up"))
		}
	}},
	{Name: "toy/sale", Title: "a part can be bought and ordered", Due: ledger.AtDelivery, Check: func(b *ledger.Build, s *lint.Sheet) {
		for _, p := range b.Parts() {
			s.On(p, "by name").Holds(p.Name.Required(), "")
			s.On(p, "by number").Work().Holds(p.OrderAs.Given(), "no number to order it by")
		}
	}},
}}, {Name: "other", Title: "another", Rules: []*lint.Rule{{Name: "other/thing", Title: "a thing", Check: func(*ledger.Build, *lint.Sheet) {}}}}}

const asOf = "2026-06-01"

// judge lays a build down and judges it at a stage.
func judge(t *testing.T, stage ledger.Stage, files map[string]string) *lint.Report {
	t.Helper()
	return lint.Check(lay(t, files), gaugePacks, lint.Options{Stage: &stage, AsOf: asOf})
}

func lay(t *testing.T, files map[string]string) *ledger.Build {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		path := filepath.Join(dir, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	}
	t.Chdir(dir)
	place, err := revision.Open(".")
	require.NoError(t, err)
	builds, err := place.Builds()
	require.NoError(t, err)
	b, faults := ledger.NewLoader().Load(builds[0])
	require.Empty(t, faults)
	return b
}

// told is each check of one rule in a line, those that do not apply aside.
func told(rep *lint.Report, rule string) string {
	var out []string
	for _, r := range rep.Results {
		if r.Rule.Name != rule || r.Verdict == lint.NotApplicable {
			continue
		}
		line := fmt.Sprintf("%s %s", r.Subject(), r.Verdict)
		if r.Verdict == lint.Waived {
			line += " over " + r.Underlying.String()
		}
		if r.Counts {
			line += " counts"
		}
		for _, n := range r.Needs {
			line += ", needs " + n.Key
		}
		if r.Reason != "" {
			line += ": " + r.Reason
		}
		out = append(out, line)
	}
	return strings.Join(out, "\n")
}

const head = "[build]\npacks = [\"toy\"]\n"

func TestWaivers(t *testing.T) {
	waiver := func(rule, entry, more string) string {
		return head + "[part.a]\nname = \"A\"\nmass = \"12 lb\"\n[part.b]\nname = \"B\"\nmass = \"9 lb\"\n[part.c]\nname = \"C\"\nfitted = false\n" +
			"[waiver.w]\nrule = \"" + rule + "\"\nentry = \"" + entry + "\"\n" + more
	}
	whole := "because = \"weighed with its box\"\nby = \"June Farrow\"\nuntil = 2026-06-01\n"
	for _, c := range []struct{ name, build, mass, waivers string }{
		{"good to the last day", waiver("toy/mass", "part.a", whole),
			"part.a waived over fail: waived by June Farrow until 2026-06-01: weighed with its box", "waiver.w pass"},
		{"run out", waiver("toy/mass", "part.a", strings.ReplaceAll(whole, "06-01", "05-31")),
			"part.a fail counts", "waiver.w fail counts: it ran out on 2026-05-31"},
		{"no reason", waiver("toy/mass", "part.a", strings.ReplaceAll(whole, "because", "note")),
			"part.a fail counts", "waiver.w missing counts, needs waiver.w.because"},
		{"no one, no end", waiver("toy/mass", "part.a", "because = \"x\"\n"),
			"part.a fail counts", "waiver.w missing counts, needs waiver.w.by, needs waiver.w.until"},
		{"on a pass", waiver("toy/mass", "part.b", whole),
			"part.a fail counts", "waiver.w fail: it covers nothing: the check passes without it; take it out"},
		{"no such entry", waiver("toy/mass", "part.aa", whole),
			"part.a fail counts", `waiver.w fail counts: it matches nothing: toy/mass judges nothing on "part.aa"; did you mean "part.a"?`},
		{"no such rule", waiver("toy/mas", "part.a", whole),
			"part.a fail counts", `waiver.w fail counts: there is no rule "toy/mas"; did you mean "toy/mass"?`},
		{"another pack", waiver("other/thing", "part.a", whole),
			"part.a fail counts", "waiver.w fail counts: it matches nothing: the pack other does not apply to this build"},
		{"does not apply", waiver("toy/mass", "part.c", whole),
			"part.a fail counts", "waiver.w fail counts: it matches nothing: the check does not apply, it came off"},
		{"one respect", waiver("toy/mass", "part.a", "aspect = \"empty\"\n"+whole),
			"part.a fail counts", "waiver.w fail counts: it matches nothing: toy/mass judges part.a in one respect only; leave the aspect out"},
		{"several respects", waiver("toy/sale", "part.a", whole),
			"part.a fail counts", `waiver.w fail counts: it matches nothing: toy/sale judges part.a in several respects; say which aspect: "by name" or "by number"`},
		{"of the ledger itself", waiver("ledger/waiver", "waiver.w", whole),
			"part.a fail counts", "waiver.w fail counts: ledger/waiver is a check of the ledger itself, and cannot be waived"},
	} {
		t.Run(c.name, func(t *testing.T) {
			rep := judge(t, ledger.AtAssembly, map[string]string{"build.toml": c.build})
			assert.Contains(t, told(rep, "toy/mass"), c.mass)
			assert.Equal(t, c.waivers, told(rep, "ledger/waiver"))
			assert.Equal(t, strings.Contains(c.mass+c.waivers, "counts"), rep.Failed())
		})
	}
}

func TestReadOnADayToCome(t *testing.T) {
	for _, c := range []struct{ date, today, want string }{
		{"2026-06-01", "", ""},
		{"2026-06-02", "", ""}, // clocks differ by a day
		{"2026-06-03", "", "gap.a (read) fail counts: read = 2026-06-03 is after 2026-06-01, and it has not happened yet: write the day on which it did, or leave it out"},
		{"2026-06-03", "2026-06-20", ""}, // judged as of a day that is past
		{"2062-03-01", "2026-06-20", "gap.a (read) fail counts: read = 2062-03-01 is after 2026-06-20, and it has not happened yet: write the day on which it did, or leave it out"},
		{`"2062-03-01"`, "2026-06-20", "gap.a (read) fail counts: read = 2062-03-01 is after 2026-06-20, and it has not happened yet: write the day on which it did, or leave it out"},
	} {
		b := lay(t, map[string]string{"build.toml": head + "[gap.a]\nbetween = [\"a\", \"b\"]\nread = " + c.date + "\n"})
		assert.Equal(t, c.want, told(lint.Check(b, gaugePacks, lint.Options{AsOf: asOf, Today: c.today}), "ledger/read"), c.date+" "+c.today)
	}
}

// What has happened has no day to come; what is planned or ordered may have one.
func TestHappenedOnADayToCome(t *testing.T) {
	const ahead = "= 2026-07-01\n"
	b := lay(t, map[string]string{"build.toml": head + "[test.stop]\nkind = \"stop\"\ndate " + ahead + "[answer.a]\nsays = \"yes\"\ndate " + ahead + "[work.w]\ndid = \"fitted\"\ndate " + ahead +
		"[part.p]\nordered " + ahead + "arrived " + ahead + "fitted-on " + ahead})
	got := told(lint.Check(b, gaugePacks, lint.Options{AsOf: asOf}), "ledger/read")
	for _, key := range []string{"answer.a (date)", "part.p (arrived)", "test.stop (date)", "work.w (date)"} {
		assert.Contains(t, got, key+" fail counts")
	}
	assert.Equal(t, 4, strings.Count(got, "fail counts"), got)
}

func TestWaiverKeepsWhatIsUnderIt(t *testing.T) {
	build := head + "[part.a]\nname = \"A\"\n[waiver.w]\nrule = \"toy/%s\"\nentry = \"part.a\"\n%sbecause = \"x\"\nby = \"y\"\nuntil = 2027-01-01\n"
	rep := judge(t, ledger.AtDelivery, map[string]string{"build.toml": fmt.Sprintf(build, "mass", "")})
	assert.Equal(t, "part.a waived over missing, needs part.a.mass: waived by y until 2027-01-01: x", told(rep, "toy/mass"))
	rep = judge(t, ledger.AtDelivery, map[string]string{"build.toml": fmt.Sprintf(build, "sale", "aspect = \"by number\"\n")})
	assert.Contains(t, told(rep, "toy/sale"), "part.a (by number) waived over fail: no number to order it by; waived by y until 2027-01-01: x")
	unproven := strings.ReplaceAll(fmt.Sprintf(build, "mass", ""), "name = \"A\"", "name = \"A\"\nmass = \"10 ± 1 lb\"")
	rep = judge(t, ledger.AtDelivery, map[string]string{"build.toml": unproven})
	assert.Equal(t, "part.a waived over unproven: waived by y until 2027-01-01: x", told(rep, "toy/mass"))
}

func sum(text string) string {
	s := sha256.Sum256([]byte(text))
	return hex.EncodeToString(s[:])
}

func TestDocuments(t *testing.T) {
	doc := func(file, sha string) string {
		out := head + "[document.d]\nkind = \"photo\"\n"
		if file != "" {
			out += "file = '" + file + "'\n"
		}
		if sha != "" {
			out += "sha256 = \"" + sha + "\"\n"
		}
		return out
	}
	for _, c := range []struct{ name, build, want string }{
		{"as it was", doc("papers/d.txt", sum("paper\n")), "document.d pass"},
		{"capitals", doc("papers/d.txt", strings.ToUpper(sum("paper\n"))), "document.d pass"},
		{"gone", doc("papers/e.txt", sum("paper\n")), "document.d fail counts: papers/e.txt: no such file"},
		{"one byte", doc("papers/d.txt", sum("Paper\n")), "document.d fail counts: papers/d.txt was altered since it was attached: its SHA-256 is now " + sum("paper\n")},
		{"no digest", doc("papers/d.txt", ""), "document.d missing counts, needs document.d.sha256: the SHA-256 of papers/d.txt is " + sum("paper\n")},
		{"no digest, and gone", doc("papers/e.txt", ""), "document.d fail counts: papers/e.txt: no such file"},
		{"no file", doc("", sum("paper\n")), "document.d missing counts, needs document.d.file"},
		{"outside", doc("../d.txt", sum("paper\n")), "document.d fail counts: ../d.txt: leads outside the folder, where nothing is read"},
		{"outside by a link", doc("link.txt", sum("paper\n")), "document.d fail counts: link.txt: leads outside the folder, where nothing is read"},
		{"anywhere", doc("/etc/hostname", sum("paper\n")), "document.d fail counts: /etc/hostname: leads outside the folder, where nothing is read"},
		{"empty", doc("papers/empty.txt", sum("")), "document.d fail counts: papers/empty.txt: an empty file, which proves nothing"},
		{"the ledger itself", doc("papers/more.toml", sum("# more\n")), "document.d fail counts: papers/more.toml: a part of the ledger, which cannot prove what stands in it"},
		{"in capitals", doc("papers/MORE.TOML", sum("# more\n")), "document.d fail counts: papers/MORE.TOML: a part of the ledger, which cannot prove what stands in it"},
		{"a folder", doc("papers", sum("paper\n")), "document.d fail counts: papers: a folder, where a file is needed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := lay(t, map[string]string{"build.toml": c.build, "papers/d.txt": "paper\n", "papers/empty.txt": "", "papers/more.toml": "# more\n"})
			outside := filepath.Join(t.TempDir(), "d.txt")
			require.NoError(t, os.WriteFile(outside, []byte("paper\n"), 0o644))
			require.NoError(t, os.Symlink(outside, "link.txt"))
			assert.Equal(t, c.want, told(lint.Check(b, gaugePacks, lint.Options{AsOf: asOf}), "ledger/document"))
		})
	}
	t.Run("no folder", func(t *testing.T) {
		assert.NotPanics(t, func() { lint.Check(ledger.Phantoms(), gaugePacks, lint.Options{AsOf: asOf}) })
	})
}

func TestSignatures(t *testing.T) {
	build := head + "[part.a]\nname = \"A\"\nmass = \"9 lb\"\norder-as = \"a\"\n"
	now := lay(t, map[string]string{"build.toml": build})
	was := lay(t, map[string]string{"build.toml": strings.ReplaceAll(build, "9 lb", "8 lb")})
	sig := func(id, stage, by string, over *ledger.Build) string {
		digest := "sha1-abc"
		if over != nil {
			digest = over.SignedDigest(stage, by, "2026-05-01")
		}
		return fmt.Sprintf("[signature.%s]\nstage = %q\nby = %q\ndate = 2026-05-01\ndigest = %q\n", id, stage, by, digest)
	}
	gone := "not the ledger that June signed on 2026-05-01; compare the two, and sign again if it is right"
	for _, c := range []struct{ name, signatures, want string }{
		{"good", sig("a", "delivery", "June", now), "signature.a pass"},
		{"older ledger", sig("a", "delivery", "June", was), "signature.a fail counts: " + gone},
		{"of another stage, its stage edited", strings.Replace(sig("a", "intake", "June", now), "intake", "delivery", 1), "signature.a fail counts: " + gone},
		{"its name edited", strings.Replace(sig("a", "delivery", "Teo", now), "Teo", "June", 1), "signature.a fail counts: " + gone},
		{"its date edited", strings.Replace(sig("a", "delivery", "June", now), "05-01", "05-02", 1), "signature.a fail counts: " + strings.Replace(gone, "05-01", "05-02", 1)},
		{"another stage", sig("a", "road-test", "June", was), ""},
		{"signed again", sig("a", "delivery", "June", was) + sig("b", "delivery", "June", now), "signature.b pass"},
		{"another signed again", sig("a", "delivery", "June", was) + sig("b", "delivery", "Teo", now), "signature.a fail counts: " + gone + "\nsignature.b pass"},
		{"two", sig("a", "delivery", "June", now) + sig("b", "delivery", "Teo", now), "signature.a pass\nsignature.b pass"},
		{"nameless", "[signature.a]\nstage = \"delivery\"\ndigest = \"" + now.Digest() + "\"\n", "signature.a missing counts, needs signature.a.by, needs signature.a.date"},
		{"empty", "[signature.a]\nby = \"June\"\n", "signature.a missing counts, needs signature.a.date, needs signature.a.digest, needs signature.a.stage"},
		{"of another form", sig("a", "delivery", "June", nil), "signature.a fail counts: its digest is not of the form v2:..., which this program makes; sign again"},
	} {
		t.Run(c.name, func(t *testing.T) {
			rep := judge(t, ledger.AtDelivery, map[string]string{"build.toml": build, "signatures.toml": c.signatures})
			assert.Equal(t, c.want, told(rep, "ledger/signature"))
			assert.Equal(t, now.Digest(), rep.Digest(), "signatures are not in what is signed")
		})
	}
}
