//go:build unix

package revision

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// gitIn runs git with an input, as sh does without one.
func gitIn(t testing.TB, dir, input string, args ...string) string {
	t.Helper()
	cmd := exec.Command("git", args...)
	cmd.Dir, cmd.Stdin = dir, strings.NewReader(input)
	out, err := cmd.Output()
	require.NoError(t, err)
	return strings.TrimSpace(string(out))
}

// nested makes a tree of 10^levels files out of as many trees as levels.
func nested(t testing.TB, dir string, levels int) string {
	blob := gitIn(t, dir, "x", "hash-object", "-w", "--stdin")
	line := func(i int) string { return fmt.Sprintf("100644 blob %s\tf%d\n", blob, i) }
	tree := ""
	for range levels {
		var text strings.Builder
		for i := range 10 {
			text.WriteString(line(i))
		}
		tree = gitIn(t, dir, text.String(), "mktree")
		line = func(i int) string { return fmt.Sprintf("040000 tree %s\td%d\n", tree, i) }
	}
	return tree
}

// A tree that stands for ten million files costs nothing beside the build, and
// is refused below it. The work is bounded by what is listed, so the test
// counts that.
func TestTreeOfTenMillion(t *testing.T) {
	if testing.Short() {
		t.Skip("one goroutine, and takes its time")
	}
	dir := repository(t)
	write(t, dir, "van/build.toml", "[build]\n", "shop.toml", "[shop]\n")
	commitAll(t, dir)
	van, bomb := sh(t, dir, "rev-parse", "HEAD:van"), nested(t, dir, 7)
	shop := sh(t, dir, "rev-parse", "HEAD:shop.toml")
	commit := func(name, lines string) {
		tree := gitIn(t, dir, lines, "mktree")
		sh(t, dir, "update-ref", "refs/heads/"+name, sh(t, dir, "commit-tree", "-m", name, "-p", "HEAD", tree))
	}
	commit("beside", fmt.Sprintf("040000 tree %s\tother\n100644 blob %s\tshop.toml\n040000 tree %s\tvan\n", bomb, shop, van))
	build := one(t, "beside:van")
	assert.Equal(t, "[build]\n", read1(t, build, "build.toml"))
	assert.Len(t, build.tree.(*commit_).paths, 1)
	_, content, found, err := shopOf(build)
	require.NoError(t, err)
	assert.True(t, found)
	assert.Equal(t, "[shop]\n", string(content))

	main := gitIn(t, dir, "[build]\n", "hash-object", "-w", "--stdin")
	inside := gitIn(t, dir, fmt.Sprintf("100644 blob %s\tbuild.toml\n040000 tree %s\tphotos\n", main, bomb), "mktree")
	commit("inside", fmt.Sprintf("040000 tree %s\tvan\n", inside))
	for _, arg := range []string{"inside:van", "beside:"} {
		_, err := Open(arg)
		assert.EqualError(t, err, arg+": more than 200000 files, or the names of that many, lie below it; name a folder further down", arg)
	}
	_, err = Open("beside:vna")
	assert.EqualError(t, err, "beside:vna: no such folder in that revision; is beside:van meant?")
}

// commit_ lets a test use the name commit for itself.
type commit_ = commit

// A named pipe wherever git reads a file of the repository ends in an error,
// soon, and never in an answer.
func TestPipesInGit(t *testing.T) {
	defer func(was time.Duration) { patience = was }(patience)
	patience = 300 * time.Millisecond
	for name, place := range map[string]func(dir string) (pipe, arg string){
		"ref":          func(string) (string, string) { return "refs/heads/pipe", "pipe:van" },
		"head":         func(string) (string, string) { return "HEAD", "HEAD:van" },
		"packed refs":  func(string) (string, string) { return "packed-refs", "nosuch:van" },
		"settings":     func(string) (string, string) { return "config", "HEAD:van" },
		"alternates":   func(string) (string, string) { return "objects/info/alternates", "HEAD:van" },
		"commit":       func(dir string) (string, string) { return object(t, dir, "HEAD"), "HEAD:van" },
		"tree":         func(dir string) (string, string) { return object(t, dir, "HEAD:"), "HEAD:van" },
		"build's tree": func(dir string) (string, string) { return object(t, dir, "HEAD:van"), "HEAD:van" },
	} {
		t.Run(name, func(t *testing.T) {
			dir := repository(t)
			write(t, dir, "van/build.toml", "[build]\n")
			commitAll(t, dir)
			pipe, arg := place(dir)
			pipe = filepath.Join(dir, ".git", pipe)
			_ = os.Remove(pipe)
			require.NoError(t, os.MkdirAll(filepath.Dir(pipe), 0o755))
			require.NoError(t, syscall.Mkfifo(pipe, 0o644))
			begun := time.Now()
			_, err := Open(arg)
			assert.ErrorContains(t, err, arg+": ")
			assert.Less(t, time.Since(begun), 20*patience, "a few waits at most")
		})
	}
	t.Run("file", func(t *testing.T) {
		dir := repository(t)
		write(t, dir, "van/build.toml", "[build]\n", "van/other.toml", "")
		commitAll(t, dir)
		build := one(t, "HEAD:van")
		pipe := filepath.Join(dir, ".git", object(t, dir, "HEAD:van/build.toml"))
		require.NoError(t, os.Remove(pipe))
		require.NoError(t, syscall.Mkfifo(pipe, 0o644))
		_, err := build.Read("build.toml")
		assert.EqualError(t, err, "HEAD:van/build.toml: "+errSilent.Error())
		assert.Empty(t, read1(t, build, "other.toml"), "the others are read all the same")
	})
}

