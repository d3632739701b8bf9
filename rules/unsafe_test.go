package rules_test

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/rules"
	"fishplate/rules/packtest"
)

// finished is the build that the variants are made of, and delivered the day
// that it is judged.
const (
	finished  = "../examples/tamarack/builds/heron"
	shopOf    = "../examples/tamarack/shop.toml"
	delivered = "2026-04-20"
)

// variant is the finished example with some edits: a dangerous one is held
// back at delivery, a sound one is let through.
type variant struct {
	name  string   // what was done to the vehicle, or left out
	by    []string // of a dangerous one: the rules that may hold it back; nil for any of substance
	edits []edit
}

// dangerous and sound are all the variants, by who works on them.
var (
	dangerous = slices.Concat(dangerousPapers, dangerousMechanical, dangerousElectrical, dangerousWires, dangerousFluids, dangerousBars, dangerousMoves, dangerousShop, dangerousOverlooked, dangerousGeometry)
	sound     = slices.Concat(soundPapers, soundMechanical, soundElectrical, soundWires, soundFluids, soundBars, soundMoves, soundShop, soundOverlooked, soundGeometry)
)

// formal are the rules that say only whether the papers go with the ledger.
// The variants' do; one that a formal rule alone holds back was not held back.
var formal = []string{"ledger/signature", "ledger/document", "paperwork/signed"}

// TestDangerousBuildsAreHeld: a clean run means a sound build.
func TestDangerousBuildsAreHeld(t *testing.T) {
	for _, v := range dangerous {
		t.Run(v.name, func(t *testing.T) {
			t.Parallel()
			held := false
			var told []string
			for _, r := range judged(t, v).Results {
				if r.Counts && !slices.Contains(formal, r.Rule.Name) {
					held = held || v.by == nil || slices.Contains(v.by, r.Rule.Name)
					told = append(told, packtest.Tell(r))
				}
			}
			assert.True(t, held, "let through, or held by another rule than %v:\n%s", v.by, strings.Join(told, "\n"))
		})
	}
}

// TestSoundBuildsPass: a false alarm costs trust.
func TestSoundBuildsPass(t *testing.T) {
	for _, v := range append([]variant{{name: "as it is"}}, sound...) {
		t.Run(v.name, func(t *testing.T) {
			t.Parallel()
			for _, r := range judged(t, v).Results {
				assert.False(t, r.Counts, "held by %s", packtest.Tell(r))
			}
		})
	}
}

// TestVariantsAreNamedOnce: two variants of one name are one too few.
func TestVariantsAreNamedOnce(t *testing.T) {
	seen := map[string]bool{}
	known := map[string]bool{}
	for _, p := range rules.Packs() {
		for _, r := range p.Rules {
			known[r.Name] = true
		}
	}
	for _, r := range lint.Own.Rules {
		known[r.Name] = true
	}
	for _, v := range slices.Concat(dangerous, sound) {
		assert.False(t, seen[v.name], "%s twice", v.name)
		seen[v.name] = true
		for _, rule := range v.by {
			assert.True(t, known[rule] && !slices.Contains(formal, rule), "%s: no rule of substance %s", v.name, rule)
		}
	}
}

// judged makes the variant in a folder of its own, signs it for delivery and
// judges it.
func judged(t *testing.T, v variant) *lint.Report {
	t.Helper()
	src := edited(t, v.edits)
	loader := ledger.NewKeeper()
	b, faults := loader.Load(src)
	require.Empty(t, faults)
	// The digest leaves the signatures out, so it is known before there is one.
	signature := fmt.Sprintf("[signature.delivery]\nstage = \"delivery\"\nby = \"June Farrow\"\ndate = %s\ndigest = %q\n",
		delivered, b.SignedDigest("delivery", "June Farrow", delivered))
	b, faults = loader.Load(src.With(map[string][]byte{"signatures.toml": []byte(signature)}))
	require.Empty(t, faults)
	delivery := ledger.AtDelivery
	rep := lint.Check(b, rules.Packs(), lint.Options{Stage: &delivery, AsOf: delivered})
	require.Empty(t, rep.Faults)
	return rep
}

// edited is the finished example with some edits, in a folder of its own.
func edited(t *testing.T, edits []edit) *revision.Build {
	t.Helper()
	l := &ledgerText{files: original(t)}
	for _, e := range edits {
		e(t, l)
	}
	dir := t.TempDir()
	for name, text := range l.files {
		file := filepath.Join(dir, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
		require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
	}
	place, err := revision.Open(dir)
	require.NoError(t, err)
	t.Cleanup(func() { place.Close() })
	builds, err := place.Builds()
	require.NoError(t, err)
	require.Len(t, builds, 1)
	return builds[0]
}

// build is the folder of the build, beside the shop's file.
const build = "build"

// read reads the finished example and its shop once, without its signatures.
var read = sync.OnceValues(func() (map[string]string, error) {
	shop, err := os.ReadFile(shopOf)
	files := map[string]string{"shop.toml": string(shop)}
	if err != nil {
		return nil, err
	}
	return files, fs.WalkDir(os.DirFS(finished), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.HasPrefix(name, "signatures/") {
			return err
		}
		text, err := os.ReadFile(filepath.Join(finished, name))
		files[build+"/"+name] = string(text)
		return err
	})
})

// original is a copy of the finished example's files.
func original(t *testing.T) map[string]string {
	files, err := read()
	require.NoError(t, err)
	out := map[string]string{}
	for name, text := range files {
		out[name] = text
	}
	return out
}
