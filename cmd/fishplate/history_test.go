package main

import (
	"bytes"
	"encoding/csv"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger/golden"
)

// needsGit skips where there is no git, but not on a CI host, which must have it.
func needsGit(t *testing.T) {
	t.Helper()
	if _, err := exec.LookPath("git"); err != nil && os.Getenv("CI") == "" {
		t.Skip("git is not installed")
	}
}

// gitAt runs git on a day, for a commit whose id is always the same.
func gitAt(t *testing.T, dir, day string, args ...string) {
	t.Helper()
	c := exec.Command("git", args...)
	c.Dir = dir
	c.Env = append(os.Environ(), "GIT_CONFIG_GLOBAL="+os.DevNull, "GIT_CONFIG_SYSTEM="+os.DevNull,
		"GIT_AUTHOR_NAME=June Farrow", "GIT_AUTHOR_EMAIL=june@example.org", "GIT_AUTHOR_DATE="+day+"T12:00:00+0000",
		"GIT_COMMITTER_NAME=June Farrow", "GIT_COMMITTER_EMAIL=june@example.org", "GIT_COMMITTER_DATE="+day+"T12:00:00+0000")
	out, err := c.CombinedOutput()
	require.NoError(t, err, "git %v: %s", args, out)
}

// withWinch is the example's winch in a repository: fitted, and then off again.
func withWinch(t *testing.T) {
	t.Helper()
	needsGit(t)
	examples, err := filepath.Abs("../../examples/tamarack")
	require.NoError(t, err)
	t.Setenv("XDG_CACHE_HOME", filepath.Join(t.TempDir(), "cache"))
	t.Chdir(t.TempDir())
	gitAt(t, ".", "2026-06-09", "init", "-q", "-b", "main")
	shop, err := os.ReadFile(filepath.Join(examples, "shop.toml"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("shop.toml", shop, 0o644))
	for _, c := range []struct{ day, from, about string }{
		{"2026-06-09", "before", "Begin bittern"},
		{"2026-07-13", "after", "Winch in front, battery ahead of the axle"},
		{"2026-08-03", "before", "Take the winch off again"},
	} {
		require.NoError(t, os.RemoveAll("bittern"))
		require.NoError(t, os.CopyFS("bittern", os.DirFS(filepath.Join(examples, "changes", "winch", c.from))))
		gitAt(t, ".", c.day, "add", "-A")
		gitAt(t, ".", c.day, "commit", "-q", "-m", c.about)
	}
}

// historyMark stands before the README's screen of a history.
var historyMark = regexp.MustCompile("(?s)(<!-- the winch in a repository: (history [^>]+?) -->\n```text\n)(.*?)(```\n)")

// TestReadmeHistory: the README's histories are what the commands print.
func TestReadmeHistory(t *testing.T) {
	readme, err := filepath.Abs("../../README.md")
	require.NoError(t, err)
	stored, err := os.ReadFile(readme)
	require.NoError(t, err)
	withWinch(t)
	t.Setenv("COLUMNS", "80")
	text := string(stored)
	marks := historyMark.FindAllStringSubmatch(text, -1)
	require.Len(t, marks, 2)
	for _, m := range marks {
		var out, errs bytes.Buffer
		require.Equal(t, statusClean, run(strings.Fields("fishplate "+m[2]), real(&out, &errs)), errs.String())
		text = strings.Replace(text, m[0], m[1]+out.String()+m[4], 1)
	}
	golden.Check(t, readme, text)
}

// TestHistory: what each kind of report has of a history, and what is refused.
func TestHistory(t *testing.T) {
	withWinch(t)
	say := func(want int, line string) (string, string) {
		t.Helper()
		var out, errs bytes.Buffer
		assert.Equal(t, want, run(strings.Fields("fishplate "+line), real(&out, &errs)), line+"\n"+errs.String())
		return out.String(), errs.String()
	}
	out, _ := say(statusClean, "history bittern weight/front-axle --report csv --report svg=f.svg --report html=f.html --report json=f.json")
	rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 4, "a head and three commits")
	assert.Equal(t, []string{"pass", "fail", "pass"}, []string{rows[1][6], rows[2][6], rows[3][6]})
	assert.Equal(t, "Winch in front, battery ahead of the axle", rows[2][3])
	for name, want := range map[string]string{"f.svg": "<svg", "f.html": "<svg", "f.json": `"verdict":"fail"`} {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		assert.Contains(t, string(text), want, name)
		assert.NotContains(t, string(text), "<script", name)
	}
	out, _ = say(statusClean, "history HEAD~1:bittern --failed-since")
	assert.Contains(t, out, "weight/front-axle on vehicle.front")
	assert.Contains(t, out, "Winch in front")
	assert.Contains(t, out, "by part.winch-bumper")
	out, _ = say(statusClean, "history bittern --failed-since weight/front-axle")
	assert.Contains(t, out, "weight/front-axle fails nowhere at the last commit.")
	for line, message := range map[string]string{
		"history":                           "fishplate: history takes a build, and perhaps a rule and an entry; got 0 words; try: fishplate history --help\n",
		"history bittern weight/front-axel": "fishplate: there is no rule \"weight/front-axel\" (did you mean \"weight/front-axle\"?); fishplate explain lists them all\n",
		"history bittern weight/front-axle part.winch": "fishplate: weight/front-axle never judged \"part.winch\"\n",
		"history nosuch":               "nosuch: no such folder\n",
		"history .":                    "HEAD:.: no commit has a build here\n",
		"history bittern --report svg": "svg draws a figure; name a rule after the build\n",
	} {
		_, errs := say(statusUnread, line)
		assert.Equal(t, message, errs, line)
	}
	require.NoError(t, os.Mkdir("fresh", 0o755))
	require.NoError(t, os.WriteFile("fresh/build.toml", []byte("[build]\n"), 0o644))
	_, errs := say(statusUnread, "history fresh")
	assert.Equal(t, "fresh: not committed yet: no commit up to HEAD has this folder\n", errs)
}

