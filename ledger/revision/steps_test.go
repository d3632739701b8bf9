package revision

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestSteps: the commits of a build are those that git itself lists for its
// folder and the shop's file, by first parents.
func TestSteps(t *testing.T) {
	for _, format := range []string{"sha1", "sha256"} {
		t.Run(format, func(t *testing.T) {
			dir := repository(t, "--object-format="+format)
			write(t, dir, "shop.toml", "one", "builds/van/build.toml", "0", "builds/other/build.toml", "0")
			commitAll(t, dir)
			for i := range 5 {
				write(t, dir, "builds/van/parts/x.toml", fmt.Sprint(i), "builds/other/build.toml", fmt.Sprint(i))
				commitAll(t, dir)
				write(t, dir, "builds/other/build.toml", fmt.Sprint("other", i))
				commitAll(t, dir)
			}
			write(t, dir, "shop.toml", "two")
			commitAll(t, dir)
			sh(t, dir, "checkout", "-q", "-b", "branch")
			for i := range 3 {
				write(t, dir, "builds/van/parts/y.toml", fmt.Sprint(i))
				commitAll(t, dir)
			}
			sh(t, dir, "checkout", "-q", "main")
			write(t, dir, "README", "x")
			commitAll(t, dir)
			sh(t, dir, "merge", "-q", "--no-ff", "-m", "take it in", "branch")
			sh(t, dir, "branch", "done")
			want := strings.Fields(sh(t, dir, "rev-list", "--reverse", "--first-parent", "HEAD", "--", "builds/van", "shop.toml"))
			require.Len(t, want, 8)
			t.Chdir(filepath.Join(dir, "builds"))
			for _, arg := range []string{"HEAD:van", "HEAD:builds/van", "done:../builds/van"} {
				steps, short, err := glance(t, arg).Steps()
				require.NoError(t, err)
				assert.False(t, short)
				var got []string
				for _, s := range steps {
					got = append(got, s.ID)
					build, err := s.Build()
					require.NoError(t, err)
					assert.Equal(t, sh(t, dir, "show", s.ID+":builds/van/build.toml"), read1(t, build, "build.toml"))
					assert.Equal(t, sh(t, dir, "rev-parse", s.ID+":builds/van"), s.Tree)
					_, shop, _, err := shopOf(build)
					require.NoError(t, err)
					assert.Equal(t, sh(t, dir, "show", s.ID+":shop.toml"), string(shop))
				}
				assert.Equal(t, want, got, arg)
				assert.Equal(t, "A. Fitter", steps[0].Author)
				assert.Equal(t, "take it in", steps[7].About)
			}
			// A build that was away for a while is told as such.
			require.NoError(t, os.RemoveAll(filepath.Join(dir, "builds/van")))
			commitAll(t, dir)
			write(t, dir, "builds/van/build.toml", "back")
			commitAll(t, dir)
			steps, _, err := glance(t, "HEAD:van").Steps()
			require.NoError(t, err)
			require.Len(t, steps, 10)
			assert.Empty(t, steps[8].Tree)
			assert.NotEmpty(t, steps[9].Tree)

			clone := filepath.Join(canonical(t, t.TempDir()), "clone")
			sh(t, dir, "clone", "-q", "--depth", "1", "file://"+dir, clone)
			t.Chdir(clone)
			steps, short, err := glance(t, "HEAD:builds/van").Steps()
			require.NoError(t, err)
			assert.True(t, short)
			assert.Len(t, steps, 1)
		})
	}
}

// TestNoGrafts: a graft takes no commit out of a history.
func TestNoGrafts(t *testing.T) {
	dir := repository(t)
	for i := range 4 {
		write(t, dir, "van/build.toml", fmt.Sprint(i))
		commitAll(t, dir)
	}
	graft := sh(t, dir, "rev-parse", "HEAD") + " " + sh(t, dir, "rev-parse", "HEAD~2") + "\n"
	write(t, dir, ".git/info/grafts", graft)
	require.Len(t, strings.Fields(sh(t, dir, "-c", "advice.graftFileDeprecated=false", "rev-list", "HEAD")), 3, "the graft does not hold, so this test would prove nothing")
	t.Chdir(dir)
	steps, _, err := glance(t, "HEAD:van").Steps()
	require.NoError(t, err)
	assert.Len(t, steps, 4)
}

