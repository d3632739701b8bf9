package revision

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// history makes a repository whose first commit is tagged v1 and whose work
// tree has moved on from its last, without being committed.
func history(t *testing.T, init ...string) string {
	dir := repository(t, init...)
	write(t, dir,
		"shop.toml", "[shop]\n",
		"builds/van-07/build.toml", "first\n",
		"builds/van-07/parts/engine.toml", "[engine]\n",
		"builds/van-07/parts/build.toml", "",
		"builds/van-07/photos/front.jpg", "jpeg",
		"builds/van-07/.cache/x.toml", "hidden",
		"builds/truck/build.toml", "[build]\n",
		".trash/build.toml", "hidden")
	commitAll(t, dir)
	sh(t, dir, "tag", "v1")
	write(t, dir, "builds/van-07/build.toml", "second\n")
	commitAll(t, dir)
	write(t, dir, "builds/van-07/build.toml", "work tree\n", "builds/new/build.toml", "work tree\n")
	return dir
}

func TestRevision(t *testing.T) {
	for _, format := range []string{"sha1", "sha256"} {
		t.Run(format, func(t *testing.T) {
			dir := history(t, "--object-format="+format)
			before := sh(t, dir, "status", "--porcelain")
			assert.Equal(t, []string{"v1:builds/truck", "v1:builds/van-07"}, folders(builds(t, "v1:")))
			van := one(t, "main:builds/van-07")
			assert.Equal(t, "main:builds/van-07", van.Folder())
			assert.Equal(t, "main:builds/van-07/parts/engine.toml", van.Name("parts/engine.toml"))
			assert.Equal(t, "second\n", read1(t, van, "build.toml"))
			assert.Equal(t, "first\n", read1(t, one(t, "HEAD~1:builds/van-07/"), "build.toml"))
			assert.Equal(t, "work tree\n", read1(t, one(t, "builds/van-07"), "build.toml"))

			files, err := van.List()
			require.NoError(t, err)
			assert.Equal(t, []File{
				{Path: "build.toml", Size: 7},
				{Path: "parts/build.toml", Size: 0},
				{Path: "parts/engine.toml", Size: 9},
				{Path: "photos/front.jpg", Size: 4},
			}, files)
			sum, size, err := van.Digest("photos/front.jpg")
			require.NoError(t, err)
			assert.Equal(t, "41e5787e9f28562d07b891b1816b492309d646c0f2829743fa4963a9f9cc1d61", sum) // printf jpeg | sha256sum
			assert.EqualValues(t, 4, size)

			date, ok := van.Date()
			assert.True(t, ok)
			assert.Equal(t, "2026-03-01T23:30:00-05:00", date.Format(time.RFC3339), "the committer's day, where it was")
			_, ok = van.Dir()
			assert.False(t, ok)
			assert.Equal(t, before, sh(t, dir, "status", "--porcelain"))
		})
	}
}

func TestRevisionFolder(t *testing.T) {
	dir := history(t)
	t.Chdir(filepath.Join(dir, "builds"))
	for arg, want := range map[string][]string{
		"main:van-07":                   {"main:van-07"},
		"main:./van-07":                 {"main:van-07"},
		"main:.":                        {"main:truck", "main:van-07"},
		"main:..":                       {"main:truck", "main:van-07"},
		"main:":                         {"main:builds/truck", "main:builds/van-07"},
		"main:builds/van-07":            {"main:builds/van-07"},
		"main:/builds/van-07":           {"main:builds/van-07"},
		"HEAD^{/work}:../builds/van-07": {"HEAD^{/work}:van-07"},
	} {
		found := folders(builds(t, arg))
		assert.Equal(t, want, found, arg)
		for _, folder := range found {
			assert.Equal(t, []string{folder}, folders(builds(t, folder)), "what is shown can be typed")
		}
	}
	name, content, found, err := shopOf(one(t, "main:van-07"))
	require.NoError(t, err)
	assert.True(t, found)
	assert.Equal(t, "main:../shop.toml", name)
	assert.Equal(t, "[shop]\n", string(content))
	name, _, _, err = shopOf(one(t, "main:builds/van-07"))
	require.NoError(t, err)
	assert.Equal(t, "main:shop.toml", name)

	t.Chdir(filepath.Join(dir, "builds", "new"))
	_, err = Open("main:.")
	assert.ErrorContains(t, err, "main:.: no such folder in that revision", "not the top in its place")
}

