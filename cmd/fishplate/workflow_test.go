package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/rhysd/actionlint"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.yaml.in/yaml/v3"
)

// workflow is what a test needs of a workflow's file.
type workflow struct {
	Permissions map[string]string
	Jobs        map[string]struct {
		If          string
		Permissions map[string]string
		Steps       []workflowStep
	}
}

type workflowStep struct {
	Name, Uses, If, Run string
	Env                 map[string]string
	Dir                 string `yaml:"working-directory"`
}

const shopsWorkflow = "../../.github/for-shops/checks.yml"

func readWorkflow(t *testing.T) (w workflow) {
	text, err := os.ReadFile(shopsWorkflow)
	require.NoError(t, err)
	require.NoError(t, yaml.Unmarshal(text, &w))
	return w
}

// TestWorkflowRights: what the jobs may do, and that no expression stands in a
// script, where its text would be run.
func TestWorkflowRights(t *testing.T) {
	w := readWorkflow(t)
	assert.Empty(t, w.Permissions)
	rights := map[string]map[string]string{
		"builds":   {"contents": "read"},
		"comment":  {"pull-requests": "write"},
		"findings": {"contents": "read", "security-events": "write"},
	}
	require.Len(t, w.Jobs, len(rights))
	for name, job := range w.Jobs {
		assert.Equal(t, rights[name], job.Permissions, name)
		for _, s := range job.Steps {
			assert.NotContains(t, s.Run, "${{", s.Name)
			if strings.HasPrefix(s.Uses, "actions/checkout") {
				assert.NotEqual(t, "comment", name, "the job that may write sees no file of the pull request")
			}
		}
	}
}

// TestWorkflowsAreSound: a checker of workflows finds nothing in them: keys,
// expressions, rights, and with shellcheck, where it is installed, the scripts.
func TestWorkflowsAreSound(t *testing.T) {
	opt := actionlint.LinterOptions{}
	if shell, err := exec.LookPath("shellcheck"); err == nil {
		opt.Shellcheck = shell
		out, err := exec.Command(shell, "../../.github/for-shops/pre-commit").CombinedOutput()
		assert.NoError(t, err, string(out))
	}
	check := func(name string, text []byte) []*actionlint.Error {
		linter, err := actionlint.NewLinter(io.Discard, &opt)
		require.NoError(t, err)
		errs, err := linter.Lint(name, text, nil)
		require.NoError(t, err)
		return errs
	}
	for _, name := range []string{shopsWorkflow, "../../.github/workflows/ci.yml"} {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		assert.Empty(t, check(name, text))
		slip := strings.Replace(string(text), "run: ", "run: echo ${{ github.event.pull_request.title }} && ", 1)
		require.NotEqual(t, string(text), slip)
		assert.NotEmpty(t, check(name, []byte(slip)), "text of others in a script is found")
	}
}

// fakeHost stands in for the host's own command: it keeps comments in a file.
const fakeHost = `#!/bin/bash
set -euo pipefail
comments="$FAKE/comments.json"
[ -f "$comments" ] || echo '[]' >"$comments"
[ -n "$GH_TOKEN" ] || { echo "no token" >&2; exit 4; }
printf '%s\n' "$*" >>"$FAKE/calls"
case "$*" in
"api --paginate repos/tamarack/shop/issues/7/comments") cat "$comments" ;;
"api --method POST repos/tamarack/shop/issues/7/comments --input body.json")
	jq --slurpfile b body.json '. + [{id: (100 + length), user: {login: "github-actions[bot]"}, body: $b[0].body}]' "$comments" >"$comments.new" && mv "$comments.new" "$comments" ;;
"api --method PATCH repos/tamarack/shop/issues/comments/"*" --input body.json")
	id=${4##*/}
	jq --slurpfile b body.json --argjson id "$id" 'map(if .id == $id then .body = $b[0].body else . end)' "$comments" >"$comments.new" && mv "$comments.new" "$comments" ;;
*) echo "unknown call: $*" >&2; exit 4 ;;
esac
`

