package rules_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/lint/report"
	"fishplate/rules"
)

// change edits one file of a build: a line is taken away, doubled, cut short or
// moved to another file, a digit is another; the shop's file too.
func change(rnd *rand.Rand, text map[string]string, names []string) {
	name := names[rnd.IntN(len(names))]
	lines := strings.SplitAfter(text[name], "\n")
	i := rnd.IntN(len(lines))
	switch rnd.IntN(6) {
	case 0:
		lines[i] = ""
	case 1:
		lines[i] += lines[i]
	case 2:
		lines[i] = lines[i][:len(lines[i])/2] + "\n"
	case 3: // the same entry then stands in two files
		at := i
		for at > 0 && !strings.HasPrefix(lines[at], "[") {
			at--
		}
		other := names[rnd.IntN(len(names))]
		if strings.HasPrefix(lines[at], "[") && other != name && filepath.Base(other) != "shop.toml" {
			text[other] += "\n" + strings.TrimRight(lines[at], "\n") + "\nnote = \"moved\"\n"
		}
	default:
		lines[i] = strings.Map(func(c rune) rune {
			if '0' <= c && c <= '8' && rnd.IntN(2) == 0 {
				return c + 1
			}
			return c
		}, lines[i])
	}
	text[name] = strings.Join(lines, "")
}

// toldOf is all that a program is told of a build: faults, digest, and every check
// with its place.
func toldOf(t *testing.T, l *ledger.Loader, dir string) string {
	t.Helper()
	place, err := revision.Open(filepath.Join(dir, "van"))
	require.NoError(t, err)
	defer place.Close()
	builds, err := place.Builds()
	require.NoError(t, err)
	b := l.Read(builds[0])
	var out bytes.Buffer
	rep := lint.Check(b, rules.Packs(), lint.Options{Today: "2026-11-20"})
	for _, f := range rep.Faults {
		fmt.Fprintln(&out, f)
	}
	for _, e := range b.Entries() {
		fmt.Fprintln(&out, e.Path(), e.Place)
	}
	w := report.JSON(&out, report.Options{All: true})
	require.NoError(t, w.Build(rep))
	return out.String()
}

// TestKeeper: a loader that keeps what did not change reads a build, edit
// after edit, as one that reads it for the first time.
func TestKeeper(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 2026))
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(filepath.Join(dir, "van"), os.DirFS("../examples/tamarack/builds/marten")))
	shop, err := os.ReadFile("../examples/tamarack/shop.toml")
	require.NoError(t, err)
	first := map[string]string{filepath.Join(dir, "shop.toml"): string(shop)}
	found, err := filepath.Glob(filepath.Join(dir, "van", "*.toml"))
	require.NoError(t, err)
	for _, name := range found {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		first[name] = string(data)
	}
	names := append(found, filepath.Join(dir, "shop.toml"))
	lay := func(text map[string]string) {
		for name, s := range text {
			require.NoError(t, os.WriteFile(name, []byte(s), 0o600))
		}
	}
	keeper := ledger.NewKeeper()
	text := map[string]string{}
	for round := range 24 {
		if round%6 == 0 { // what was wrong is put right again
			for name, s := range first {
				text[name] = s
			}
		} else {
			change(rnd, text, names)
		}
		lay(text)
		require.Equal(t, toldOf(t, ledger.NewLoader(), dir), toldOf(t, keeper, dir), "after edit %d", round)
	}
}

// BenchmarkKeeper reads a build of which one file changed, kept and anew.
func BenchmarkKeeper(b *testing.B) {
	dir := b.TempDir()
	require.NoError(b, os.CopyFS(dir, os.DirFS("../examples/tamarack/builds/marten")))
	name := filepath.Join(dir, "gaps.toml")
	data, err := os.ReadFile(name)
	require.NoError(b, err)
	place, err := revision.Open(dir)
	require.NoError(b, err)
	defer place.Close()
	for what, l := range map[string]*ledger.Loader{"kept": ledger.NewKeeper(), "anew": ledger.NewLoader()} {
		b.Run(what, func(b *testing.B) {
			for i := 0; b.Loop(); i++ {
				require.NoError(b, os.WriteFile(name, fmt.Appendf(data, "# %d\n", i), 0o600))
				builds, err := place.Builds()
				require.NoError(b, err)
				l.Read(builds[0])
			}
		})
	}
}