func TestRevisionErrors(t *testing.T) {
	dir := history(t)
	sh(t, dir, "branch", "brake-lines")
	for arg, message := range map[string]string{
		"mian:builds":               "mian:builds: no commit mian in this repository; is main meant?",
		"brakelines~1:.":            "brakelines~1:.: no commit brakelines~1 in this repository; is brake-lines~1 meant?",
		"main~7:.":                  "main~7:.: no commit main~7 in this repository; main has no such forebear",
		"nothing-like-it:.":         "nothing-like-it:.: no commit nothing-like-it in this repository",
		"--help:.":                  "--help:.: no commit --help in this repository",
		"-p:.":                      "-p:.: no commit -p in this repository",
		"main..v1:.":                "main..v1:.: no commit main..v1 in this repository",
		":builds":                   ":builds: no revision before the colon, such as HEAD for the last commit",
		"main:builds/van-70":        "main:builds/van-70: no such folder in that revision; is main:builds/van-07 meant?",
		"main:bilds/van-07":         "main:bilds/van-07: no such folder in that revision; is main:builds/van-07 meant?",
		"main:builds/new":           "main:builds/new: no such folder in that revision",
		"main:/builds/new":          "main:/builds/new: no such folder in that revision", // from the top, and in the end
		"main:/etc":                 "main:/etc: no such folder in that revision",
		"main:../..":                "main:../..: leads out of the repository",
		"main:shop.toml":            "main:shop.toml: a file, where a folder is needed; its folder is main:.",
		"main:builds/van-07/*.toml": "main:builds/van-07/*.toml: no such folder in that revision",
	} {
		_, err := Open(arg)
		assert.EqualError(t, err, message)
	}
	place, err := Open("main:builds/van-07/photos")
	require.NoError(t, err)
	_, err = place.Builds()
	assert.EqualError(t, err, "main:builds/van-07/photos: a folder inside the build main:builds/van-07, no build itself")
	require.NoError(t, place.Close())
	_, err = one(t, "main:builds/truck").Read("gone.toml")
	assert.EqualError(t, err, "main:builds/truck/gone.toml: no such file")
}

// linked makes a history whose last commit has links of all kinds.
func linked(t *testing.T) {
	dir := history(t)
	van := filepath.Join(dir, "builds", "van-07")
	big := make([]byte, MaxTOML+1)
	write(t, van, "plain.toml", "a = 1\n", "big.toml", string(big), "big.jpg", string(big))
	write(t, dir, "outside.toml", "secret", "outside/x.toml", "secret")
	link(t, van, "plain.toml", "in.toml")
	link(t, van, "../plain.toml", "parts/up.toml")
	link(t, van, "parts", "more")
	link(t, van, "more/engine.toml", "through.toml")
	link(t, van, "../../outside.toml", "out.toml")
	link(t, van, "../../outside", "outer")
	link(t, van, "../../outside.toml", "photo.jpg")
	link(t, van, "/etc/hosts", "absolute.toml")
	link(t, van, "gone.toml", "dangling.toml")
	link(t, van, "loop.toml", "loop.toml")
	head := sh(t, dir, "rev-parse", "HEAD")
	sh(t, dir, "add", "-A", "-f")
	sh(t, dir, "update-index", "--add", "--cacheinfo", "160000,"+head+",builds/van-07/module")
	sh(t, dir, "commit", "-q", "-m", "links")
}

