package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/lint/report"
)

// broken is a standard output that takes nothing.
type broken struct{ err error }

func (b broken) Write([]byte) (int, error) {
	return 0, &os.PathError{Op: "write", Path: "stdout", Err: b.err}
}

// oneBuild is a folder with a build on which something fails.
func oneBuild(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	text := "[build]\nstage = \"delivery\"\n[fuel]\nfiller-label = \"gas\"\n"
	require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), []byte(text), 0o644))
	return dir
}

// TestReaderGone: where the reader of the output has gone, nothing is said of
// it, the files are written all the same, and the status tells what was found.
func TestReaderGone(t *testing.T) {
	dir := oneBuild(t)
	var stderr bytes.Buffer
	file := filepath.Join(dir, "out.json")
	status := run([]string{"fishplate", "check", dir, "--report", "text", "--report", "json=" + file},
		&program{out: broken{syscall.EPIPE}, err: &stderr, packs: toy(), today: "2026-03-01"})
	assert.Equal(t, statusFails, status)
	assert.Empty(t, stderr.String())
	assert.FileExists(t, file)
}

// TestOutputFull: any other failure of the output is told, and is not a verdict.
func TestOutputFull(t *testing.T) {
	var stderr bytes.Buffer
	status := run([]string{"fishplate", "check", oneBuild(t)}, &program{out: broken{syscall.ENOSPC}, err: &stderr, packs: toy(), today: "2026-03-01"})
	assert.Equal(t, statusUnread, status)
	assert.Contains(t, stderr.String(), "no space left on device")
}

// TestFilesAreWholeOrNotThere: a report that is not finished leaves neither a
// file nor a scrap of one, and an older one as it was.
func TestFilesAreWholeOrNotThere(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "out.json")
	require.NoError(t, os.WriteFile(name, []byte("older"), 0o600))
	p := &program{out: &bytes.Buffer{}}
	outs, err := p.outputs(report.Kinds, []string{"json=" + name}, report.Options{})
	require.NoError(t, err)
	outs.drop()
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "older", string(text))
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, left, 1)

	outs, err = p.outputs(report.Kinds, []string{"json=" + name}, report.Options{})
	require.NoError(t, err)
	require.NoError(t, outs.close(&report.Totals{}))
	text, err = os.ReadFile(name)
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(string(text), `{"fishplate": 2`))
	info, err := os.Stat(name)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o600), info.Mode().Perm(), "the file keeps its mode")
}
