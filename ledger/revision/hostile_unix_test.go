//go:build unix

package revision

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// trap is a repository in which everything that can name a program names one
// that leaves a mark.
type trap struct{ dir, marks string }

func (h trap) sprung(t *testing.T) (names []string) {
	t.Helper()
	entries, err := os.ReadDir(h.marks)
	require.NoError(t, err)
	for _, e := range entries {
		names = append(names, e.Name())
		require.NoError(t, os.Remove(filepath.Join(h.marks, e.Name())))
	}
	return names
}

// program makes one that leaves a mark of its name and then fails.
func (h trap) program(t *testing.T, name string) string {
	t.Helper()
	file := filepath.Join(h.dir, "..", "programs", name)
	require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
	require.NoError(t, os.WriteFile(file, []byte("#!/bin/sh\n: >'"+filepath.Join(h.marks, name)+"'\nexit 1\n"), 0o755))
	return file
}

func setTrap(t *testing.T) trap {
	needGit(t)
	base := canonical(t, t.TempDir())
	h := trap{filepath.Join(base, "repo"), filepath.Join(base, "marks")}
	origin := filepath.Join(base, "origin")
	require.NoError(t, os.MkdirAll(h.marks, 0o755))
	require.NoError(t, os.MkdirAll(origin, 0o755))

	sh(t, origin, "init", "-q", "-b", "main")
	write(t, origin, "builds/van/build.toml", "first\n", "builds/van/front.jpg", "jpeg", "shop.toml", "[shop]\n",
		".gitattributes", "* filter=evil diff=evil merge=evil export-subst ident\n")
	commitAll(t, origin)
	write(t, origin, "builds/van/build.toml", "second\n")
	commitAll(t, origin)
	sh(t, origin, "config", "uploadpack.allowFilter", "true")
	sh(t, base, "clone", "-q", "--filter=blob:none", "file://"+origin, h.dir)

	var config strings.Builder
	set := func(section string, keys ...string) {
		fmt.Fprintf(&config, "[%s]\n", section)
		for _, key := range keys {
			mark := strings.ReplaceAll(strings.Trim(section, `"`), ` "`, "-") + "-" + key
			fmt.Fprintf(&config, "\t%s = %s\n", key, h.program(t, strings.ReplaceAll(mark, `"`, "")))
		}
	}
	set("core", "fsmonitor", "pager", "editor", "askPass", "sshCommand", "gitProxy", "alternateRefsCommand")
	set("pager", "rev-parse", "ls-tree", "cat-file", "for-each-ref", "log", "rev-list")
	set(`filter "evil"`, "smudge", "clean")
	set(`diff "evil"`, "textconv", "command")
	set("diff", "external")
	set("gpg", "program")
	set(`gpg "ssh"`, "program")
	set("credential", "helper")
	set("uploadpack", "packObjectsHook")
	set(`remote "origin"`, "uploadpack")
	for _, name := range []string{"rev-parse", "ls-tree", "cat-file", "for-each-ref", "rev-list"} {
		fmt.Fprintf(&config, "[alias]\n\t%s = !%s\n", name, h.program(t, "alias-"+name))
	}
	hooks := filepath.Join(base, "hooks")
	require.NoError(t, os.Mkdir(hooks, 0o755))
	for _, hook := range []string{"post-index-change", "post-checkout", "reference-transaction", "pre-auto-gc", "fsmonitor-watchman"} {
		require.NoError(t, os.Symlink(h.program(t, "hook-"+hook), filepath.Join(hooks, hook)))
	}
	fmt.Fprintf(&config, "[core]\n\thooksPath = %s\n[log]\n\tshowSignature = true\n", hooks)
	fmt.Fprint(&config, "[protocol]\n\tallow = always\n[protocol \"ext\"]\n\tallow = always\n[protocol \"file\"]\n\tallow = always\n")
	file, err := os.OpenFile(filepath.Join(h.dir, ".git", "config"), os.O_APPEND|os.O_WRONLY, 0)
	require.NoError(t, err)
	_, err = file.WriteString(config.String())
	require.NoError(t, err)
	require.NoError(t, file.Close())
	h.sprung(t)
	t.Chdir(h.dir)
	return h
}

// careless runs git as one does who trusts the repository; whether it succeeds does not matter.
func (h trap) careless(args ...string) {
	cmd := exec.Command("git", args...)
	cmd.Dir = h.dir
	_ = cmd.Run()
}

