package rules_test

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/rules"
)

// told is what the checks of a report came to, without the lines that they stand on,
// which are those of an earlier time where a rule was not run again.
func told(rep *lint.Report) []string {
	var out []string
	for _, f := range slices.Concat(rep.Faults, rep.Notes) {
		out = append(out, f.Message)
	}
	for _, r := range rep.Results {
		line := fmt.Sprintf("%q %s %s %t %t %s %q %q %s %s %s", r.Key(), r.Verdict, r.Underlying, r.Counts, r.Should, r.Due, r.Reason, r.Settled,
			r.Value.Spelling(), figure(r.Margin), figure(r.Limit))
		for _, n := range r.Needs {
			line += " " + n.Key
		}
		out = append(out, line)
	}
	return out
}

func figure(q quantity.Quantity) string {
	if !q.Known() {
		return "missing"
	}
	low, high := q.Forward()
	return fmt.Sprint(q.Value(), low, high)
}

// figuresOfEachKind are the lines of a few figures of each kind of entry in a build.
func figuresOfEachKind(b *ledger.Build, rnd *rand.Rand) []quantity.Place {
	by := map[string][]quantity.Place{}
	for _, e := range b.Entries() {
		for _, v := range e.Values() {
			if !e.Shop && (v.Type == "quantity" || v.Type == "number" || v.Type == "date") {
				by[e.Kind] = append(by[e.Kind], v.Place)
			}
		}
	}
	var out []quantity.Place
	for _, kind := range slices.Sorted(maps.Keys(by)) {
		for _, i := range rnd.Perm(len(by[kind]))[:min(2, len(by[kind]))] {
			out = append(out, by[kind][i])
		}
	}
	return out
}

// TestCheckAgain: after edit upon edit of the example, what runs only the rules that
// looked at what changed comes to what running all does, on another day each time.
func TestCheckAgain(t *testing.T) {
	if testing.Short() {
		t.Skip("checks the example many times")
	}
	rnd := rand.New(rand.NewPCG(17, 2026))
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, os.DirFS("../examples/tamarack")))
	build, err := revision.OpenBelow(dir, filepath.Join(dir, "builds/marten"))
	require.NoError(t, err)
	names, err := filepath.Glob(filepath.Join(dir, "builds/marten/*.toml"))
	require.NoError(t, err)
	text := map[string]string{}
	for _, name := range names {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		text[filepath.Base(name)] = string(data)
	}
	keeper := ledger.NewKeeper()
	var before *lint.Judged
	spared := 0
	places := figuresOfEachKind(keeper.Read(build), rnd)
	for round, at := range places {
		name := filepath.Base(at.File)
		was := text[name]
		lines := strings.SplitAfter(was, "\n")
		i := at.Line - 1
		lines[i] = strings.Map(func(c rune) rune {
			if '0' <= c && c <= '8' {
				return c + 1
			}
			return c
		}, lines[i])
		text[name] = strings.Join(lines, "")
		contents := map[string][]byte{}
		for n, s := range text {
			contents[n] = []byte(s)
		}
		b := keeper.Read(build.With(contents))
		if len(b.Faults) > 0 {
			text[name] = was
			continue
		}
		opt := lint.Options{Today: fmt.Sprintf("2026-11-%02d", 1+round%28)}
		again := lint.CheckAgain(before, b, rules.Packs(), opt, before != nil)
		whole := lint.Check(ledger.NewLoader().Read(build.With(contents)), rules.Packs(), opt)
		want, got := told(whole), told(again.Report)
		for n := range min(len(want), len(got)) {
			require.Equal(t, want[n], got[n], "round %d: %s line %d: %s", round, name, i+1, lines[i])
		}
		require.Equal(t, len(want), len(got), "round %d: %s line %d", round, name, i+1)
		if before != nil {
			old := map[string]*lint.Result{}
			for _, r := range before.Results {
				old[r.Key()] = r
			}
			for _, r := range again.Results {
				if o := old[r.Key()]; o != nil && r.SameRun(o) {
					spared++
				}
			}
		}
		before = again
	}
	assert.Greater(t, spared, 5_000, "few checks were spared")
}
