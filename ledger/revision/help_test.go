package revision

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// write makes files below dir: name, content, name, content ...
func write(t testing.TB, dir string, pairs ...string) {
	t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		name := filepath.Join(dir, filepath.FromSlash(pairs[i]))
		require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o755))
		require.NoError(t, os.WriteFile(name, []byte(pairs[i+1]), 0o644))
	}
}

func link(t testing.TB, dir, target, name string) {
	t.Helper()
	require.NoError(t, os.Symlink(filepath.FromSlash(target), filepath.Join(dir, filepath.FromSlash(name))))
}

// builds opens an argument and closes it when the test ends.
func builds(t testing.TB, arg string) []*Build {
	t.Helper()
	place, err := Open(arg)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, place.Close()) })
	found, err := place.Builds()
	require.NoError(t, err)
	return found
}

func one(t testing.TB, arg string) *Build {
	t.Helper()
	found := builds(t, arg)
	require.Len(t, found, 1)
	return found[0]
}

func folders(builds []*Build) (names []string) {
	for _, b := range builds {
		names = append(names, b.Folder())
	}
	return names
}

func read1(t testing.TB, b *Build, name string) string {
	t.Helper()
	content, err := b.Read(name)
	require.NoError(t, err)
	return string(content)
}

// needGit skips where there is no git, but not on a CI host, which must have it.
func needGit(t testing.TB) {
	t.Helper()
	if _, err := exec.LookPath("git"); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("git is not installed")
		}
		t.Skip("git is not installed")
	}
}

// sh runs git as a person would, with nobody's settings and a fixed date.
func sh(t testing.TB, dir string, args ...string) string {
	t.Helper()
	// Without upkeep in the background, which may outlive the test's folder.
	cmd := exec.Command("git", append([]string{"-c", "gc.auto=0", "-c", "maintenance.auto=false"}, args...)...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(),
		"GIT_CONFIG_GLOBAL="+os.DevNull, "GIT_CONFIG_SYSTEM="+os.DevNull,
		"GIT_AUTHOR_NAME=A. Fitter", "GIT_AUTHOR_EMAIL=fitter@example.org", "GIT_AUTHOR_DATE=2026-02-28T12:00:00+0000",
		"GIT_COMMITTER_NAME=A. Fitter", "GIT_COMMITTER_EMAIL=fitter@example.org", "GIT_COMMITTER_DATE=2026-03-01T23:30:00-0500",
		"GIT_ALLOW_PROTOCOL=file")
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, "git %s: %s", strings.Join(args, " "), out)
	return strings.TrimSpace(string(out))
}

// repository makes one whose branch is main, and enters it.
func repository(t testing.TB, init ...string) string {
	t.Helper()
	needGit(t)
	dir := canonical(t, t.TempDir())
	sh(t, dir, append([]string{"init", "-q", "-b", "main"}, init...)...)
	enter(t, dir)
	return dir
}

func commitAll(t testing.TB, dir string) {
	t.Helper()
	sh(t, dir, "add", "-A", "-f")
	sh(t, dir, "commit", "-q", "-m", "work")
}

// canonical is a path without links, as some systems' temporary folders have.
func canonical(t testing.TB, dir string) string {
	t.Helper()
	dir, err := filepath.EvalSymlinks(dir)
	require.NoError(t, err)
	return dir
}

func enter(t testing.TB, dir string) {
	t.Helper()
	switch t := t.(type) {
	case *testing.T:
		t.Chdir(dir)
	case *testing.B:
		t.Chdir(dir)
	}
}
