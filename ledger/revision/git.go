package revision

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// git runs the user's git in a folder, so that it reads and does nothing else.
type git struct{ dir string }

// options precede every command. A repository's configuration is not trusted:
// it can name programs to be run as a monitor, as hooks, for signatures.
var options = []string{
	"--no-pager", "--no-optional-locks", "--no-replace-objects", "--literal-pathspecs",
	"-c", "core.fsmonitor=false", "-c", "log.showSignature=false", "-c", "core.hooksPath=/dev/null",
}

// settings are added to the environment. The first two keep git from fetching
// what a partial clone lacks, as that runs what the remote's settings name; a
// repository's own protocol.*.allow cannot override them.
var settings = []string{
	"GIT_ALLOW_PROTOCOL=none", "GIT_NO_LAZY_FETCH=1", "GIT_TERMINAL_PROMPT=0",
	"GIT_OPTIONAL_LOCKS=0", "GIT_ATTR_NOSYSTEM=1", "LC_ALL=C",
}

// environment drops what would have git run or write something, and keeps
// where the repository is, which git sets for its hooks.
func environment(inherited []string) []string {
	var kept []string
	for _, entry := range inherited {
		name, _, _ := strings.Cut(entry, "=")
		if name == "GIT_EXTERNAL_DIFF" || strings.HasPrefix(name, "GIT_CONFIG_") || strings.HasPrefix(name, "GIT_TRACE") {
			continue
		}
		kept = append(kept, entry)
	}
	return append(kept, settings...)
}

func (g git) command(args ...string) (*exec.Cmd, error) {
	program, err := exec.LookPath("git")
	if err != nil {
		return nil, errors.New("a revision is read with git, which is not installed or not on the PATH")
	}
	args = append(append(append([]string{}, options...), "-C", g.dir), args...)
	cmd := exec.Command(program, args...)
	cmd.Env = environment(os.Environ())
	return cmd, nil
}

// failure is git's refusal, in its own words.
type failure struct{ said string }

func (f *failure) Error() string {
	return "git: " + strings.TrimPrefix(f.said, "fatal: ")
}

func (g git) run(args ...string) (string, error) {
	cmd, err := g.command(args...)
	if err != nil {
		return "", err
	}
	var out bytes.Buffer
	said := &tail{}
	cmd.Stdout, cmd.Stderr = &out, said
	if err := cmd.Run(); err != nil {
		return "", &failure{cmp.Or(said.String(), err.Error())}
	}
	return out.String(), nil
}

// commit gives the id of the commit that a revision names, and the working
// directory below the top of the work tree: "" or with a slash at its end.
func (g git) commit(rev string) (id, prefix string, err error) {
	out, err := g.run("rev-parse", "--show-prefix", "--verify", "--end-of-options", rev+"^{commit}")
	if err != nil {
		return "", "", g.noCommit(rev, err)
	}
	out = strings.TrimSuffix(out, "\n")
	end := strings.LastIndexByte(out, '\n')
	if end < 0 {
		return "", "", fmt.Errorf("git rev-parse answered %q", out)
	}
	return out[end+1:], out[:end], nil
}

// noCommit says why there is none, and what may help.
func (g git) noCommit(rev string, err error) error {
	var refused *failure
	switch {
	case !errors.As(err, &refused):
		return err
	case strings.Contains(refused.said, "not a git repository"):
		return errors.New("no such folder, and no git repository here that could have a revision " + rev)
	case !strings.Contains(refused.said, "Needed a single revision"):
		return err
	}
	if answer, err := g.run("rev-parse", "--is-shallow-repository"); err == nil && strings.TrimSpace(answer) == "true" {
		return errors.New("no commit " + rev + " in this shallow clone: first run git fetch --unshallow (in CI, check out with fetch-depth: 0)")
	}
	return errors.New("no commit " + rev + " in this repository" + g.suggestRevision(rev))
}

// suggestRevision looks for a branch or a tag of nearly that name.
func (g git) suggestRevision(rev string) string {
	names, err := g.run("for-each-ref", "--format=%(refname:short)", "refs/heads", "refs/tags", "refs/remotes")
	if err != nil {
		return ""
	}
	end := strings.IndexAny(rev, "~^@")
	if end < 0 {
		end = len(rev)
	}
	name := near(rev[:end], strings.Fields(names))
	switch name {
	case "":
		return ""
	case rev[:end]: // it has the name, but not that far back
		return "; " + name + " has no such forebear"
	}
	return "; is " + name + rev[end:] + " meant?"
}

// partial tells whether the repository is a clone that leaves objects with its remote.
func (g git) partial() bool {
	objects, err := g.run("rev-parse", "--git-path", "objects/pack")
	if err != nil {
		return false
	}
	pack := strings.TrimSuffix(objects, "\n")
	if !filepath.IsAbs(pack) {
		pack = filepath.Join(g.dir, pack)
	}
	entries, err := os.ReadDir(pack)
	if err != nil {
		return false
	}
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".promisor") {
			return true
		}
	}
	return false
}