// object is the file of an object, below .git.
func object(t testing.TB, dir, name string) string {
	id := sh(t, dir, "rev-parse", name)
	return filepath.Join("objects", id[:2], id[2:])
}

// A bare repository among the files of another is not taken for it, from
// wherever in it one stands.
func TestBareRepositoryAmongFiles(t *testing.T) {
	evil := repository(t)
	write(t, evil, "van/build.toml", "evil\n")
	commitAll(t, evil)
	dir := repository(t)
	write(t, dir, "van/build.toml", "good\n")
	commitAll(t, dir)
	for _, into := range []string{"van", "photos/bare", "van/deep/er"} {
		sh(t, dir, "clone", "-q", "--bare", evil, filepath.Join(dir, "bare.tmp"))
		require.NoError(t, os.CopyFS(filepath.Join(dir, into), os.DirFS(filepath.Join(dir, "bare.tmp"))))
		require.NoError(t, os.RemoveAll(filepath.Join(dir, "bare.tmp")))
		for _, stand := range []string{into, filepath.Join(into, "refs")} {
			t.Chdir(filepath.Join(dir, stand))
			_, err := Open("main:van")
			assert.ErrorContains(t, err, "cannot use bare repository", stand)
		}
		t.Chdir(dir)
		assert.Equal(t, "good\n", read1(t, one(t, "main:van"), "build.toml"))
	}
}

// TestSafeFolders: what a CI host declares safe in the environment stays, and
// nothing that could name a program comes with it.
func TestSafeFolders(t *testing.T) {
	got := environment([]string{"GIT_CONFIG_COUNT=4", "GIT_CONFIG_KEY_0=core.fsmonitor", "GIT_CONFIG_VALUE_0=evil",
		"GIT_CONFIG_KEY_1=safe.directory", "GIT_CONFIG_VALUE_1=/w/shop", "GIT_CONFIG_KEY_2=include.path", "GIT_CONFIG_VALUE_2=/evil",
		"GIT_CONFIG_KEY_3=Safe.Directory", "GIT_CONFIG_VALUE_3=*", "GIT_CONFIG_GLOBAL=/home/ci/gitconfig"})
	assert.Equal(t, append([]string{"GIT_CONFIG_GLOBAL=/home/ci/gitconfig",
		"GIT_CONFIG_KEY_0=safe.directory", "GIT_CONFIG_VALUE_0=/w/shop",
		"GIT_CONFIG_KEY_1=safe.directory", "GIT_CONFIG_VALUE_1=*", "GIT_CONFIG_COUNT=2"}, settings...), got)
	for _, count := range []string{"-1", "99999999999", "x", "2000000000"} {
		got := environment([]string{"GIT_CONFIG_COUNT=" + count, "GIT_CONFIG_KEY_0=core.pager", "GIT_CONFIG_VALUE_0=evil"})
		assert.Equal(t, settings, got, count)
	}
}

