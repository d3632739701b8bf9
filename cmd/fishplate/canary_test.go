package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/job"
	"fishplate/lint"
	"fishplate/lint/report"
	"fishplate/lint/report/drawing"
	"fishplate/rules"
)

// canary is a text that stands in a ledger only under a key of money, hours or
// the owner, and that no output but cost's may show.
var canary = regexp.MustCompile(`(^|[^0-9.])(48151|62342)|canary|Canary`) // no twelve digits of a sum hold them by chance

// canaryKeys are the keys that are of money, of hours or of the owner, as they
// stand in the ledger of the test.
var canaryKeys = map[string][]string{
	"build": {"quoted"}, "owner": {"name", "contact"}, "part": {"price", "sold-for"}, "hose": {"price"}, "work": {"hours", "spent", "price"}, "shop": {"rate"},
}

// layCanaries copies the example shop, and writes a canary under every key of
// money, hours or the owner that there is.
func layCanaries(t *testing.T) {
	t.Helper()
	examples, err := filepath.Abs("../../examples/tamarack")
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	require.NoError(t, os.CopyFS("shop", os.DirFS(examples)))
	require.NoError(t, os.MkdirAll("shop/.git", 0o755))
	require.NoError(t, os.WriteFile("shop/.git/HEAD", nil, 0o644))
	for _, build := range []string{"marten", "heron"} {
		dir := "shop/builds/" + build
		rewritten(t, dir, `(?m)^(price|sold-for|hours|spent|quoted) = .*\n`, "")
		rewritten(t, dir, `(?m)^\[owner\](\n[^\n\[][^\n]*)*`, "")
		rewritten(t, dir, `(?m)^\[build\]\n`, "[build]\nquoted = \"~48151 USD\"\n")
		rewritten(t, dir, `(?m)^(\[part\.[a-z0-9-]+\])\n`, "$1\nprice = \"~48151 USD\"\nsold-for = \"62342 USD\"\n")
		rewritten(t, dir, `(?m)^(\[hose\.[a-z0-9-]+\])\n`, "$1\nprice = \"~48151 USD\"\n")
		rewritten(t, dir, `(?m)^(\[work\.[a-z0-9-]+\])\n`, "$1\nprice = \"62342 USD\"\nhours = \"~48151 h\"\nspent = \"62342 h\"\n")
		text := "[owner]\nname = \"Canary Bird\"\ncontact = \"canary@example.org\"\n"
		require.NoError(t, os.WriteFile(dir+"/owner.toml", []byte(text), 0o644))
	}
	rewritten(t, "shop", `(?m)^rate = .*\n`, "")
	rewritten(t, "shop", `(?m)^\[shop\]\n`, "[shop]\nrate = \"48151 USD/h\"\n")
}

// rewritten replaces in the TOML files of a folder and of those below it.
func rewritten(t *testing.T, dir, find, by string) {
	t.Helper()
	require.NoError(t, filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".toml" {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		return os.WriteFile(path, regexp.MustCompile(find).ReplaceAll(text, []byte(by)), 0o644)
	}))
}