// host is a machine on which the workflow's scripts are run one by one.
type host struct {
	*testing.T
	dir  string
	base string // of the pull request
}

func newHost(t *testing.T) *host {
	for _, program := range []string{"bash", "git", "jq"} {
		if _, err := exec.LookPath(program); err != nil && os.Getenv("CI") == "" {
			t.Skipf("%s is not installed", program)
		}
	}
	h := &host{T: t, dir: t.TempDir()}
	asFishplate(t)
	bin := filepath.Join(h.dir, "bin")
	for _, dir := range []string{bin, filepath.Join(h.dir, "temp", "told"), filepath.Join(h.dir, "fake"), filepath.Join(h.dir, "other")} {
		require.NoError(t, os.MkdirAll(dir, 0o755))
	}
	require.NoError(t, os.WriteFile(filepath.Join(bin, "gh"), []byte(fakeHost), 0o755))
	self, err := os.Executable()
	require.NoError(t, err)
	require.NoError(t, os.Symlink(self, filepath.Join(h.dir, "temp", "fishplate")))
	for key, value := range map[string]string{"RUNNER_TEMP": filepath.Join(h.dir, "temp"), "GITHUB_STEP_SUMMARY": filepath.Join(h.dir, "summary.md"), "FAKE": filepath.Join(h.dir, "fake"),
		"PATH": bin + string(filepath.ListSeparator) + os.Getenv("PATH"), "GIT_CONFIG_GLOBAL": os.DevNull, "GIT_CONFIG_SYSTEM": os.DevNull,
		"GIT_AUTHOR_NAME": "Ann", "GIT_AUTHOR_EMAIL": "ann@example.org", "GIT_COMMITTER_NAME": "Ann", "GIT_COMMITTER_EMAIL": "ann@example.org"} {
		t.Setenv(key, value)
	}
	return h
}

func (h *host) git(args ...string) string {
	h.Helper()
	c := exec.Command("git", args...)
	c.Dir = filepath.Join(h.dir, "shop")
	out, err := c.CombinedOutput()
	require.NoError(h, err, "git %v: %s", args, out)
	return strings.TrimSpace(string(out))
}

func (h *host) write(name, text string) {
	h.Helper()
	file := filepath.Join(h.dir, "shop", name)
	require.NoError(h, os.MkdirAll(filepath.Dir(file), 0o755))
	require.NoError(h, os.WriteFile(file, []byte(text), 0o644))
}

func (h *host) read(name string) string {
	h.Helper()
	text, err := os.ReadFile(filepath.Join(h.dir, name))
	require.NoError(h, err)
	return string(text)
}

// expressions are what the host puts in place of the workflow's, in the
// environment of its scripts.
func (h *host) value(expression string) string {
	h.Helper()
	switch expression {
	case "${{ github.event.pull_request.base.sha }}":
		return h.base
	case "${{ github.token }}":
		return "token"
	case "${{ github.repository }}":
		return "tamarack/shop"
	case "${{ github.event.pull_request.number }}":
		return "7"
	}
	h.Fatalf("the test does not know %s", expression)
	return ""
}

// script runs a step as the host does (bash -e -o pipefail), and gives its exit
// status and what it prints.
func (h *host) script(s workflowStep, in string) (int, string) {
	h.Helper()
	c := exec.Command("bash", "--noprofile", "--norc", "-e", "-o", "pipefail", "-c", s.Run)
	c.Dir, c.Env = filepath.Join(h.dir, in, s.Dir), os.Environ()
	for key, value := range s.Env {
		c.Env = append(c.Env, key+"="+h.value(value))
	}
	out, err := c.CombinedOutput()
	if err == nil {
		return 0, string(out)
	}
	var ended *exec.ExitError
	require.ErrorAs(h, err, &ended)
	return ended.ExitCode(), string(out)
}

