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

// TestReportOverLedger: no report takes the place of a ledger's file or of a
// document, by whatever name, and the others are written all the same.
func TestReportOverLedger(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	require.NoError(t, os.Mkdir("van", 0o755))
	files := map[string]string{"van/build.toml": "[build]\n", "van/parts.toml": "[part.engine]\n", "shop.toml": "[shop]\n", "van/ticket.txt": "3055 lb",
		"van/papers.toml": "[document.ticket]\nkind = \"scale-ticket\"\nfile = \"ticket.txt\"\n"}
	for name, text := range files {
		require.NoError(t, os.WriteFile(name, []byte(text), 0o644))
	}
	require.NoError(t, os.Symlink("van/parts.toml", "link"))
	require.NoError(t, os.Link("van/ticket.txt", "hard"))
	for _, name := range []string{"van/parts.toml", "./van/../van/build.toml", "shop.toml", "van/new.toml", "van/NEW.TOML", "link", "van/ticket.txt", "van/./ticket.txt", filepath.Join(dir, "van/ticket.txt")} {
		var stdout, stderr bytes.Buffer
		status := run([]string{"fishplate", "check", "van", "--report", "text=" + name, "--report", "json=good.json"}, &program{out: &stdout, err: &stderr, packs: toy(), today: "2026-03-01"})
		assert.Equal(t, statusUnread, status, name)
		assert.Contains(t, stderr.String(), name+": ", name)
		for name, text := range files {
			got, err := os.ReadFile(name)
			require.NoError(t, err)
			assert.Equal(t, text, string(got), name)
		}
	}
	for _, gone := range []string{"van/new.toml", "van/NEW.TOML"} {
		assert.NoFileExists(t, gone)
	}
	assert.FileExists(t, "good.json", "beside a document's")
	var stdout, stderr bytes.Buffer
	run([]string{"fishplate", "check", "van", "--report", "text=hard"}, &program{out: &stdout, err: &stderr, packs: toy(), today: "2026-03-01"})
	got, err := os.ReadFile("van/ticket.txt")
	require.NoError(t, err)
	assert.Equal(t, "3055 lb", string(got), "its other name is given up, and the document stays")
}

// TestTwoReportsToOneFile: however the file is named.
func TestTwoReportsToOneFile(t *testing.T) {
	t.Chdir(oneBuild(t))
	require.NoError(t, os.Mkdir("d", 0o755))
	require.NoError(t, os.Symlink("d", "e"))
	require.NoError(t, os.WriteFile("d/there", nil, 0o644))
	require.NoError(t, os.Symlink("d/there", "link"))
	here, err := os.Getwd()
	require.NoError(t, err)
	for _, two := range [][2]string{{"o", "o"}, {"o", "./o"}, {"o", "d/../o"}, {"d/o", "e/o"}, {"o", filepath.Join(here, "o")}, {"link", "e/there"}} {
		var stdout, stderr bytes.Buffer
		status := run([]string{"fishplate", "check", "--report", "json=" + two[0], "--report", "text=" + two[1]}, &program{out: &stdout, err: &stderr, packs: toy(), today: "2026-03-01"})
		assert.Equal(t, statusUnread, status, two)
		assert.Equal(t, "fishplate: two reports to "+two[1]+"\n", stderr.String())
	}
}

// TestHalfWritten: a report that cannot be written whole leaves an older one,
// and the other reports are written.
func TestHalfWritten(t *testing.T) {
	t.Chdir(oneBuild(t))
	require.NoError(t, os.WriteFile("out.json", []byte("older"), 0o644))
	p := &program{out: &bytes.Buffer{}}
	outs, err := p.outputs(report.Kinds, []string{"json=out.json", "junit=out.xml"}, report.Options{})
	require.NoError(t, err)
	full, err := os.OpenFile(os.DevNull, os.O_RDONLY, 0) // takes no byte, as a full disk
	require.NoError(t, err)
	whole := outs.files[0].File
	outs.files[0].File = full
	_, err = outs.files[0].Write([]byte("{"))
	require.Error(t, err)
	outs.files[0].File = whole
	require.NoError(t, full.Close())
	err = outs.close(&report.Totals{})
	assert.ErrorContains(t, err, "out.json: cannot be written")
	assert.NotContains(t, err.Error(), ".out.json", "nobody named the temporary file")
	text, err := os.ReadFile("out.json")
	require.NoError(t, err)
	assert.Equal(t, "older", string(text))
	assert.FileExists(t, "out.xml")
	left, err := filepath.Glob(".out*")
	require.NoError(t, err)
	assert.Empty(t, left)
}
