package main

import (
	"bytes"
	"os"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestStartAnyTitle: a folder may have any name that the system takes, and the
// build in it loads.
func TestStartAnyTitle(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("these are no names there")
	}
	t.Chdir(t.TempDir())
	for _, name := range []string{"a\ab", "a\x7fb", "a\\b", `a"b`, "a'b", "a\nb", "a\tb", "a\x1b[31mb", "van 1967 [build]", "\u202evan", "van\u200b", "ван", "a\u00a0b", "b = 1", "#", "\xff\xfe", strings.Repeat("x", 200)} {
		var out, errs bytes.Buffer
		assert.Equal(t, statusClean, run([]string{"fishplate", "start", name}, &program{out: &out, err: &errs, packs: toy(), today: "2026-03-01"}), "%q: %s", name, errs.String())
		assert.Equal(t, statusClean, run([]string{"fishplate", "check", name}, &program{out: &out, err: &errs, packs: toy(), today: "2026-03-01"}), "%q: %s", name, errs.String())
		assert.NotContains(t, out.String(), "\x1b")
		require.NoError(t, os.RemoveAll(name))
	}
}

// TestWordsAreText: what a flag would put into a ledger is text, or refused.
func TestWordsAreText(t *testing.T) {
	dir := oneBuild(t)
	require.NoError(t, os.WriteFile(dir+"/n.txt", nil, 0o644))
	for _, line := range [][]string{
		{"attach", dir, dir + "/n.txt", "--kind", "caf\xe9"}, {"attach", dir, dir + "/n.txt", "--kind=caf\xe9"},
		{"sign", dir, "--stage", "intake", "--by", "Jos\xe9"}, {"check", dir, "--as-of", "\xff"}, {"check", dir, "--stage", "\xc0\xaf"},
	} {
		var out, errs bytes.Buffer
		assert.Equal(t, statusUnread, run(append([]string{"fishplate"}, line...), &program{out: &out, err: &errs, packs: toy(), today: "2026-03-01"}))
		assert.Contains(t, errs.String(), "is not UTF-8 text")
		assert.NoDirExists(t, dir+"/documents")
	}
}
