package rules_test

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/lint/compare"
	"fishplate/lint/report"
	"fishplate/rules"
)

const winch = "../examples/tamarack/changes/winch/"

func openBuild(t testing.TB, name string) *revision.Build {
	place, err := revision.Open(name)
	require.NoError(t, err)
	t.Cleanup(func() { place.Close() })
	builds, err := place.Builds()
	require.NoError(t, err)
	require.Len(t, builds, 1)
	return builds[0]
}

func changeOf(c *compare.Comparison, rule, entry string) *compare.Change {
	for _, x := range c.Changes {
		if x.Rule.Name == rule && x.Entry == entry {
			return x
		}
	}
	return nil
}

// requireWinch: the winch breaks the front axle. By hand, each mass at x behind
// the front axle on a wheelbase of 129 in puts m (1 - x/L) on it: the bumper
// 142 (1 + 37/129), the winch 86 (1 + 36/129), the batteries 114 moved by 86 in,
// and the old bumper took 46 (1 + 34/129) with it.
func requireWinch(t *testing.T, c *compare.Comparison) {
	require.False(t, c.Unread(), "%v %v", c.Before.Faults, c.After.Faults)
	require.True(t, c.Failed())
	x := changeOf(c, "weight/front-axle", "vehicle.front")
	require.Equal(t, compare.Worse, x.Kind)
	require.Equal(t, lint.Pass, x.Before.Verdict)
	require.Equal(t, lint.Fail, x.After.Verdict)
	want := map[string]float64{"part.winch-bumper": -142 * (1 + 37.0/129), "part.winch": -86 * (1 + 36.0/129), "part.battery": -114 * 86.0 / 129, "part.front-bumper": 46 * (1 + 34.0/129)}
	sum := x.Together
	require.Len(t, x.Causes, len(want))
	for _, cause := range x.Causes {
		require.InDelta(t, want[cause.Entry], cause.Share/0.45359237, 1e-9, cause.Entry)
		require.True(t, strings.HasSuffix(cause.Place.File, "after/chassis.toml") || strings.HasSuffix(cause.Place.File, "winch/chassis.toml"), cause.Place.File)
		sum += cause.Share
	}
	require.InDelta(t, x.Delta, sum, 1e-9)
	var out bytes.Buffer
	w := report.CompareText(&out, report.Options{})
	require.NoError(t, w.Compare(c))
	block := out.String()[strings.Index(out.String(), "weight/front-axle"):]
	got := regexp.MustCompile(`(?m)^ +margin (\S+ lb)|^ +([-+]\d+ lb)  (\S+)`).FindAllStringSubmatch(block[:regexp.MustCompile(`\n\S`).FindStringIndex(block)[0]], -1)
	require.Equal(t, "-311 lb", got[0][1])
	var lines []string
	for _, g := range got[1:] {
		lines = append(lines, g[2]+" "+g[3])
	}
	require.Equal(t, []string{"-183 lb part.winch-bumper", "-110 lb part.winch", "-76 lb part.battery", "+58 lb part.front-bumper"}, lines)
}

func TestWinch(t *testing.T) {
	requireWinch(t, compare.Sources(openBuild(t, winch+"before"), openBuild(t, winch+"after"), rules.Packs(), lint.Options{Today: "2026-11-20"}))
}

// twoRevisions puts the example under git and gives it before and after.
func twoRevisions(t testing.TB) (before, after string) {
	if _, err := exec.LookPath("git"); err != nil {
		t.Skip("no git")
	}
	dir := t.TempDir()
	git := func(args ...string) {
		c := exec.Command("git", append([]string{"-C", dir}, args...)...)
		c.Env = append(os.Environ(), "GIT_CONFIG_GLOBAL=/dev/null", "GIT_CONFIG_SYSTEM=/dev/null", "GIT_AUTHOR_NAME=Ann", "GIT_AUTHOR_EMAIL=ann@example.org",
			"GIT_COMMITTER_NAME=Ann", "GIT_COMMITTER_EMAIL=ann@example.org", "GIT_AUTHOR_DATE=2026-01-02T03:04:05Z", "GIT_COMMITTER_DATE=2026-01-02T03:04:05Z")
		out, err := c.CombinedOutput()
		require.NoError(t, err, string(out))
	}
	git("init", "-q", "-b", "main")
	shop, err := os.ReadFile("../examples/tamarack/shop.toml")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "shop.toml"), shop, 0o644))
	for _, side := range []string{"before", "after"} {
		require.NoError(t, os.RemoveAll(filepath.Join(dir, "winch")))
		require.NoError(t, os.CopyFS(filepath.Join(dir, "winch"), os.DirFS(winch+side)))
		git("add", "-A")
		git("commit", "-q", "-m", side)
	}
	t.Chdir(dir)
	return "HEAD~1:winch", "HEAD:winch"
}

