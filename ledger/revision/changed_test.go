package revision

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// told words pairs, for comparing: before -> after, with a dash for none.
func told(pairs []*Pair) (out []string) {
	name := func(b *Build) string {
		if b == nil {
			return "-"
		}
		return strings.TrimPrefix(b.Folder(), b.Revision())
	}
	for _, p := range pairs {
		out = append(out, name(p.Before)+" -> "+name(p.After))
	}
	return out
}

func glance(t testing.TB, arg string) *Place {
	t.Helper()
	p, err := Glance(arg)
	require.NoError(t, err)
	t.Cleanup(func() { _ = p.Close() })
	return p
}

// since are the builds of a place that differ from a revision's.
func since(t testing.TB, rev, arg string) []string {
	t.Helper()
	after := glance(t, arg)
	before, err := after.Past(rev)
	require.NoError(t, err)
	if before != nil {
		defer before.Close()
	}
	pairs, err := Changed(before, after)
	require.NoError(t, err)
	return told(pairs)
}

// TestChanged: what differs between a revision and another, and between a
// revision and the work tree, is the same.
func TestChanged(t *testing.T) {
	for _, format := range []string{"sha1", "sha256"} {
		t.Run(format, func(t *testing.T) {
			dir := repository(t, "--object-format="+format)
			for _, b := range []string{"a", "b", "deep/c", "deep/d", "own/e"} {
				write(t, dir, "builds/"+b+"/build.toml", "[build]\ntitle = \""+b+"\"\n", "builds/"+b+"/papers/"+path.Base(b)+".pdf", b, "builds/"+b+"/parts.toml", b)
			}
			write(t, dir, "shop.toml", "one", "builds/own/shop.toml", "two", "scans/x.pdf", "x")
			commitAll(t, dir)
			sh(t, dir, "tag", "first")
			step := func(want ...string) {
				t.Helper()
				assert.Equal(t, want, since(t, "HEAD", "."), "work tree")
				commitAll(t, dir)
				assert.Equal(t, want, since(t, "HEAD~1", "HEAD:."), "revisions")
				assert.Equal(t, want, told(differing(t, "HEAD~1:builds", "HEAD:builds")), "two revisions by name")
			}
			write(t, dir, "builds/a/build.toml", "[build]\ntitle = \"other\"\n")
			step("builds/a -> builds/a")
			write(t, dir, "builds/deep/c/papers/c.pdf", "another scan")
			step("builds/deep/c -> builds/deep/c")
			write(t, dir, "scans/x.pdf", "out of every build", "builds/README", "of none")
			step()
			require.NoError(t, os.Rename(filepath.Join(dir, "builds/b"), filepath.Join(dir, "builds/z")))
			write(t, dir, "builds/z/parts.toml", "edited as well")
			step("builds/b -> builds/z")
			require.NoError(t, os.RemoveAll(filepath.Join(dir, "builds/deep/d")))
			write(t, dir, "builds/f/build.toml", "[build]\n")
			step("builds/deep/d -> -", "- -> builds/f")
			write(t, dir, "builds/own/shop.toml", "its own")
			step("builds/own/e -> builds/own/e")
			write(t, dir, "shop.toml", "another")
			step("builds/a -> builds/a", "builds/deep/c -> builds/deep/c", "builds/f -> builds/f", "builds/z -> builds/z")
			require.NoError(t, os.Remove(filepath.Join(dir, "builds/own/shop.toml")))
			step("builds/own/e -> builds/own/e")
			// A folder of builds becomes a build, and the builds below it end.
			write(t, dir, "builds/deep/build.toml", "[build]\n")
			step("- -> builds/deep", "builds/deep/c -> -")

			assert.Empty(t, since(t, "HEAD", "."))
			assert.Equal(t, []string{"builds/own/e -> builds/own/e"}, since(t, "first", "HEAD:builds/own"))
			assert.Equal(t, []string{"builds/a -> builds/a"}, since(t, "first", "builds/a"))
			assert.Equal(t, []string{"- -> builds/f"}, since(t, "first", "builds/f"))
			_, err := glance(t, ".").Past("nosuch")
			assert.EqualError(t, err, "nosuch:.: no commit nosuch in this repository")
			t.Chdir(filepath.Join(dir, "builds"))
			assert.Equal(t, []string{"a -> a"}, since(t, "first", "a"))
			assert.Equal(t, []string{"a -> a"}, since(t, "first", "HEAD:a"))
		})
	}
}

