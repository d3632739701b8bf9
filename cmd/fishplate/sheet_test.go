package main

import (
	"encoding/csv"
	"os"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/lint/report"
)

// hostileVan has names that would be markup, formulas, commands of a terminal
// or of a CI host, wherever a sheet shows a ledger's own words.
const hostileVan = `
[part.a]
name = "\"></title><img src=x onerror=alert(1)><script>alert(1)</script>"
at = { behind = "1 in", right = "0 in", above = "1 in" }
[part.b]
name = "=HYPERLINK(\"http://example.org\")"
[gap.x]
between = ["part.a", "part.b"]
[gap.y]
between = ["part.b", "::error:: <style>*{display:none}</style>"]
note = "{{.Title}}"
`

// TestSheetIsSafe: no control character and no markup of a ledger reaches a
// sheet, and nothing on the page is fetched or run.
func TestSheetIsSafe(t *testing.T) {
	t.Chdir(t.TempDir())
	dir := "a\x1b[2J<b>" // which is the title too
	require.NoError(t, os.Mkdir(dir, 0o755))
	require.NoError(t, os.WriteFile(dir+"/build.toml", []byte(hostileVan), 0o644))
	for _, k := range report.SheetKinds {
		status, out, told := fishplate("sheet", "--all", "--report", k.Name, dir)
		require.Zero(t, status, told)
		require.Contains(t, out, "gap.x", k.Name)
		for _, line := range strings.Split(strings.ReplaceAll(out, "\r\n", "\n"), "\n") {
			assert.Less(t, strings.IndexFunc(line, func(r rune) bool { return !unicode.IsGraphic(r) }), 0, "%s: %q", k.Name, line)
			assert.False(t, strings.HasPrefix(line, "::"), line)
		}
	}
	_, page, _ := fishplate("sheet", "--all", "--report", "html", dir)
	assert.Contains(t, page, `content="default-src 'none'; style-src 'unsafe-inline'"`)
	for _, tag := range regexp.MustCompile(`<[^>]*>`).FindAllString(page, -1) {
		assert.Regexp(t, `^<(!DOCTYPE html|/?(html|head|title|style|body|h1|p|div|span|table|colgroup|col|thead|tbody|tr|th|td|b)|meta [a-z-]+="[^"]*"( content="[^"]*")?)( (class|lang|colspan)="[a-z0-9 ]+")?>$`, tag)
	}
	assert.Equal(t, 1, strings.Count(page, "<style>"))
	_, table, _ := fishplate("sheet", "--all", "--report", "csv", dir)
	rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	require.NoError(t, err)
	for _, row := range rows {
		for _, cell := range row {
			assert.NotRegexp(t, `^\s*[=+@-]`, cell)
		}
	}
}

// TestSheetOfBrokenBuild: what can be read of it is on the sheet, and the
// faults are told.
func TestSheetOfBrokenBuild(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("build.toml", []byte("[gap.x]\nmeasured = \"1 in\"\n[part.a]\nmass = \"heavy\"\n"), 0o644))
	status, out, told := fishplate("sheet", "--all", ".")
	assert.Equal(t, statusUnread, status)
	assert.Contains(t, told, "build.toml:4:8: mass: ")
	assert.Contains(t, out, "gap.x; for toy/gap")
}