// TestShopFromAbove: outside git a shop's file has a say in the folder that was
// named, or where one stands above it, and from nowhere further up.
func TestShopFromAbove(t *testing.T) {
	top := canonical(t, t.TempDir())
	write(t, top, "shop.toml", "[shop]\n", "a/b/van/build.toml", "")
	for _, c := range []struct {
		stand, arg string
		found      bool
	}{
		{"a/b", "van", false}, {"a", "b/van", false}, {"a/b/van", ".", false}, {"a", filepath.Join(top, "a/b"), false},
		{"a/b", "../..", true}, {".", "a/b/van", true}, {"a", "..", true},
	} {
		t.Chdir(filepath.Join(top, c.stand))
		name, _, found, err := shopOf(one(t, c.arg))
		require.NoError(t, err)
		assert.Equal(t, c.found, found, "%s from %s: %s", c.arg, c.stand, name)
	}
	needGit(t)
	t.Chdir(filepath.Join(top, "a/b"))
	sh(t, top, "init", "-q")
	_, _, found, err := shopOf(one(t, "van"))
	require.NoError(t, err)
	assert.True(t, found, "in a repository its top counts")
	sh(t, filepath.Join(top, "a"), "init", "-q")
	_, _, found, err = shopOf(one(t, "van"))
	require.NoError(t, err)
	assert.False(t, found, "and no repository around it")
}

// TestDocumentTooBig: a file that is mostly a hole is refused by its size.
func TestDocumentTooBig(t *testing.T) {
	dir := canonical(t, t.TempDir())
	write(t, dir, "build.toml", "", "scan.pdf", "")
	require.NoError(t, os.Truncate(filepath.Join(dir, "scan.pdf"), 1<<40))
	t.Chdir(dir)
	_, _, err := one(t, ".").Digest("scan.pdf")
	assert.EqualError(t, err, "scan.pdf: too big to read: 1048576.0 MiB, where a document may have 256 MiB")
}

// A repository of a few kilobytes that stands for gigabytes of ledgers, or of a
// shop's rules, is read as far as any ledger goes.
func TestTreeOfGigabytes(t *testing.T) {
	dir := repository(t)
	write(t, dir, "van/build.toml", "[build]\n")
	commitAll(t, dir)
	blob := gitIn(t, dir, strings.Repeat("#", MaxTOML), "hash-object", "-w", "--stdin")
	main, empty := sh(t, dir, "rev-parse", "HEAD:van/build.toml"), gitIn(t, dir, "", "hash-object", "-w", "--stdin")
	const files = 500
	var lines strings.Builder
	for i := range files {
		fmt.Fprintf(&lines, "100644 blob %s\tf%03d.toml\n", blob, i)
	}
	rules := gitIn(t, dir, lines.String(), "mktree")
	van := gitIn(t, dir, lines.String()+fmt.Sprintf("100644 blob %s\tbuild.toml\n", main), "mktree")
	tree := gitIn(t, dir, fmt.Sprintf("040000 tree %s\tvan\n040000 tree %s\trules\n100644 blob %s\tshop.toml\n", van, rules, empty), "mktree")
	sh(t, dir, "update-ref", "refs/heads/much", sh(t, dir, "commit-tree", "-m", "much", "-p", "HEAD", tree))
	disk := t.TempDir()
	write(t, disk, "shop.toml", "", "van/build.toml", "[build]\n")
	require.NoError(t, os.Mkdir(filepath.Join(disk, "rules"), 0o755))
	for i := range files {
		for _, folder := range []string{"van", "rules"} { // files of zeros, which take no room on a disk
			name := filepath.Join(disk, folder, fmt.Sprintf("f%03d.toml", i))
			require.NoError(t, os.WriteFile(name, nil, 0o644))
			require.NoError(t, os.Truncate(name, MaxTOML))
		}
	}
	t.Chdir(dir)
	for _, b := range []*Build{one(t, "much:van"), one(t, filepath.Join(disk, "van"))} {
		toml, err := b.TOML()
		require.NoError(t, err)
		var names []string
		for _, f := range toml {
			names = append(names, f.Path)
		}
		contents, faults := b.ReadAll(names)
		require.Len(t, contents, files+1)
		size := 0
		for _, content := range contents {
			size += len(content)
		}
		assert.Greater(t, size, mostRead)
		assert.LessOrEqual(t, size, mostRead+mostAtOnce*MaxTOML)
		assert.ErrorContains(t, faults[files], "not read: the files before it hold more than 4 MiB")
	}
	for _, at := range []string{"much:.", disk} {
		place, err := Open(at)
		require.NoError(t, err)
		found, err := place.Shops()
		require.NoError(t, err)
		size := 0
		for _, f := range found[0].Rules {
			size += len(f.Content)
		}
		assert.Len(t, found[0].Rules, files)
		assert.LessOrEqual(t, size, mostRead+mostAtOnce*MaxTOML)
		require.NoError(t, place.Close())
	}
}
