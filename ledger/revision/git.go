package revision

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"fishplate/ledger/spelling"
)

// git runs the user's git in a folder, so that it reads and does nothing else.
type git struct{ dir string }

// options precede every command. A repository's configuration is not trusted:
// it can name programs to be run as a monitor, as hooks, for signatures.
var options = []string{
	"--no-pager", "--no-optional-locks", "--no-replace-objects", "--literal-pathspecs",
	"-c", "core.fsmonitor=false", "-c", "log.showSignature=false", "-c", "core.hooksPath=/dev/null",
}

// noBare precedes a command in a work tree: a bare repository may lie among
// its files, put there by whoever wrote them, and would be taken for it.
var noBare = []string{"-c", "safe.bareRepository=explicit"}

// inWorkTree tells whether a folder lies in a work tree.
func inWorkTree(dir string) bool {
	for up := dir; ; up = filepath.Dir(up) {
		if _, err := os.Lstat(filepath.Join(up, ".git")); err == nil {
			return true
		}
		if up == filepath.Dir(up) {
			return false
		}
	}
}

// patience is how long git may be silent: a named pipe among a repository's
// files holds it up for ever. It is longer than any git that works takes.
var patience = 20 * time.Second

// mostListed and mostNamed bound what is listed of a revision, in files and in
// bytes of their names: a tree of a few kilobytes can stand for billions.
const (
	mostListed = 200_000
	mostNamed  = 64 << 20
)

// settings are added to the environment. The first two keep git from fetching
// what a partial clone lacks, as that runs what the remote's settings name; a
// repository's own protocol.*.allow cannot override them.
var settings = []string{
	"GIT_ALLOW_PROTOCOL=none", "GIT_NO_LAZY_FETCH=1", "GIT_TERMINAL_PROMPT=0",
	"GIT_OPTIONAL_LOCKS=0", "GIT_ATTR_NOSYSTEM=1", "LC_ALL=C",
	"GIT_GRAFT_FILE=" + os.DevNull, // nor does a graft take a commit out of a history, as no replaced object does
}

// environment drops what would have git run or write something, and keeps
// where the repository is, which git sets for its hooks, whose settings are
// read, and which folders of others a CI host has declared safe.
func environment(inherited []string) []string {
	var kept []string
	values := map[string]string{}
	for _, entry := range inherited {
		name, value, _ := strings.Cut(entry, "=")
		switch {
		case name == "GIT_CONFIG_GLOBAL", name == "GIT_CONFIG_SYSTEM", name == "GIT_CONFIG_NOSYSTEM":
		case strings.HasPrefix(name, "GIT_CONFIG_"):
			values[name] = value
			continue
		case name == "GIT_EXTERNAL_DIFF", strings.HasPrefix(name, "GIT_TRACE"):
			continue
		}
		kept = append(kept, entry)
	}
	return append(append(kept, safeFolders(values)...), settings...)
}

// mostSettings is how many settings are looked through in the environment.
const mostSettings = 1000

// safeFolders keeps the settings of safe.directory among those that the
// environment numbers, as git-config(1) describes GIT_CONFIG_COUNT.
func safeFolders(values map[string]string) (kept []string) {
	count, err := strconv.Atoi(values["GIT_CONFIG_COUNT"])
	if err != nil {
		return nil
	}
	n := 0
	for i := range min(count, mostSettings) {
		if strings.EqualFold(values[fmt.Sprintf("GIT_CONFIG_KEY_%d", i)], "safe.directory") {
			kept = append(kept, fmt.Sprintf("GIT_CONFIG_KEY_%d=safe.directory", n), fmt.Sprintf("GIT_CONFIG_VALUE_%d=%s", n, values[fmt.Sprintf("GIT_CONFIG_VALUE_%d", i)]))
			n++
		}
	}
	if n == 0 {
		return nil
	}
	return append(kept, fmt.Sprintf("GIT_CONFIG_COUNT=%d", n))
}

func (g git) command(args ...string) (*exec.Cmd, error) {
	program, err := exec.LookPath("git")
	if err != nil {
		return nil, errors.New("a revision is read with git, which is not installed or not on the PATH")
	}
	before := slices.Clone(options)
	if inWorkTree(g.dir) {
		before = append(before, noBare...)
	}
	args = slices.Concat(before, []string{"-C", g.dir}, args)
	cmd := exec.Command(program, args...)
	cmd.Env = environment(os.Environ())
	return cmd, nil
}

// failure is git's refusal, in its own words.
type failure struct{ said string }

func (f *failure) Error() string {
	return "git: " + strings.TrimPrefix(f.said, "fatal: ")
}

// errSilent is the error of a git that says nothing.
var errSilent = errors.New("git gives no answer; something in the repository's .git holds it up, such as a named pipe")

func (g git) run(args ...string) (string, error) {
	var out strings.Builder
	err := g.stream(args, func(from io.Reader) error {
		_, err := io.Copy(&out, io.LimitReader(from, mostNamed))
		return err
	})
	return out.String(), err
}

// records hands over what git says, cut at its zero bytes, up to the most that
// is listed of a revision.
func (g git) records(args []string, take func(string) error) error {
	return g.stream(args, func(from io.Reader) error {
		r := bufio.NewReaderSize(from, 1<<16)
		files, size := 0, 0
		for {
			line, err := r.ReadString(0)
			if err == io.EOF && line == "" {
				return nil
			}
			if err != nil {
				return cmp.Or(ended(err), fmt.Errorf("git %s ended in the middle of a line", args[0]))
			}
			if files, size = files+1, size+len(line); files > mostListed || size > mostNamed {
				return fmt.Errorf("more than %d files, or the names of that many, lie below it; name a folder further down", mostListed)
			}
			if err := take(line[:len(line)-1]); err != nil {
				return err
			}
		}
	})
}

// ended is nil for the end of the input.
func ended(err error) error {
	if err == io.EOF {
		return nil
	}
	return err
}

// stream runs git and lets what it says be read; a git that is silent too long
// is ended, and so is one whose reader has had enough.
func (g git) stream(args []string, read func(io.Reader) error) error {
	cmd, err := g.command(args...)
	if err != nil {
		return err
	}
	said := &tail{}
	cmd.Stderr, cmd.WaitDelay = said, time.Second
	out, err := cmd.StdoutPipe()
	if err != nil {
		return err
	}
	if err := cmd.Start(); err != nil {
		return err
	}
	watch := newWatch(cmd.Process)
	bad := read(watch.reader(out))
	if bad != nil {
		_ = cmd.Process.Kill() // it may have ended by itself
	}
	err = cmd.Wait()
	switch silent := watch.end(); {
	case silent:
		return errSilent
	case bad != nil:
		return bad
	case err != nil:
		return &failure{cmp.Or(said.String(), err.Error())}
	}
	return nil
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
	name := spelling.Nearest(rev[:end], strings.Fields(names))
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