// TestCanaries: every command and every report, on ledgers with a canary under
// each key of money, hours or the owner. Only cost shows one.
func TestCanaries(t *testing.T) {
	for _, kind := range ledger.Kinds() { // a new key of this sort has to be in the test
		for _, k := range kind.Fields {
			if k.Private && k.Key != "vin" {
				assert.Contains(t, canaryKeys[kind.Name], k.Key, "%s.%s needs a canary", kind.Name, k.Key)
			}
		}
	}
	layCanaries(t)
	require.NoError(t, os.CopyFS("was", os.DirFS("shop")))
	rewritten(t, "was", `48151`, "48150")
	rewritten(t, "was", `62342`, "62341")
	rewritten(t, "was", `Canary Bird`, "Someone Else")
	marten, heron := "shop/builds/marten", "shop/builds/heron"
	require.NoError(t, os.WriteFile(marten+"/papers/new.txt", []byte("a photo\n"), 0o644))
	lines := []string{
		"fishplate check " + marten, "fishplate check --all " + marten, "fishplate check --advice " + heron, "fishplate check --about part.engine " + marten,
		"fishplate check --about owner " + marten, "fishplate check --about build " + marten, "fishplate check shop",
		"fishplate next " + marten, "fishplate next --all " + marten, "fishplate next --all " + heron, "fishplate next shop",
		"fishplate compare was/builds/marten " + marten, "fishplate compare --all was/builds/heron " + heron,
		"fishplate explain", "fishplate find 48151 shop", "fishplate find canary shop", "fishplate find bird shop", "fishplate find 62342 shop", "fishplate find pump shop",
		"fishplate explain owner " + marten, "fishplate explain build " + marten, "fishplate explain shop " + marten, "fishplate explain part.engine " + marten,
		"fishplate explain hose.radiator-top " + marten, "fishplate explain work.driveshaft " + marten,
		"fishplate sign " + marten + " --stage intake --by June_Farrow", "fishplate attach " + marten + " " + marten + "/papers/new.txt --kind photo",
		"fishplate explain owner " + marten + " --generate-bash-completion",
	}
	for _, l := range strings.Split(workedSolutions(t, marten), "\n") {
		assert.False(t, canary.MatchString(l), l)
	}
	for _, k := range report.Kinds {
		lines = append(lines, "fishplate check --all --report "+k.Name+" "+marten+" "+heron)
	}
	for _, k := range report.NextKinds {
		lines = append(lines, "fishplate next --all --report "+k.Name+" "+marten+" "+heron)
	}
	for _, k := range report.SheetKinds {
		lines = append(lines, "fishplate sheet --all --report "+k.Name+" "+marten)
	}
	for _, k := range report.CompareKinds {
		lines = append(lines, "fishplate compare --all --report "+k.Name+" was/builds/marten "+marten)
	}
	for _, k := range report.ListKinds {
		for _, list := range job.KindNames() {
			lines = append(lines, "fishplate list "+list+" --report "+k.Name+" shop")
		}
	}
	for _, k := range drawing.Names() {
		lines = append(lines, "fishplate draw "+k+" "+marten)
	}
	for _, k := range report.FindKinds {
		lines = append(lines, "fishplate find e --report "+k.Name+" shop")
	}
	for _, line := range lines {
		out := ran(line)
		assert.NotContains(t, out, "status 2", line)
		for _, l := range strings.Split(out, "\n") {
			if !strings.Contains(line, " find ") || !strings.Contains(l, "is in none of") { // it says again what was typed
				assert.False(t, canary.MatchString(l), "%s\n%s", line, l)
			}
		}
	}
	for _, k := range report.CostKinds {
		out := ran("fishplate cost --report " + k.Name + " " + marten)
		assert.Regexp(t, `62,?342|48,?151`, out, "cost shows money, or the test tests nothing")
		assert.NotRegexp(t, `[Cc]anary`, out, "and not whose it is")
	}
}

// ran is all that a command prints, to either side.
func ran(line string) string {
	var out, errs bytes.Buffer
	p := real(&out, &errs)
	status := run(strings.Fields(line), p)
	return fmt.Sprint(out.String(), errs.String(), "status ", status)
}

// workedSolutions is what explain prints of every rule on a build, read once.
func workedSolutions(t *testing.T, build string) string {
	t.Helper()
	var out, errs bytes.Buffer
	p := real(&out, &errs)
	rep, err := p.theBuild(build, lint.Options{Today: p.today})
	require.NoError(t, err)
	for _, pack := range rules.Packs() {
		for _, r := range pack.Rules {
			var mine []*lint.Result
			for _, c := range rep.Results {
				if c.Rule.Name == r.Name {
					mine = append(mine, c)
				}
			}
			require.NoError(t, report.Worked(&out, report.Options{}, rep, r, mine, func(*lint.Result) []lint.Proposal { return nil }))
		}
	}
	return out.String()
}