func differing(t testing.TB, before, after string) []*Pair {
	t.Helper()
	pairs, err := Changed(glance(t, before), glance(t, after))
	require.NoError(t, err)
	return pairs
}

// TestChangedShopLink: a shop's file that is a link is what it leads to.
func TestChangedShopLink(t *testing.T) {
	dir := repository(t)
	write(t, dir, "common/rules.toml", "one", "builds/a/build.toml", "[build]\n")
	link(t, dir, "common/rules.toml", "shop.toml")
	commitAll(t, dir)
	write(t, dir, "common/rules.toml", "two")
	assert.Equal(t, []string{"builds/a -> builds/a"}, since(t, "HEAD", "."))
	commitAll(t, dir)
	assert.Equal(t, []string{"builds/a -> builds/a"}, since(t, "HEAD~1", "HEAD:."))
}

// TestChangedRules: a file of rules beside a shop's file bears on all builds that the
// shop has a say over, and the builds that try the rules are none of the shop's.
func TestChangedRules(t *testing.T) {
	dir := repository(t)
	write(t, dir, "shop.toml", "one", "builds/a/build.toml", "[build]\n", "builds/own/b/build.toml", "[build]\n", "builds/own/shop.toml", "two",
		"trials/near/build.toml", "[build]\n", "common/shared.toml", "one")
	commitAll(t, dir)
	step := func(what string, want ...string) {
		t.Helper()
		assert.Equal(t, want, since(t, "HEAD", "."), "work tree: %s", what)
		commitAll(t, dir)
		assert.Equal(t, want, since(t, "HEAD~1", "HEAD:."), "revisions: %s", what)
		assert.Equal(t, want, told(differing(t, "HEAD~1:builds", "HEAD:builds")), "below the shop's file: %s", what)
		if len(want) > 0 {
			assert.Equal(t, want, told(differing(t, "HEAD~1:"+strings.Fields(want[0])[0], "HEAD:"+strings.Fields(want[0])[0])), "the build itself: %s", what)
		}
		assert.Empty(t, since(t, "HEAD", "."), "work tree as it was committed: %s", what)
	}
	a, b := "builds/a -> builds/a", "builds/own/b -> builds/own/b"
	write(t, dir, "rules/axles.toml", "one")
	step("a file of rules added, and the folder with it", a)
	write(t, dir, "rules/axles.toml", "another")
	step("a file of rules edited", a)
	write(t, dir, "rules/wheels.toml", "one")
	step("another file added", a)
	require.NoError(t, os.Rename(filepath.Join(dir, "rules/wheels.toml"), filepath.Join(dir, "rules/tires.toml")))
	step("a file renamed", a)
	require.NoError(t, os.Remove(filepath.Join(dir, "rules/tires.toml")))
	step("a file removed", a)
	write(t, dir, "builds/own/rules/x.toml", "one")
	step("rules of a shop further down", b)
	write(t, dir, "rules/README", "no rules", "rules/old/axles.toml", "in a folder", "rules/.x.toml", "hidden")
	step("what is no file of rules")
	write(t, dir, "trials/near/build.toml", "[build]\nstage = \"plan\"\n")
	step("a trial edited")
	write(t, dir, "trials/far/build.toml", "[build]\n")
	require.NoError(t, os.RemoveAll(filepath.Join(dir, "trials/near")))
	step("a trial added, and one removed")
	link(t, dir, "../common/shared.toml", "rules/shared.toml")
	step("rules that are a link", a)
	write(t, dir, "common/shared.toml", "two")
	step("what the link leads to", a)
	require.NoError(t, os.RemoveAll(filepath.Join(dir, "rules")))
	step("all rules removed", a)
	write(t, dir, "common/rules/x.toml", "one")
	commitAll(t, dir)
	link(t, dir, "common/rules", "rules")
	assert.Equal(t, []string{a}, since(t, "HEAD", "."), "a link in place of the folder of rules")
	commitAll(t, dir)
	assert.Equal(t, []string{a}, since(t, "HEAD~1", "HEAD:."))
	for _, arg := range []string{".", "HEAD:."} {
		all, err := glance(t, arg).Builds()
		require.NoError(t, err)
		_, err = all[0].Shop()
		require.Error(t, err, "no rule is passed by in silence")
		assert.Equal(t, "rules: "+faultLinkedFolder, strings.TrimPrefix(err.Error(), "HEAD:"))
	}
}