func TestHostileRepository(t *testing.T) {
	h := setTrap(t)

	// The traps work: git that is run carelessly springs them.
	missing := "HEAD~1:builds/van/build.toml"
	h.careless("cat-file", "-p", missing)
	assert.Contains(t, h.sprung(t), "remote-origin-uploadpack")
	h.careless("status")
	assert.Contains(t, h.sprung(t), "core-fsmonitor")
	h.careless("cat-file", "--textconv", "HEAD:shop.toml")
	assert.Contains(t, h.sprung(t), "diff-evil-textconv")
	h.careless("cat-file", "--filters", "HEAD:shop.toml")
	assert.Contains(t, h.sprung(t), "filter-evil-smudge")
	write(t, h.dir, "shop.toml", "[shop] # edited\n")
	h.careless("diff")
	assert.Contains(t, h.sprung(t), "diff-evil-command")

	for _, remote := range []string{"", "ext::" + h.program(t, "remote-ext") + " %S", "ssh://host.invalid/repo"} {
		if remote != "" {
			sh(t, h.dir, "config", "--unset-all", "remote.origin.uploadpack")
			sh(t, h.dir, "config", "--add", "remote.origin.uploadpack", "git-upload-pack")
			sh(t, h.dir, "config", "remote.origin.url", remote)
			h.sprung(t)
			h.careless("cat-file", "-p", missing)
			assert.NotEmpty(t, h.sprung(t), remote)
		}
		h.readAll(t)
		assert.Empty(t, h.sprung(t), "remote %q", remote)
	}
}

// readAll does all that the package can do with a repository.
func (h trap) readAll(t *testing.T) {
	t.Helper()
	build := one(t, "HEAD:builds/van")
	assert.Equal(t, "second\n", read1(t, build, "build.toml"))
	files, err := build.List()
	require.NoError(t, err)
	assert.Len(t, files, 2)
	_, _, err = build.Digest("front.jpg")
	require.NoError(t, err)
	_, content, _, err := shopOf(build)
	require.NoError(t, err)
	assert.Equal(t, "[shop]\n", string(content))
	_, err = one(t, "HEAD~1:builds/van").Read("build.toml")
	assert.ErrorContains(t, err, "git has not fetched it")
	for _, arg := range []string{"HAED:.", "HEAD~9:.", "mian:.", "HEAD:builds/vna", "--exec=x:.", "HEAD:../.."} {
		_, err := Open(arg)
		assert.Error(t, err, arg)
	}
	assert.Equal(t, []string{"builds/van"}, folders(builds(t, ".")))
	assert.Equal(t, []string{"builds/van -> builds/van"}, since(t, "HEAD~1", "HEAD:."), "by ids, without the files that are not there")
	assert.Equal(t, []string{"builds/van -> builds/van"}, since(t, "HEAD", "builds"), "its shop's file was edited above")
	_, err = glance(t, "builds").Past("--exec=x")
	assert.Error(t, err)
	van := glance(t, "HEAD:builds/van")
	steps, _, err := van.Steps()
	require.NoError(t, err)
	require.Len(t, steps, 2)
	assert.NotEmpty(t, van.Top())
	last, err := steps[1].Build()
	require.NoError(t, err)
	assert.Equal(t, "second\n", read1(t, last, "build.toml"))
	first, err := steps[0].Build()
	require.NoError(t, err)
	_, err = first.Read("build.toml")
	assert.ErrorContains(t, err, "git has not fetched it")
}

// What the environment says of the repository stays; what has git run, write
// or be configured by others goes.
func TestEnvironment(t *testing.T) {
	got := environment([]string{"PATH=/bin", "GIT_DIR=x", "GIT_WORK_TREE=y", "GIT_INDEX_FILE=z", "GIT_OBJECT_DIRECTORY=o",
		"GIT_ALTERNATE_OBJECT_DIRECTORIES=a", "GIT_EXTERNAL_DIFF=evil", "GIT_CONFIG_COUNT=1", "GIT_CONFIG_KEY_0=k",
		"GIT_CONFIG_PARAMETERS=p", "GIT_TRACE=/f", "GIT_TRACE2_EVENT=/f", "GIT_ALLOW_PROTOCOL=ext"})
	assert.Equal(t, append([]string{"PATH=/bin", "GIT_DIR=x", "GIT_WORK_TREE=y", "GIT_INDEX_FILE=z", "GIT_OBJECT_DIRECTORY=o",
		"GIT_ALTERNATE_OBJECT_DIRECTORIES=a", "GIT_ALLOW_PROTOCOL=ext"}, settings...), got, "of two, the last counts")
}