// pull runs all scripts of the jobs that a pull request of the repository has,
// in order, and gives what each ended with.
func (h *host) pull() (status map[string]int, said map[string]string) {
	h.Helper()
	w := readWorkflow(h.T)
	status, said = map[string]int{}, map[string]string{}
	require.NoError(h, os.RemoveAll(filepath.Join(h.dir, "temp", "told")))
	require.NoError(h, os.MkdirAll(filepath.Join(h.dir, "temp", "told"), 0o755))
	for _, s := range w.Jobs["builds"].Steps {
		switch {
		case s.Run == "":
		case strings.HasPrefix(s.Run, `go build -o "$RUNNER_TEMP/fishplate" ./cmd/fishplate`): // this test's own program stands there
		default:
			status[s.Name], said[s.Name] = h.script(s, "")
		}
	}
	require.NoError(h, os.RemoveAll(filepath.Join(h.dir, "other", "told")))
	require.NoError(h, os.CopyFS(filepath.Join(h.dir, "other", "told"), os.DirFS(filepath.Join(h.dir, "temp", "told"))))
	for _, s := range w.Jobs["comment"].Steps {
		if s.Run != "" {
			status[s.Name], said[s.Name] = h.script(s, "other")
		}
	}
	return status, said
}

func wren(mass, title string) string {
	return fmt.Sprintf("[build]\ntitle = %q\nstage = \"plan\"\npacks = [\"toy\"]\n\n[vehicle]\nwheelbase = \"100 in\"\n\n[vehicle.front]\nrating = \"1000 lb\"\n\n[engine]\nidle = \"700 rpm\"\ncruise-limit = \"2100 rpm\"\n\n[part.engine]\nmass = %q\nat = { behind = \"0 in\", right = \"0 in\", above = \"30 in\" }\n", title, mass)
}

// TestWorkflow runs the scripts over a pull request's two refs: main, which has
// moved on since, and the merge of both that the host checks out.
func TestWorkflow(t *testing.T) {
	h := newHost(t)
	require.NoError(t, os.MkdirAll(filepath.Join(h.dir, "shop"), 0o755))
	h.git("init", "-q", "-b", "main")
	h.write("builds/wren/build.toml", wren("800 lb", "Wren"))
	h.write("builds/crake/build.toml", wren("800 lb", "Crake"))
	h.git("add", ".")
	h.git("commit", "-q", "-m", "first")
	h.git("checkout", "-q", "-b", "heavier")
	hostile := "Wren @everyone <img src=x> ]( ::error::x $(touch ran) `touch ran` ${{ github.token }}"
	h.write("builds/wren/build.toml", wren("1200 lb", hostile))
	h.git("commit", "-q", "-a", "-m", "heavier")
	h.git("checkout", "-q", "main")
	h.write("builds/crake/build.toml", wren("810 lb", "Crake"))
	h.git("commit", "-q", "-a", "-m", "on main")
	h.base = h.git("rev-parse", "main")
	merge := func() {
		h.git("checkout", "-q", "--detach", "main")
		h.git("merge", "-q", "--no-ff", "-m", "merge", "heavier")
	}
	merge()

	status, said := h.pull()
	comment := "Write the comment, or write it anew"
	assert.Equal(t, map[string]int{"Check": 1, "Compare with the base": 1, "Summary": 0, comment: 0}, status, said)
	assert.Regexp(t, `(?m)^::error file=builds/wren/build.toml,line=9,col=10,title=toy/front-axle::`, said["Check"])
	assert.NotContains(t, said["Check"], "crake", "what main changed is not the pull request's")
	for name, out := range said {
		assert.Equal(t, strings.Count(out, "::error"), len(regexp.MustCompile(`(?m)^::error file=builds/`).FindAllString(out, -1)), name)
	}
	var kept []struct {
		ID   int
		Body string
	}
	comments := func() {
		kept = nil
		require.NoError(t, json.Unmarshal([]byte(h.read("fake/comments.json")), &kept))
	}
	comments()
	require.Len(t, kept, 1)
	assert.Contains(t, kept[0].Body, "1 check got worse")
	for _, active := range []string{"@everyone", "<img", "](", "${{"} {
		assert.NotContains(t, kept[0].Body, active)
	}
	assert.Equal(t, 1, strings.Count(kept[0].Body, "<!--"), "its own mark")
	assert.Contains(t, h.read("summary.md"), "toy/front-axle")
	assert.FileExists(t, filepath.Join(h.dir, "temp", "told", "check.sarif"))
	assert.NoFileExists(t, filepath.Join(h.dir, "shop", "ran"))

	// Pushed again: the comment is written anew, beside what others wrote.
	h.git("checkout", "-q", "heavier")
	h.write("builds/wren/build.toml", wren("900 lb", "Wren"))
	h.git("commit", "-q", "-a", "-m", "lighter")
	merge()
	status, said = h.pull()
	assert.Equal(t, map[string]int{"Check": 0, "Compare with the base": 0, "Summary": 0, comment: 0}, status, said)
	comments()
	require.Len(t, kept, 1, "one comment")
	assert.Contains(t, kept[0].Body, "No check got worse")

	// A ledger that cannot be read is told, at its line.
	h.git("checkout", "-q", "heavier")
	h.write("builds/wren/build.toml", "[build]\nstage = \"paint\"\n")
	h.git("commit", "-q", "-a", "-m", "a slip")
	merge()
	status, said = h.pull()
	assert.Equal(t, map[string]int{"Check": 2, "Compare with the base": 2, "Summary": 0, comment: 0}, status, said)
	assert.Regexp(t, `(?m)^::error file=builds/wren/build.toml,line=2,col=9,title=cannot be read::`, said["Check"])
	comments()
	assert.Contains(t, kept[0].Body, "Cannot be read")

	// On main there is no base: all builds are checked.
	h.base = ""
	h.git("checkout", "-q", "main")
	for _, s := range readWorkflow(t).Jobs["builds"].Steps {
		if s.Name == "Check" {
			got, out := h.script(s, "")
			assert.Equal(t, 0, got, out)
			assert.Contains(t, h.read("temp/told/check.md"), "Crake")
		}
	}
}