// TestHistoryBeginsInTheMiddle: a commit that took the folder away and laid down one
// that is less than half like it is no move, and is told; a move is followed.
func TestHistoryBeginsInTheMiddle(t *testing.T) {
	withWinch(t)
	require.NoError(t, os.Rename("bittern", "osprey"))
	gitAt(t, ".", "2026-09-05", "add", "-A")
	gitAt(t, ".", "2026-09-05", "commit", "-q", "-m", "Osprey")
	told := func(build string) string {
		var out, errs bytes.Buffer
		require.Equal(t, statusClean, run([]string{"fishplate", "history", build}, real(&out, &errs)), errs.String())
		return strings.Join(strings.Fields(out.String()), " ")
	}
	assert.Contains(t, told("osprey"), "4 commits that touch it")
	assert.NotContains(t, told("osprey"), "took bittern away")
	require.NoError(t, os.Rename("osprey", "kestrel"))
	files, err := filepath.Glob("kestrel/*.toml")
	require.NoError(t, err)
	for _, f := range files {
		require.NoError(t, os.WriteFile(f, []byte(read(t, f)+"# laid out anew\n"), 0o644))
	}
	gitAt(t, ".", "2026-09-06", "add", "-A")
	gitAt(t, ".", "2026-09-06", "commit", "-q", "-m", "Kestrel")
	assert.Regexp(t, `1 commit that touches it, .* It begins with [0-9a-f]{10}, which took [0-9a-f]{10}:osprey away: fewer than half of the files are the same`, told("kestrel"))
}

// TestHistoryOfHostile: what a commit says of itself is no markup, no command
// and no control character anywhere.
func TestHistoryOfHostile(t *testing.T) {
	after, err := filepath.Abs("../../examples/tamarack/changes/winch/after")
	require.NoError(t, err)
	withWinch(t)
	evil := "<script>alert(1)</script> \x1b[31m ::error::x =HYPERLINK(1) \u202e"
	require.NoError(t, os.RemoveAll("bittern"))
	require.NoError(t, os.CopyFS("bittern", os.DirFS(after)))
	gitAt(t, ".", "2026-09-05", "add", "-A")
	gitAt(t, ".", "2026-09-05", "commit", "-q", "-m", evil, "--author", "E\x1b[31mve\x07\u202e <e@example.org>")
	for _, kind := range []string{"text", "csv", "json", "html"} {
		for _, words := range []string{"bittern", "bittern weight/front-axle", "HEAD:bittern --failed-since"} {
			var out, errs bytes.Buffer
			run(append([]string{"fishplate", "history", "--report", kind}, strings.Fields(words)...), real(&out, &errs))
			assert.Contains(t, out.String(), "alert(1)", "it is there, and inert")
			bad := []string{"\x1b", "\x07", "\u202e", "\n::error"}
			if kind == "html" {
				bad = append(bad, "<script")
			}
			for _, bad := range bad {
				assert.NotContains(t, out.String(), bad, kind+" "+words)
			}
		}
	}
}

// TestBookHistory: the book's page of history has a drawing of each figure that
// changed, and a row a commit; what a commit says of itself is
// the shop's alone, and everyone's edition has no such page. Without commits the
// page says so.
func TestBookHistory(t *testing.T) {
	withWinch(t)
	for edition, has := range map[string]struct{ page, about bool }{"shop": {true, true}, "owner": {true, false}, "inspector": {true, false}, "public": {}} {
		page := read(t, bookOf(t, "bittern", edition))
		_, history, there := strings.Cut(page, `<section class="part" id="history">`)
		assert.Equal(t, has.page, there, edition)
		assert.Equal(t, has.about, strings.Contains(page, "Take the winch off again"), edition)
		if !there {
			continue
		}
		history, _, _ = strings.Cut(history, "</section>")
		assert.Contains(t, history, "Front axle", edition)
		assert.Equal(t, 3, strings.Count(history, `<th scope="row"><span class="whole">2026-`), edition)
		assert.Contains(t, history, "<svg", edition)
	}
	require.NoError(t, os.RemoveAll(".git"))
	page := read(t, bookOf(t, "bittern", "owner"))
	assert.Contains(t, page, "There is no history to show")
}
