package revision

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// shop makes a folder with a shop and enters it.
func shop(t *testing.T) string {
	dir := canonical(t, t.TempDir())
	require.NoError(t, os.Mkdir(filepath.Join(dir, ".git"), 0o755))
	write(t, dir,
		"shop.toml", "[shop]\n",
		"builds/van-07/build.toml", "[build]\n",
		"builds/van-07/parts/engine.toml", "[engine]\n",
		"builds/van-07/parts/build.toml", "# not another build\n",
		"builds/van-07/photos/front.jpg", "jpeg",
		"builds/van-07/.cache/x.toml", "hidden",
		"builds/truck/build.toml", "[build]\n",
		".trash/build.toml", "hidden")
	t.Chdir(dir)
	return dir
}

func TestFolderBuilds(t *testing.T) {
	dir := shop(t)
	link(t, dir, "van-07", "builds/van-link")
	both := []string{"builds/truck", "builds/van-07"}
	assert.Equal(t, both, folders(builds(t, ".")))
	assert.Equal(t, both, folders(builds(t, "")))
	assert.Equal(t, both, folders(builds(t, "builds/")))
	assert.Equal(t, both, folders(builds(t, filepath.Join(dir, "builds"))), "absolute, but below the working directory")

	t.Chdir(filepath.Join(dir, "builds", "van-07"))
	van := one(t, ".")
	assert.Equal(t, ".", van.Folder())
	assert.Equal(t, "parts/engine.toml", van.Name("parts/engine.toml"))
	assert.Equal(t, []string{"../truck"}, folders(builds(t, "../truck")))
	on, ok := van.Dir()
	assert.True(t, ok)
	assert.Equal(t, filepath.Join(dir, "builds", "van-07"), on)
	_, dated := van.Date()
	assert.False(t, dated)

	t.Chdir(canonical(t, t.TempDir()))
	truck := one(t, filepath.Join(dir, "builds", "truck"))
	assert.Equal(t, filepath.ToSlash(filepath.Join(dir, "builds", "truck")), truck.Folder())
	name, _, _, err := shopOf(truck)
	require.NoError(t, err)
	assert.Equal(t, filepath.ToSlash(filepath.Join(dir, "shop.toml")), name)
}

func TestFolderFiles(t *testing.T) {
	shop(t)
	van := one(t, "builds/van-07")
	files, err := van.List()
	require.NoError(t, err)
	assert.Equal(t, []File{
		{Path: "build.toml", Size: 8},
		{Path: "parts/build.toml", Size: 20},
		{Path: "parts/engine.toml", Size: 9},
		{Path: "photos/front.jpg", Size: 4},
	}, files)
	files, err = van.TOML()
	require.NoError(t, err)
	assert.Len(t, files, 3)
	assert.Equal(t, "[engine]\n", read1(t, van, "parts/engine.toml"))

	sum, size, err := van.Digest("photos/front.jpg")
	require.NoError(t, err)
	assert.Equal(t, "41e5787e9f28562d07b891b1816b492309d646c0f2829743fa4963a9f9cc1d61", sum) // printf jpeg | sha256sum
	assert.EqualValues(t, 4, size)
}

