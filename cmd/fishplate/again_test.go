package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/rules"
)

// begun is a build that start --from began from heron, and what it printed.
func begun(t *testing.T) (dir, screen string) {
	t.Helper()
	shop := t.TempDir()
	require.NoError(t, os.CopyFS(shop, os.DirFS("../../examples/tamarack")))
	require.NoError(t, os.Mkdir(filepath.Join(shop, ".git"), 0o755)) // the top, up to which the shop's file has a say
	t.Chdir(shop)
	var out, bad bytes.Buffer
	status := run([]string{"fishplate", "start", "--from", "builds/heron", "builds/plover"}, &program{out: &out, err: &bad})
	require.Zero(t, status, bad.String())
	return "builds/plover", out.String()
}

func loaded(t *testing.T, dir string) *ledger.Build {
	t.Helper()
	place, err := revision.Open(dir)
	require.NoError(t, err)
	defer place.Close()
	builds, err := place.Builds()
	require.NoError(t, err)
	b, faults := ledger.NewLoader().Load(builds[0])
	require.Empty(t, faults)
	return b
}

// What was read, signed, tested, paid or owned stays with the first vehicle, and
// the design comes along.
func TestStartFromLeaves(t *testing.T) {
	dir, _ := begun(t)
	b, heron := loaded(t, dir), loaded(t, "builds/heron")
	assert.Equal(t, ledger.AtIntake, b.Stage())
	assert.Equal(t, "builds/heron", b.Info().From.String(), "no revision outside of git")
	for _, kind := range []string{"owner", "weighing", "test", "document", "signature", "waiver", "visit", "answer", "donor"} {
		for _, e := range b.Entries() {
			assert.NotEqual(t, kind, e.Kind, e.Path())
		}
	}
	for _, e := range b.Entries() {
		for _, v := range e.Values() {
			if !e.Shop {
				assert.NotEqual(t, "date", v.Type, "%s.%s", e.Path(), v.Key)
				assert.NotContains(t, []string{"price", "sold-for", "quoted", "spent"}, v.Key, e.Path())
				assert.NotContains(t, []string{"vin", "fate", "found", "reading"}, v.Key, e.Path())
			}
		}
	}
	for _, of := range [][2]int{{len(heron.Parts()), len(b.Parts())}, {len(heron.Circuits()), len(b.Circuits())}, {len(heron.Hoses()), len(b.Hoses())},
		{len(heron.Plugs()), len(b.Plugs())}, {len(heron.Gaps()), len(b.Gaps())}, {len(heron.Works()), len(b.Works())}, {len(heron.Decisions()), len(b.Decisions())}} {
		assert.Equal(t, of[0], of[1])
	}
	text := ""
	require.NoError(t, filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			data, _ := os.ReadFile(path)
			text += string(data)
		}
		return err
	}))
	for _, secret := range []string{"590 USD", "27800 USD", "Tornquist", "TFH129-4R-20917", "DRC22-9130458", "v2:", "sha256"} {
		assert.NotContains(t, text, secret)
	}
	assert.Contains(t, text, `# of heron: gross-rating = "9200 lb"`)
	assert.Contains(t, text, `measured = "~1 7/8 ± 1 in" # read on heron: 1 7/8 ± 1/16 in`, "a tenth of it is less than an inch")
	assert.Contains(t, text, `track = "~66.5 in" # read on heron: 66.5 in`, "a tenth of it is more")
}

// Nothing passes on a figure of the other vehicle: with each such figure taken
// out no check that passed is left without it.
func TestStartFromIsGreenNowhere(t *testing.T) {
	dir, screen := begun(t)
	assert.Contains(t, screen, "What to read first: fishplate check builds/plover")
	b := loaded(t, dir)
	rep := lint.Check(b, rules.Packs(), lint.Options{Today: "2026-11-26"})
	require.Empty(t, rep.Faults)
	reads := 0
	for _, r := range rep.Results {
		for _, n := range r.Needs {
			if strings.HasPrefix(n.Key, "gap.") {
				reads++
			}
		}
		if r.Verdict != lint.Pass {
			continue
		}
		assert.False(t, r.Rule.Name == "clearance/gap" && r.Aspect == "", r.Subject())
		assert.NotContains(t, []string{"clearance/remeasured", "paperwork/measured", "paperwork/renewed", "paperwork/torqued", "paperwork/signed", "weight/front-axle", "weight/rear-axle", "weight/gross", "driveline/remeasured", "brakes/stopping"}, r.Rule.Name, r.Subject())
		for _, e := range b.Entries() {
			for _, n := range b.ReadOnAnother(e.Path()) {
				assert.NotContains(t, used(r), n.Key, "%s %s", r.Rule.Name, r.Subject())
			}
		}
	}
	assert.NotZero(t, reads, "it says which gaps to read")

	// The same ledger without the note of where it began is judged as any other:
	// there some would pass on another vehicle's tape.
	path := filepath.Join(dir, ledger.MainFile)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, bytes.Replace(text, []byte(`from = "builds/heron"`), nil, 1), 0o644))
	own := lint.Check(loaded(t, dir), rules.Packs(), lint.Options{Today: "2026-11-26"})
	assert.Greater(t, own.Counts()[lint.Pass], rep.Counts()[lint.Pass])
}

// used are the keys of the ledger that a check's figures rest on.
func used(r *lint.Result) []string {
	var out []string
	for _, l := range append(r.Value.Leaves(), append(r.Limit.Leaves(), r.Upper.Leaves()...)...) {
		if l.Source() != nil {
			out = append(out, l.Source().Path())
		}
	}
	return out
}

// A copy is refused where it would lie over something, or in a build.
func TestStartFromRefuses(t *testing.T) {
	dir, _ := begun(t)
	for _, to := range []string{dir, "builds/heron/again"} {
		var out, bad bytes.Buffer
		assert.Equal(t, 2, run([]string{"fishplate", "start", "--from", "builds/heron", to}, &program{out: &out, err: &bad}), to)
		assert.NotEmpty(t, bad.String())
	}
}
