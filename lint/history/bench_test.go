package history_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"

	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/lint/history"
	"fishplate/rules"
)

// heavy finds the plain masses in a file of the example.
var heavy = regexp.MustCompile(`(?m)^mass = "(\d+(?:\.\d+)?) lb`)

// long makes a repository of n commits of the example's van, each of which
// edits one mass, twelve hours apart.
func long(b *testing.B, n int) {
	b.Helper()
	b.Setenv("XDG_CACHE_HOME", filepath.Join(b.TempDir(), "cache"))
	files := map[string]string{}
	var names []string
	src := os.DirFS("../../examples/tamarack/builds/marten")
	require.NoError(b, fs.WalkDir(src, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(src, name)
		files[name] = string(text)
		if heavy.Match(text) {
			names = append(names, name)
		}
		return err
	}))
	shop, err := os.ReadFile("../../examples/tamarack/shop.toml")
	require.NoError(b, err)
	var in bytes.Buffer
	put := func(name, text string) { fmt.Fprintf(&in, "M 100644 inline %s\ndata %d\n%s\n", name, len(text), text) }
	for i := range n {
		fmt.Fprintf(&in, "commit refs/heads/main\ncommitter June Farrow <june@example.org> %d +0000\ndata <<END\nweigh %d\nEND\n", 1767261600+43200*i, i)
		if i == 0 {
			put("shop.toml", string(shop))
			for name, text := range files {
				put("marten/"+name, text)
			}
			continue
		}
		name := names[i%len(names)]
		at := heavy.FindAllStringSubmatchIndex(files[name], -1)
		m := at[i/len(names)%len(at)]
		was, err := strconv.ParseFloat(files[name][m[2]:m[3]], 64)
		require.NoError(b, err)
		files[name] = files[name][:m[2]] + fmt.Sprintf("%.2f", was*(0.9+0.05*float64(i%5))+0.01) + files[name][m[3]:]
		put("marten/"+name, files[name])
	}
	dir := b.TempDir()
	for _, args := range [][]string{{"init", "-q", "-b", "main"}, {"fast-import", "--quiet"}, {"gc", "-q"}} {
		cmd := exec.Command("git", args...)
		cmd.Dir = dir
		if args[0] == "fast-import" {
			cmd.Stdin = &in
		}
		out, err := cmd.CombinedOutput()
		require.NoError(b, err, string(out))
	}
	b.Chdir(dir)
}

// BenchmarkHistory of 1,000 commits of one build, beside git's own reading of
// the blobs. The aims on two cores: a figure in 4 s cold and 0.3 s warm, the
// verdicts in 20 s cold. What each costs in processor time, git's included, stands
// beside, in seconds.
func BenchmarkHistory(b *testing.B) {
	long(b, 1000)
	defer debug.SetGCPercent(debug.SetGCPercent(400)) // as the program does
	spent := func() (all float64) {
		for _, who := range []int{syscall.RUSAGE_SELF, syscall.RUSAGE_CHILDREN} {
			var u syscall.Rusage
			require.NoError(b, syscall.Getrusage(who, &u))
			all += float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
		}
		return all
	}
	run := func(name string, prepare func(*testing.B) func(*testing.B)) {
		b.Run(name, func(b *testing.B) {
			work := prepare(b)
			before := spent()
			for b.Loop() {
				work(b)
			}
			b.ReportMetric((spent()-before)/float64(b.N), "cpu-s/op")
		})
	}
	of := func(b *testing.B, cache *history.Cache) *history.Past {
		place, err := revision.Glance("HEAD:marten")
		require.NoError(b, err)
		b.Cleanup(func() { place.Close() })
		p, err := history.Of(place, rules.All(), lint.Options{}, cache)
		require.NoError(b, err)
		return p
	}
	var axle *lint.Rule
	for _, p := range rules.All() {
		for _, r := range p.Rules {
			if r.Name == "weight/front-axle" {
				axle = r
			}
		}
	}
	figure := func(b *testing.B, cache *history.Cache) {
		_, err := of(b, cache).Figures(axle, unit, nothing)
		require.NoError(b, err)
	}
	run("git", func(b *testing.B) func(*testing.B) {
		list, err := exec.Command("git", "rev-list", "--objects", "HEAD", "--", "marten", "shop.toml").Output()
		require.NoError(b, err)
		var ids strings.Builder
		for line := range strings.Lines(string(list)) {
			ids.WriteString(strings.Fields(line)[0] + "\n")
		}
		return func(b *testing.B) {
			cmd := exec.Command("git", "cat-file", "--batch")
			cmd.Stdin = strings.NewReader(ids.String())
			require.NoError(b, cmd.Run())
		}
	})
	run("figure cold", func(*testing.B) func(*testing.B) { return func(b *testing.B) { figure(b, nil) } })
	run("figure warm", func(b *testing.B) func(*testing.B) {
		figure(b, history.OpenCache(rules.All()))
		return func(b *testing.B) { figure(b, history.OpenCache(rules.All())) }
	})
	run("verdicts cold", func(*testing.B) func(*testing.B) {
		return func(b *testing.B) {
			_, err := of(b, nil).Verdicts(nothing)
			require.NoError(b, err)
		}
	})
}