func TestRevisionRefuses(t *testing.T) {
	linked(t)
	build := one(t, "main:builds/van-07")
	files, err := build.TOML()
	require.NoError(t, err)
	faults := map[string]string{}
	for _, f := range files {
		faults[f.Path] = f.Fault
	}
	assert.Equal(t, map[string]string{
		"build.toml":        "",
		"parts/build.toml":  "",
		"parts/engine.toml": "",
		"parts/up.toml":     "",
		"plain.toml":        "",
		"in.toml":           "",
		"through.toml":      "",
		"absolute.toml":     faultOutside,
		"big.toml":          "too big to read: 1.0 MiB, where a TOML file may have 1 MiB",
		"dangling.toml":     faultDangling,
		"loop.toml":         "a link that leads round in a circle",
		"more":              faultLinkedFolder,
		"module":            faultSubmodule,
		"out.toml":          faultOutside,
		"outer":             faultOutside,
	}, faults)
	assert.Equal(t, "a = 1\n", read1(t, build, "in.toml"))
	assert.Equal(t, "a = 1\n", read1(t, build, "parts/up.toml"))
	assert.Equal(t, "[engine]\n", read1(t, build, "through.toml"))
	assert.Equal(t, "[engine]\n", read1(t, build, "more/engine.toml"))
	for _, name := range []string{"../../outside.toml", "/etc/hosts", "photo.jpg", "outer/x.toml", "out.toml"} {
		_, _, err := build.Digest(name)
		assert.ErrorContains(t, err, faultOutside, name)
	}
	_, err = build.Read("big.toml")
	assert.ErrorContains(t, err, "too big to read")
	_, size, err := build.Digest("big.jpg")
	require.NoError(t, err)
	assert.EqualValues(t, MaxTOML+1, size)
}

// The folder and the revision of it answer alike.
func TestRevisionIsAsTheFolder(t *testing.T) {
	linked(t)
	disk, err := one(t, "builds/van-07").List()
	require.NoError(t, err)
	there, err := one(t, "main:builds/van-07").List()
	require.NoError(t, err)
	for i := range there {
		if there[i].Path == "module" {
			there = append(there[:i], there[i+1:]...)
			break
		}
	}
	require.Len(t, there, len(disk))
	for i := range disk {
		if disk[i].Path != "loop.toml" && disk[i].Path != "build.toml" {
			assert.Equal(t, disk[i], there[i])
		}
	}
}

func TestRevisionTopIsBuild(t *testing.T) {
	dir := repository(t)
	write(t, dir, "build.toml", "", "shop.toml", "own", "deep/x.toml", "", "odd\nname.toml", "a", "deep0.toml", "")
	commitAll(t, dir)
	build := one(t, "HEAD:.")
	assert.Equal(t, "HEAD:.", build.Folder())
	assert.Equal(t, "HEAD:deep/x.toml", build.Name("deep/x.toml"))
	name, _, found, err := shopOf(build)
	require.NoError(t, err)
	assert.True(t, found)
	assert.Equal(t, "HEAD:shop.toml", name)
	files, err := build.TOML()
	require.NoError(t, err)
	assert.Equal(t, []File{{Path: "build.toml"}, {Path: "deep/x.toml"}, {Path: "deep0.toml"}, {Path: "odd\nname.toml", Size: 1}}, files)
	assert.Equal(t, "HEAD:", one(t, "HEAD:").Folder())
}

func TestRevisionWorktreeAndHook(t *testing.T) {
	dir := history(t)
	tree := filepath.Join(canonical(t, t.TempDir()), "linked")
	sh(t, dir, "worktree", "add", "-q", tree, "v1")
	t.Chdir(filepath.Join(tree, "builds"))
	assert.Equal(t, "first\n", read1(t, one(t, "HEAD:van-07"), "build.toml"))
	assert.Equal(t, "second\n", read1(t, one(t, "main:van-07"), "build.toml"))
	name, _, found, err := shopOf(one(t, "van-07"))
	require.NoError(t, err)
	assert.True(t, found)
	assert.Equal(t, "../shop.toml", name)

	// A hook is told where its repository is.
	t.Chdir(canonical(t, t.TempDir()))
	t.Setenv("GIT_DIR", filepath.Join(dir, ".git"))
	t.Setenv("GIT_WORK_TREE", dir)
	assert.Equal(t, "second\n", read1(t, one(t, "HEAD:builds/van-07"), "build.toml"))
}

func TestRevisionBare(t *testing.T) {
	dir := history(t)
	bare := filepath.Join(canonical(t, t.TempDir()), "shop.git")
	sh(t, dir, "clone", "-q", "--bare", dir, bare)
	t.Chdir(bare)
	assert.Equal(t, "second\n", read1(t, one(t, "main:builds/van-07"), "build.toml"))
}