// TestChangedIsWhatGitSays: random edits of many builds, held against git's own
// list of the files that differ.
func TestChangedIsWhatGitSays(t *testing.T) {
	dir := repository(t)
	random := rand.New(rand.NewPCG(13, 2026))
	name := func() string { return fmt.Sprintf("b%d/v%02d", random.IntN(3), random.IntN(12)) }
	for range 30 {
		write(t, dir, "builds/"+name()+"/build.toml", fmt.Sprint(random.Int()))
	}
	commitAll(t, dir)
	for range 12 {
		for range 1 + random.IntN(6) {
			write(t, dir, "builds/"+name()+"/"+[]string{"build.toml", "parts/x.toml", "doc.pdf"}[random.IntN(3)], fmt.Sprint(random.Int()))
		}
		if random.IntN(3) == 0 {
			require.NoError(t, os.RemoveAll(filepath.Join(dir, "builds", name())))
		}
		commitAll(t, dir)
		had, has := map[string]bool{}, map[string]bool{}
		for _, f := range strings.Fields(sh(t, dir, "ls-tree", "-r", "--name-only", "HEAD~1")) {
			had[f] = true
		}
		for _, f := range strings.Fields(sh(t, dir, "ls-tree", "-r", "--name-only", "HEAD")) {
			has[f] = true
		}
		want := map[string]bool{}
		for _, f := range strings.Fields(sh(t, dir, "diff", "--no-renames", "--name-only", "HEAD~1", "HEAD")) {
			folder := strings.Join(strings.Split(f, "/")[:3], "/")
			if had[folder+"/build.toml"] || has[folder+"/build.toml"] {
				want[folder] = true
			}
		}
		got := map[string]bool{}
		for _, p := range differing(t, "HEAD~1:", "HEAD:") {
			for _, b := range []*Build{p.Before, p.After} {
				if b != nil {
					got[b.at] = true
				}
			}
		}
		assert.Equal(t, want, got)
	}
}

// shopsTree makes a repository of n builds of 20 files of which the last commit
// touches three.
func shopsTree(t testing.TB, n int) string {
	dir := repository(t)
	for i := range n {
		for j := range 19 {
			write(t, dir, fmt.Sprintf("builds/van-%04d/part-%02d.toml", i, j), fmt.Sprintf("# %d %d\n", i, j))
		}
		write(t, dir, fmt.Sprintf("builds/van-%04d/build.toml", i), "[build]\n")
	}
	write(t, dir, "shop.toml", "")
	commitAll(t, dir)
	for i := range 3 {
		write(t, dir, fmt.Sprintf("builds/van-%04d/build.toml", i*(n-1)/2), "[build]\nstage = \"plan\"\n")
	}
	commitAll(t, dir)
	sh(t, dir, "gc", "-q")
	return dir
}

// TestChangedReadsNothingElse: between two commits the objects that are asked
// for grow with what differs, and not with the shop.
func TestChangedReadsNothingElse(t *testing.T) {
	if testing.Short() {
		t.Skip("writes six thousand files")
	}
	var read []int
	for _, n := range []int{10, 300} {
		shopsTree(t, n)
		before, after := glance(t, "HEAD~1:."), glance(t, "HEAD:.")
		pairs, err := Changed(before, after)
		require.NoError(t, err)
		assert.Len(t, pairs, 3)
		for _, p := range pairs {
			assert.Equal(t, "[build]\nstage = \"plan\"\n", read1(t, p.After, "build.toml"))
		}
		a, b := before.tree.(*commit), after.tree.(*commit)
		assert.Nil(t, b.entries, "nothing is listed")
		read = append(read, len(a.kept.trees)+len(b.kept.trees))
	}
	assert.Equal(t, read[0], read[1], "trees read")
	assert.Equal(t, 10, read[0], "of each side the top, builds and three builds")
}

// BenchmarkChanged finds 3 changed builds of 10 and of 1,000.
func BenchmarkChanged(b *testing.B) {
	for _, n := range []int{10, 1000} {
		shopsTree(b, n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				before, err := Glance("HEAD~1:.")
				require.NoError(b, err)
				after, err := Glance("HEAD:.")
				require.NoError(b, err)
				pairs, err := Changed(before, after)
				require.NoError(b, err)
				require.Len(b, pairs, 3)
				require.NoError(b, before.Close())
				require.NoError(b, after.Close())
			}
		})
	}
}