func TestFolderRefuses(t *testing.T) {
	dir := shop(t)
	van := filepath.Join(dir, "builds", "van-07")
	write(t, dir, "outside.toml", "secret", "outside/x.toml", "secret")
	write(t, van, "big.toml", "", "plain.toml", "a = 1\n", "shop.toml", "own")
	require.NoError(t, os.Truncate(filepath.Join(van, "big.toml"), 50<<20))
	link(t, van, "plain.toml", "in.toml")
	link(t, van, "parts", "more")
	link(t, van, "../../outside.toml", "out.toml")
	link(t, van, "../../outside", "outer")
	link(t, van, "../../outside.toml", "photo.jpg")
	link(t, van, filepath.Join(van, "plain.toml"), "absolute.toml")
	link(t, van, "gone.toml", "dangling.toml")
	link(t, van, "loop.toml", "loop.toml")

	build := one(t, "builds/van-07")
	files, err := build.TOML()
	require.NoError(t, err)
	faults := map[string]string{}
	for _, f := range files {
		faults[f.Path] = f.Fault
	}
	loop := faults["loop.toml"]
	assert.NotEmpty(t, loop)
	assert.Equal(t, map[string]string{
		"build.toml":        "",
		"parts/build.toml":  "",
		"parts/engine.toml": "",
		"plain.toml":        "",
		"in.toml":           "",
		"absolute.toml":     faultOutside,
		"big.toml":          "too big to read: 50.0 MiB, where a TOML file may have 1 MiB",
		"dangling.toml":     faultDangling,
		"loop.toml":         loop,
		"more":              faultLinkedFolder,
		"out.toml":          faultOutside,
		"outer":             faultOutside,
	}, faults)
	for name, fault := range faults {
		_, err := build.Read(name)
		if fault == "" {
			assert.NoError(t, err, name)
			continue
		}
		var refused *Error
		require.ErrorAs(t, err, &refused, name)
		assert.Equal(t, "builds/van-07/"+name, refused.Path)
	}
	assert.Equal(t, "a = 1\n", read1(t, build, "in.toml"))
	for _, name := range []string{"../../outside.toml", "/etc/hosts", "photo.jpg", "outer/x.toml"} {
		_, _, err := build.Digest(name)
		assert.ErrorContains(t, err, faultOutside, name)
	}
	_, _, err = build.Digest("none.jpg")
	assert.EqualError(t, err, "builds/van-07/none.jpg: no such file")
	_, _, err = build.Digest("photos")
	assert.EqualError(t, err, "builds/van-07/photos: "+faultFolder)
	_, size, err := build.Digest("big.toml")
	require.NoError(t, err, "only what is read as TOML is limited")
	assert.EqualValues(t, 50<<20, size)
}

func TestFolderUnreadable(t *testing.T) {
	if os.Geteuid() <= 0 {
		t.Skip("permissions do not bind this user")
	}
	dir := shop(t)
	parts := filepath.Join(dir, "builds", "van-07", "parts")
	require.NoError(t, os.Chmod(parts, 0))
	t.Cleanup(func() { _ = os.Chmod(parts, 0o755) })
	files, err := one(t, "builds/van-07").TOML()
	require.NoError(t, err)
	assert.Contains(t, files, File{Path: "parts", Fault: "permission denied", branch: true})

	truck := filepath.Join(dir, "builds", "truck")
	require.NoError(t, os.Chmod(truck, 0))
	t.Cleanup(func() { _ = os.Chmod(truck, 0o755) })
	place, err := Open(".")
	require.NoError(t, err)
	found, err := place.Builds()
	assert.Equal(t, []string{"builds/van-07"}, folders(found))
	assert.ErrorContains(t, err, "builds/truck")
	assert.ErrorContains(t, err, "permission denied")
}

func TestFolderShop(t *testing.T) {
	dir := shop(t)
	name, content, found, err := shopOf(one(t, "builds/van-07"))
	require.NoError(t, err)
	assert.True(t, found)
	assert.Equal(t, "shop.toml", name)
	assert.Equal(t, "[shop]\n", string(content))

	write(t, dir, "builds/shop.toml", "nearer")
	t.Chdir(filepath.Join(dir, "builds", "truck"))
	name, content, _, err = shopOf(one(t, "."))
	require.NoError(t, err)
	assert.Equal(t, "../shop.toml", name)
	assert.Equal(t, "nearer", string(content))

	write(t, dir, "builds/truck/shop.toml", "own")
	name, content, _, err = shopOf(one(t, "."))
	require.NoError(t, err)
	assert.Equal(t, "shop.toml", name)
	assert.Equal(t, "own", string(content))
	files, err := one(t, ".").TOML()
	require.NoError(t, err)
	assert.Len(t, files, 1, "it is no part of the build")
}

