package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestCompareUnreadBefore: a build of the older tree that cannot be read costs the
// others nothing. It counts as worse where a check of it fails now, for nobody can say
// that it did before; one that cannot be read in the newer tree is an error.
func TestCompareUnreadBefore(t *testing.T) {
	t.Chdir(t.TempDir())
	put := func(tree, build, mass, more string) {
		name := filepath.Join(tree, build, "build.toml")
		require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o755))
		text := "[build]\ntitle = \"" + build + "\"\nstage = \"plan\"\n\n[vehicle]\nwheelbase = \"100 in\"\n\n[vehicle.front]\nrating = \"1000 lb\"\n\n" +
			"[part.engine]\ncount = 1\nmass = \"" + mass + "\"\nat = { behind = \"0 in\" }\n\n[engine]\nidle = \"700 rpm\"\ncruise-limit = \"2000 rpm\"\n" + more
		require.NoError(t, os.WriteFile(name, []byte(text), 0o644))
	}
	compare := func(kind string) (status int, out, errs string) {
		var o, e strings.Builder
		status = run([]string{"fishplate", "compare", "a", "b", "--report", kind}, &program{out: &o, err: &e, packs: toy(), today: "2026-03-01"})
		return status, o.String(), e.String()
	}
	put("a", "heron", "800 lb", "")
	put("b", "heron", "810 lb", "")
	put("a", "marten", "800 lb", "]\n")
	put("b", "marten", "800 lb", "")
	for kind, want := range map[string]string{
		"text":     "read now  b/marten: not compared, as what was before cannot be read: a/marten/build.toml:19:1:",
		"markdown": "| read now | <code>b/marten</code> | not compared, as what was before cannot be read:",
		"line":     "heron: no check got worse; 1 entry differs; 2 builds: 2 not worse\n",
		"json":     `"unread-before": [{"folder":"b/marten",`,
	} {
		status, out, errs := compare(kind)
		assert.Equal(t, statusClean, status, kind)
		assert.Empty(t, errs, kind)
		assert.Contains(t, out, want, kind)
		assert.Contains(t, out, "heron", kind)
	}
	put("b", "marten", "1200 lb", "")
	status, out, errs := compare("text")
	assert.Equal(t, statusFails, status)
	assert.Empty(t, errs)
	assert.Contains(t, out, "worse     b/marten: not compared")
	status, out, _ = compare("line")
	assert.Equal(t, statusFails, status)
	assert.Equal(t, "marten: not compared, unread before; 2 builds: 1 worse, 1 not worse\n", out)
	put("b", "dunlin", "1 lb", "]\n")
	put("a", "dunlin", "1 lb", "")
	status, out, errs = compare("text")
	assert.Equal(t, statusUnread, status)
	assert.Contains(t, errs, "b/dunlin/build.toml:19:1:")
	assert.Contains(t, out, "b/heron", "the others are told all the same")
	_, out, _ = compare("line")
	assert.Equal(t, "marten: not compared, unread before; 3 builds\n", out)
}

// TestMergeTooLong: a version that is longer than a ledger's file may be is told by
// which it is, and ours stays as it was.
func TestMergeTooLong(t *testing.T) {
	t.Chdir(t.TempDir())
	small, long := "[part.x]\nmass = \"1 lb\"\n", strings.Repeat("# remark\n", 1<<17)
	for name, text := range map[string]string{"base": small, "ours": long, "theirs": long} {
		require.NoError(t, os.WriteFile(name, []byte(text), 0o644))
	}
	var o, e strings.Builder
	status := run([]string{"fishplate", "merge", "base", "ours", "theirs", "builds/van/parts.toml"}, &program{out: &o, err: &e, packs: toy(), today: "2026-03-01"})
	assert.Equal(t, statusUnread, status)
	assert.Empty(t, o.String())
	assert.Equal(t, "builds/van/parts.toml cannot be merged key by key: longer than the 1048576 bytes that are read of a ledger's file: ours, theirs; split it into several files, or merge it by hand\n", e.String())
	text, err := os.ReadFile("ours")
	require.NoError(t, err)
	assert.Equal(t, long, string(text))
}
