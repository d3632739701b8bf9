//go:build unix

package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestHostileRepository runs the commands over a repository whose
// configuration names a program wherever git takes one. None of them runs; a
// careless git command, first, shows that they would.
func TestHostileRepository(t *testing.T) {
	base := t.TempDir()
	t.Setenv("XDG_CACHE_HOME", filepath.Join(base, "cache"))
	repo, marks := filepath.Join(base, "repo"), filepath.Join(base, "marks")
	require.NoError(t, os.MkdirAll(marks, 0o755))
	evil := filepath.Join(base, "program")
	require.NoError(t, os.WriteFile(evil, []byte("#!/bin/sh\n: >'"+marks+"/ran'\nexit 1\n"), 0o755))
	git := func(args ...string) error {
		c := exec.Command("git", args...)
		c.Dir = repo
		c.Env = append(os.Environ(), "GIT_CONFIG_GLOBAL=/dev/null", "GIT_CONFIG_SYSTEM=/dev/null", "GIT_AUTHOR_NAME=Ann", "GIT_AUTHOR_EMAIL=ann@example.org", "GIT_COMMITTER_NAME=Ann", "GIT_COMMITTER_EMAIL=ann@example.org")
		return c.Run()
	}
	require.NoError(t, os.CopyFS(filepath.Join(repo, "van"), os.DirFS("../../examples/tamarack/changes/winch/before")))
	require.NoError(t, os.WriteFile(filepath.Join(repo, ".gitattributes"), []byte("* filter=evil diff=evil merge=evil\n"), 0o644))
	shop, err := os.ReadFile("../../examples/tamarack/shop.toml")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(repo, "shop.toml"), shop, 0o644))
	require.NoError(t, git("init", "-q", "-b", "main"))
	require.NoError(t, git("add", "."))
	require.NoError(t, git("commit", "-q", "-m", "before"))
	require.NoError(t, os.CopyFS(filepath.Join(base, "after"), os.DirFS("../../examples/tamarack/changes/winch/after")))
	require.NoError(t, os.RemoveAll(filepath.Join(repo, "van")))
	require.NoError(t, os.Rename(filepath.Join(base, "after"), filepath.Join(repo, "van")))
	require.NoError(t, git("add", "."))
	require.NoError(t, git("commit", "-q", "-m", "after"))

	var config strings.Builder
	for _, key := range []string{"core.fsmonitor", "core.pager", "core.editor", "core.sshCommand", "core.askPass", "filter.evil.smudge", "filter.evil.clean", "filter.evil.process",
		"diff.evil.textconv", "diff.evil.command", "diff.external", "gpg.program", "credential.helper", "pager.cat-file", "pager.ls-tree"} {
		section, name := key[:strings.LastIndex(key, ".")], key[strings.LastIndex(key, ".")+1:]
		if head, sub, ok := strings.Cut(section, "."); ok {
			section = fmt.Sprintf("%s %q", head, sub)
		}
		fmt.Fprintf(&config, "[%s]\n\t%s = %s\n", section, name, evil)
	}
	fmt.Fprint(&config, "[log]\n\tshowSignature = true\n[remote \"origin\"]\n\turl = ext::"+evil+"\n\tpromisor = true\n[protocol]\n\tallow = always\n[protocol \"ext\"]\n\tallow = always\n")
	file, err := os.OpenFile(filepath.Join(repo, ".git", "config"), os.O_APPEND|os.O_WRONLY, 0)
	require.NoError(t, err)
	_, err = file.WriteString(config.String())
	require.NoError(t, err)
	require.NoError(t, file.Close())

	ran := func() bool { _, err := os.Stat(filepath.Join(marks, "ran")); return err == nil }
	_ = git("status")
	require.True(t, ran(), "the trap does not spring, so this test would prove nothing")
	require.NoError(t, os.Remove(filepath.Join(marks, "ran")))

	cwd, err := os.Getwd()
	require.NoError(t, err)
	for line, want := range map[string]int{
		"check HEAD:van":                           statusFails,
		"check van":                                statusFails,
		"check main~1:.":                           statusClean,
		"compare HEAD~1:van HEAD:van":              statusFails,
		"compare HEAD~1:. HEAD:.":                  statusFails,
		"compare HEAD~1:. .":                       statusFails,
		"check --changed-from HEAD~1 HEAD:.":       statusFails,
		"check --changed-from HEAD~1":              statusFails,
		"history van":                              statusClean,
		"history HEAD:van weight/front-axle":       statusClean,
		"history van --failed-since":               statusClean,
		"compare HEAD~1:van van":                   statusFails,
		"explain weight/front-axle HEAD:van":       statusClean,
		"check nosuch:van":                         statusUnread,
		"check --report sarif main:van":            statusFails,
		"compare --report markdown HEAD~1:van van": statusFails,
	} {
		t.Chdir(repo)
		var out, errs bytes.Buffer
		got := run(append([]string{"fishplate"}, strings.Fields(line)...), real(&out, &errs))
		assert.Equal(t, want, got, "%s\n%s", line, errs.String())
		assert.False(t, ran(), line)
		t.Chdir(cwd)
	}
}