func TestFolderShopEndsAtWorkTree(t *testing.T) {
	dir := shop(t)
	inner := filepath.Join(dir, "inner")
	write(t, inner, "van/build.toml", "", ".git", "gitdir: elsewhere\n")
	_, _, found, err := shopOf(one(t, "inner/van"))
	require.NoError(t, err)
	assert.False(t, found)

	link(t, inner, "../shop.toml", "shop.toml")
	name, _, found, err := shopOf(one(t, "inner/van"))
	assert.True(t, found)
	assert.Equal(t, "inner/shop.toml", name)
	assert.EqualError(t, err, "inner/shop.toml: "+faultOutside)

	link(t, inner, "../common.toml", "van/shop.toml")
	write(t, inner, "common.toml", "common")
	_, content, _, err := shopOf(one(t, "inner/van"))
	require.NoError(t, err, "out of the build folder, but not of the work tree")
	assert.Equal(t, "common", string(content))
}

func TestFolderErrors(t *testing.T) {
	dir := shop(t)
	for arg, message := range map[string]string{
		"builds/van-70":            "builds/van-70: no such folder; is builds/van-07 meant?",
		"bilds/van-07":             "bilds/van-07: no such folder; is builds/van-07 meant?",
		"bilds/van-99":             "bilds/van-99: no such folder; is builds meant?",
		"nothing-like-it":          "nothing-like-it: no such folder",
		"builds/van-07/build.toml": "builds/van-07/build.toml: a file, where a folder is needed; its folder is builds/van-07",
	} {
		_, err := Open(arg)
		assert.EqualError(t, err, message)
	}
	for arg, message := range map[string]string{
		"builds/van-07/photos": "builds/van-07/photos: a folder inside the build builds/van-07, no build itself",
		"empty":                "empty: no build here: no folder at or below it holds build.toml",
	} {
		require.NoError(t, os.MkdirAll(filepath.Join(dir, "empty"), 0o755))
		place, err := Open(arg)
		require.NoError(t, err)
		_, err = place.Builds()
		assert.EqualError(t, err, message)
	}
}

func TestFolderWithColon(t *testing.T) {
	dir := shop(t)
	write(t, dir, "main:odd/build.toml", "")
	assert.Equal(t, []string{"main:odd"}, folders(builds(t, "main:odd")), "what is on disk is a folder")
}

func TestSplitRevision(t *testing.T) {
	for arg, want := range map[string]string{
		"main:builds/a:b":             "main|builds/a:b",
		"HEAD~2:.":                    "HEAD~2|.",
		"v1:":                         "v1|",
		"HEAD@{2026-01-01 12:30}:van": "HEAD@{2026-01-01 12:30}|van",
		"HEAD^{/fix: it}:van":         "HEAD^{/fix: it}|van",
		"builds/van-07":               "none",
	} {
		rev, folder, ok := splitRevision(arg)
		got := "none"
		if ok {
			got = rev + "|" + folder
		}
		assert.Equal(t, want, got, arg)
	}
}

func TestErrorText(t *testing.T) {
	err := error(&Error{"a/b.toml", "no such file"})
	assert.Equal(t, "a/b.toml: no such file", err.Error())
	assert.Equal(t, "plain", reason(errors.New("plain")))
	assert.True(t, strings.HasPrefix((&oversize{3 << 20, MaxTOML}).Error(), "too big"))
}

// shopOf takes a build's shop apart.
func shopOf(b *Build) (name string, content []byte, found bool, err error) {
	s, err := b.Shop()
	if err != nil {
		return err.(*Error).Path, nil, true, err
	}
	if s == nil {
		return "", nil, false, err
	}
	return s.Name, s.Content, true, err
}