func TestRevisionShallow(t *testing.T) {
	dir := history(t)
	clone := filepath.Join(canonical(t, t.TempDir()), "clone")
	sh(t, dir, "clone", "-q", "--depth=1", "file://"+dir, clone)
	t.Chdir(clone)
	assert.Equal(t, "second\n", read1(t, one(t, "HEAD:builds/van-07"), "build.toml"))
	_, err := Open("HEAD~1:builds/van-07")
	assert.EqualError(t, err, "HEAD~1:builds/van-07: no commit HEAD~1 in this shallow clone: "+
		"first run git fetch --unshallow (in CI, check out with fetch-depth: 0)")
}

func TestRevisionPartial(t *testing.T) {
	dir := history(t)
	sh(t, dir, "config", "uploadpack.allowFilter", "true")
	sh(t, dir, "config", "uploadpack.allowAnySHA1InWant", "true")
	clone := filepath.Join(canonical(t, t.TempDir()), "clone")
	sh(t, dir, "clone", "-q", "--filter=blob:none", "file://"+dir, clone)
	t.Chdir(clone)
	assert.Equal(t, "second\n", read1(t, one(t, "HEAD:builds/van-07"), "build.toml"))
	old := one(t, "v1:builds/van-07")
	files, err := old.TOML()
	require.NoError(t, err)
	assert.Contains(t, files, File{Path: "build.toml", Size: -1})
	for range 2 {
		_, err = old.Read("build.toml")
		assert.EqualError(t, err, "v1:builds/van-07/build.toml: git has not fetched it: "+
			"this is a partial clone; first run git fetch --refetch --no-filter")
		assert.Equal(t, "[engine]\n", read1(t, old, "parts/engine.toml"), "the others are read all the same")
	}
	sh(t, clone, "fetch", "-q", "--refetch", "--no-filter")
	assert.Equal(t, "first\n", read1(t, one(t, "v1:builds/van-07"), "build.toml"), "the advice is good")
}

func TestRevisionDamaged(t *testing.T) {
	dir := history(t)
	id := sh(t, dir, "rev-parse", "main:builds/van-07/build.toml")
	require.NoError(t, os.Remove(filepath.Join(dir, ".git", "objects", id[:2], id[2:])))
	build := one(t, "main:builds/van-07")
	_, err := build.Read("build.toml")
	assert.EqualError(t, err, "main:builds/van-07/build.toml: the repository lacks its content; git fsck tells what else is damaged")
	assert.Equal(t, "[engine]\n", read1(t, build, "parts/engine.toml"))
}

func TestRevisionWithoutRepository(t *testing.T) {
	needGit(t)
	dir := canonical(t, t.TempDir())
	t.Setenv("GIT_CEILING_DIRECTORIES", filepath.Dir(dir))
	t.Chdir(dir)
	_, err := Open("main:builds")
	assert.EqualError(t, err, "main:builds: no such folder, and no git repository here that could have a revision main")
	t.Setenv("PATH", dir)
	_, err = Open("main:builds")
	assert.EqualError(t, err, "main:builds: a revision is read with git, which is not installed or not on the PATH")
}

func TestRevisionOfSomeoneElse(t *testing.T) {
	history(t)
	t.Setenv("HOME", t.TempDir())
	t.Setenv("GIT_TEST_ASSUME_DIFFERENT_OWNER", "1") // git's own tests use it
	_, err := Open("main:builds")
	assert.ErrorContains(t, err, "dubious ownership")
	assert.ErrorContains(t, err, "safe.directory", "git's advice, for the user to take or leave")
}

func TestCommitter(t *testing.T) {
	date, err := signedOn("tree 1\nauthor A <a@b> 1 +0000\ncommitter B > <x> 1700000000 +0530\n\ncommitter C <c> 5 +0000\n", "committer")
	require.NoError(t, err)
	assert.Equal(t, "2023-11-15T03:43:20+05:30", date.Format(time.RFC3339))
	for _, text := range []string{"", "committer B <b>\n", "committer B <b> x +0000\n", "committer B <b> 1 zone\n"} {
		_, err := signedOn(text, "committer")
		assert.Error(t, err, text)
	}
}