// TestStepsOfRules: rules beside the shop's file make a step, what tries them makes
// none, and where one is a link so does what it leads to.
func TestStepsOfRules(t *testing.T) {
	dir := repository(t)
	write(t, dir, "shop.toml", "one", "builds/van/build.toml", "0", "trials/near/build.toml", "0", "common/shared.toml", "0")
	commitAll(t, dir)
	var want []string
	step := func(counts bool) {
		t.Helper()
		commitAll(t, dir)
		if counts {
			want = append(want, strings.TrimSpace(sh(t, dir, "rev-parse", "HEAD")))
		}
		steps, _, err := glance(t, "HEAD:builds/van").Steps()
		require.NoError(t, err)
		var got []string
		for i, s := range steps[1:] {
			got = append(got, s.ID)
			assert.NotEqual(t, steps[i].Shop, s.Shop)
			assert.Equal(t, steps[i].Tree, s.Tree)
			b, err := s.Build()
			require.NoError(t, err)
			shop, err := b.Shop()
			require.NoError(t, err)
			var rules []string
			for _, r := range shop.Rules {
				rules = append(rules, string(r.Content))
			}
			shop, err = one(t, s.ID+":builds/van").Shop()
			require.NoError(t, err)
			require.Len(t, shop.Rules, len(rules))
			for i, r := range shop.Rules {
				assert.Equal(t, string(r.Content), rules[i])
			}
		}
		assert.Equal(t, want, got)
	}
	write(t, dir, "rules/axles.toml", "added")
	step(true)
	write(t, dir, "rules/axles.toml", "edited", "rules/wheels.toml", "added")
	step(true)
	write(t, dir, "rules/README", "no rules", "trials/near/build.toml", "1", "trials/far/build.toml", "0", "builds/other/build.toml", "0")
	step(false)
	require.NoError(t, os.Remove(filepath.Join(dir, "rules/wheels.toml")))
	step(true)
	write(t, dir, "common/shared.toml", "nobody's yet")
	step(false)
	link(t, dir, "../common/shared.toml", "rules/shared.toml")
	step(true)
	write(t, dir, "common/shared.toml", "edited")
	step(true)
	write(t, dir, "README", "of no account")
	step(false)
}

// TestStepsOfMoved: a build is followed to the folders that it was moved from, as
// git's own log --follow does for its files; a copy, and a build that has little in
// common with the one that went, begin where they are.
func TestStepsOfMoved(t *testing.T) {
	dir := repository(t)
	write(t, dir, "shop.toml", "one", "builds/first/build.toml", "0", "builds/first/parts.toml", "0", "builds/first/papers.toml", "0", "builds/other/build.toml", "1")
	commitAll(t, dir)
	write(t, dir, "builds/first/build.toml", "1")
	commitAll(t, dir)
	write(t, dir, "builds/other/build.toml", "2")
	commitAll(t, dir)
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "done/2026"), 0o755))
	require.NoError(t, os.Rename(filepath.Join(dir, "builds/first"), filepath.Join(dir, "builds/second")))
	commitAll(t, dir)
	write(t, dir, "shop.toml", "two")
	commitAll(t, dir)
	require.NoError(t, os.Rename(filepath.Join(dir, "builds/second"), filepath.Join(dir, "done/2026/third")))
	write(t, dir, "done/2026/third/build.toml", "edited as it was moved", "done/shop.toml", "another")
	commitAll(t, dir)
	write(t, dir, "done/2026/third/build.toml", "2")
	commitAll(t, dir)
	folders := func(arg string) (out []string) {
		steps, _, err := glance(t, arg).Steps()
		require.NoError(t, err)
		for _, s := range steps {
			b, err := s.Build()
			require.NoError(t, err)
			_, shop, _, err := shopOf(b)
			require.NoError(t, err)
			out = append(out, strings.TrimSpace(s.at+" "+read1(t, b, "build.toml")+" "+string(shop)+" "+s.From))
			assert.Equal(t, sh(t, dir, "show", s.ID+":"+s.at+"/build.toml"), read1(t, b, "build.toml"))
		}
		return out
	}
	want := []string{
		"builds/first 0 one", "builds/first 1 one", "builds/second 1 one builds/first", "builds/second 1 two",
		"done/2026/third edited as it was moved another builds/second", "done/2026/third 2 another",
	}
	assert.Equal(t, want, folders("HEAD:done/2026/third"))
	assert.Equal(t, want[:4], folders("HEAD~2:builds/second"))
	ids := strings.Fields(sh(t, dir, "log", "--follow", "--format=%H", "--", "done/2026/third/parts.toml"))
	steps, _, err := glance(t, "HEAD:done/2026/third").Steps()
	require.NoError(t, err)
	assert.Equal(t, []string{ids[2], ids[1], ids[0]}, []string{steps[0].ID, steps[2].ID, steps[4].ID}, "where the file that was never edited went")

	require.NoError(t, os.CopyFS(filepath.Join(dir, "builds/copy"), os.DirFS(filepath.Join(dir, "done/2026/third"))))
	commitAll(t, dir)
	assert.Equal(t, []string{"builds/copy 2 two"}, folders("HEAD:builds/copy"))
	require.NoError(t, os.RemoveAll(filepath.Join(dir, "builds/copy")))
	write(t, dir, "builds/new/build.toml", "3", "builds/new/parts.toml", "3", "builds/new/papers.toml", "0")
	commitAll(t, dir)
	assert.Equal(t, []string{"builds/new 3 two"}, folders("HEAD:builds/new"))

	clone := filepath.Join(canonical(t, t.TempDir()), "clone")
	sh(t, dir, "clone", "-q", "--depth", "4", "file://"+dir, clone)
	t.Chdir(clone)
	steps, short, err := glance(t, "HEAD:done/2026/third").Steps()
	require.NoError(t, err)
	assert.True(t, short)
	require.Len(t, steps, 2, "where the move is the last that the clone has, its other side is not there")
	assert.Empty(t, steps[0].From)
}