// TestPreCommit: the hook holds a commit back while a ledger cannot be read, and
// for nothing else.
func TestPreCommit(t *testing.T) {
	h := newHost(t)
	require.NoError(t, os.MkdirAll(filepath.Join(h.dir, "shop"), 0o755))
	h.git("init", "-q", "-b", "main")
	hook, err := os.ReadFile("../../.github/for-shops/pre-commit")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(h.dir, "shop", ".git", "hooks", "pre-commit"), hook, 0o755))
	try := func(message string) (string, bool) {
		h.git("add", "-A")
		c := exec.Command("git", "commit", "-q", "-m", message)
		c.Dir = filepath.Join(h.dir, "shop")
		out, err := c.CombinedOutput()
		return string(out), err == nil
	}
	h.write("builds/wren/build.toml", wren("1200 lb", "Wren"))
	h.write("builds/crake/build.toml", wren("1200 lb", "Crake"))
	out, done := try("too heavy, the first of all")
	assert.True(t, done, out)
	assert.Contains(t, out, "200 lb over")
	assert.Contains(t, out, "Committed all the same")
	h.write("builds/wren/build.toml", wren("1300 lb", "Wren"))
	out, done = try("heavier")
	assert.True(t, done, out)
	assert.Contains(t, out, "300 lb over")
	assert.NotContains(t, out, "Crake", "only what differs")
	h.write("builds/wren/build.toml", "[build]\nstage = \"paint\"\n")
	out, done = try("a slip")
	assert.False(t, done, out)
	assert.Contains(t, out, "builds/wren/build.toml:2:9: stage takes one of")
	h.write("builds/wren/build.toml", wren("900 lb", "Wren"))
	out, done = try("put right")
	assert.True(t, done, out)
	assert.NotContains(t, out, "all the same")
}