// Of two git revisions it is the same, as of the newer one's date.
func TestWinchOfRevisions(t *testing.T) {
	a, b := twoRevisions(t)
	c := compare.Sources(openBuild(t, a), openBuild(t, b), rules.Packs(), lint.Options{Today: "2030-01-01"})
	require.Equal(t, "2026-01-02", c.After.AsOf)
	require.Equal(t, "2026-01-02", c.Before.AsOf)
	requireWinch(t, c)
}

// Two different builds can be compared: all that one has and the other lacks
// is told, the shares add up, and no rule breaks on a mix of the two.
func TestTwoBuilds(t *testing.T) {
	if testing.Short() {
		t.Skip("half a minute of one goroutine")
	}
	a, b := openBuild(t, "../examples/tamarack/builds/marten"), openBuild(t, "../examples/tamarack/builds/heron")
	c := compare.Sources(a, b, rules.Packs(), lint.Options{AsOf: "2026-11-20"})
	require.False(t, c.Unread(), "%v %v", c.Before.Faults, c.After.Faults)
	require.NotEmpty(t, c.Changes)
	for _, x := range c.Changes {
		if math.IsNaN(x.Delta) {
			continue
		}
		sum := x.Together
		for _, cause := range x.Causes {
			if !math.IsNaN(cause.Share) {
				sum += cause.Share
			}
		}
		require.InEpsilon(t, 1+x.Delta, 1+sum, 1e-6, "%s %s", x.Rule.Name, x.Entry)
	}
}

// A mix of nothing passes and fails as the one build does, of everything as
// the other.
func TestMixIsJudgedAlike(t *testing.T) {
	for _, pair := range [][2]string{{winch + "before", winch + "after"}, {"../examples/tamarack/builds/marten", "../examples/tamarack/builds/heron"}} {
		l := ledger.NewLoader()
		a, faults := l.Load(openBuild(t, pair[0]))
		require.Empty(t, faults)
		b, faults := l.Load(openBuild(t, pair[1]))
		require.Empty(t, faults)
		judged := func(b *ledger.Build) map[string]float64 {
			out := map[string]float64{}
			for _, r := range lint.Check(b, rules.Packs(), lint.Options{AsOf: "2026-11-20"}).Results {
				if r.Rule.Check == nil {
					continue
				}
				margin := 0.0
				if r.Margin.Known() {
					margin = r.Margin.Value()
				}
				out[r.Verdict.String()+" "+r.Key()+" "+r.Reason] = margin
			}
			return out
		}
		units := ledger.Differences(a, b)
		require.Equal(t, judged(a), judged(a.Mix(b, nil)))
		require.Equal(t, judged(b), judged(a.Mix(b, units)))
		require.Equal(t, judged(a), judged(b.Mix(a, units)))
	}
}

// BenchmarkCompare compares two revisions beside the two checks that it makes
// anyway.
func BenchmarkCompare(b *testing.B) {
	x, y := twoRevisions(b)
	opt := lint.Options{Today: "2026-11-20"}
	b.Run("two-checks", func(b *testing.B) {
		for b.Loop() {
			lint.Run([]*revision.Build{openBuild(b, x), openBuild(b, y)}, rules.Packs(), opt, func(*lint.Report) {})
		}
	})
	b.Run("compare", func(b *testing.B) {
		for b.Loop() {
			require.True(b, compare.Sources(openBuild(b, x), openBuild(b, y), rules.Packs(), opt).Failed())
		}
	})
}

// Digits alone are no change: a figure written out to another digit moves no
// check and has no share in one, and is told as better known.
func TestDigitsAlone(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, os.DirFS("../examples/tamarack")))
	require.NoError(t, os.Mkdir(filepath.Join(dir, ".git"), 0o755)) // the top, up to which the shop's file has a say
	chassis := filepath.Join(dir, "changes/winch/after/chassis.toml")
	require.NoError(t, os.RemoveAll(filepath.Join(dir, "changes/winch/after")))
	require.NoError(t, os.CopyFS(filepath.Join(dir, "changes/winch/after"), os.DirFS(winch+"before")))
	text, err := os.ReadFile(chassis)
	require.NoError(t, err)
	finer := strings.Replace(strings.Replace(string(text), `"-34 in"`, `"-34.0 in"`, 1), `mass = "57 lb"`, `mass = "57.0 lb"`, 1)
	require.NoError(t, os.WriteFile(chassis, []byte(finer), 0o644))
	c := compare.Sources(openBuild(t, dir+"/changes/winch/before"), openBuild(t, dir+"/changes/winch/after"), rules.Packs(), lint.Options{Today: "2026-11-20"})
	require.False(t, c.Unread())
	require.Len(t, c.Edits, 2)
	require.NotEmpty(t, c.Changes)
	for _, x := range c.Changes {
		require.Equal(t, compare.Drifted, x.Kind)
		require.Empty(t, x.Causes, x.Rule.Name)
		require.True(t, math.IsNaN(x.Delta) || x.Delta == 0, x.Rule.Name)
	}
	var out bytes.Buffer
	require.NoError(t, report.CompareText(&out, report.Options{}).Compare(c))
	require.Contains(t, out.String(), "better known")
	require.NotContains(t, out.String(), "less well known")
}
