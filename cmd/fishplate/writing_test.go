package main

import (
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger/edit"
)

// van lays down a build with a file to attach, and makes its folder the
// working directory.
func van(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("build.toml", []byte("[build]\ntitle = \"Wren\"\n"), 0o644))
	for i := range 20 {
		require.NoError(t, os.WriteFile(fmt.Sprintf("photo-%d.txt", i), fmt.Append(nil, i), 0o644))
	}
}

func fishplate(args ...string) (status int, out, err string) {
	var o, e strings.Builder
	status = run(append([]string{"fishplate"}, args...), &program{out: &o, err: &e, packs: toy(), today: "2026-03-01"})
	return status, o.String(), e.String()
}

// document1 is the file that the entry of photo-1.txt is written to.
const document1 = "documents/photo-1.toml"

func attachOne(name string) (int, string, string) {
	return fishplate("attach", ".", name, "--kind", "photo")
}

func contentOf(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	return string(data)
}

func TestAttachKeepsWhatIsThere(t *testing.T) {
	van(t)
	require.NoError(t, os.Mkdir("documents", 0o755))
	old := "\ufeff# ours\r\n[document.x]\r\nkind = \"photo\"\r\nfile = \"build.txt\"\r\nsha256 = \"0\" # no line end"
	require.NoError(t, os.WriteFile(document1, []byte(old), 0o600))
	status, _, told := attachOne("photo-1.txt")
	require.Zero(t, status, told)
	now := contentOf(t, document1)
	assert.True(t, strings.HasPrefix(now, old+"\r\n\r\n[document.photo-1]\r\nkind = \"photo\"\r\n"), "%q", now)
	assert.Equal(t, strings.Count(now, "\n"), strings.Count(now, "\r\n"), "the line ends that the file has")
	info, err := os.Stat(document1)
	require.NoError(t, err)
	assert.Equal(t, fs.FileMode(0o600), info.Mode(), "the mode that the file has")
	noneLeft(t)
}

func noneLeft(t *testing.T) {
	t.Helper()
	for _, hidden := range []string{".*", "*/.*"} {
		left, err := filepath.Glob(hidden)
		require.NoError(t, err)
		assert.Empty(t, left, "no temporary file stays behind")
	}
}

func TestAttachThroughALink(t *testing.T) {
	van(t)
	require.NoError(t, os.Mkdir("documents", 0o755))
	require.NoError(t, os.Mkdir("papers", 0o755))
	require.NoError(t, os.WriteFile("papers/list.txt", []byte("# list\n"), 0o644))
	require.NoError(t, os.Symlink("../papers/list.txt", document1))
	status, _, told := attachOne("photo-1.txt")
	require.Zero(t, status, told)
	assert.Contains(t, contentOf(t, "papers/list.txt"), "# list\n\n[document.photo-1]")
	info, err := os.Lstat(document1)
	require.NoError(t, err)
	assert.NotZero(t, info.Mode()&fs.ModeSymlink)
}

func TestAttachLosesNothing(t *testing.T) {
	t.Run("read-only", func(t *testing.T) {
		van(t)
		require.NoError(t, os.Mkdir("documents", 0o755))
		require.NoError(t, os.WriteFile(document1, []byte("# ours\n"), 0o444))
		status, out, told := attachOne("photo-1.txt")
		assert.Equal(t, statusUnread, status)
		assert.Empty(t, out)
		assert.Equal(t, "documents/photo-1.toml: cannot be written: it is read-only\n", told)
		assert.Equal(t, "# ours\n", contentOf(t, document1))
		noneLeft(t)
	})
	t.Run("cut short before", func(t *testing.T) {
		van(t)
		require.NoError(t, os.Mkdir("documents", 0o755))
		require.NoError(t, os.WriteFile("documents/.photo-1.toml.new", []byte("[document.half"), 0o644))
		status, _, told := fishplate("check", ".")
		assert.Zero(t, status, "what was cut short is not read: %s", told)
		status, _, told = attachOne("photo-1.txt")
		assert.Zero(t, status, "nor does it stand in the way: %s", told)
		noneLeft(t)
	})
	t.Run("changed meanwhile", func(t *testing.T) {
		van(t)
		require.NoError(t, os.Mkdir("documents", 0o755))
		p := &program{err: &strings.Builder{}, packs: toy()}
		w, err := p.writingTo(".")
		require.NoError(t, err)
		require.NoError(t, w.add("document.a", []edit.Pair{{Key: "kind", Value: edit.Text("photo")}}, document1))
		require.NoError(t, os.WriteFile(document1, []byte("# by another\n"), 0o644))
		err = w.done(w.write())
		assert.ErrorContains(t, err, "documents/photo-1.toml: cannot be written: the ledger was changed just now; try again")
		assert.Equal(t, "# by another\n", contentOf(t, document1))
		noneLeft(t)
	})
	t.Run("a folder that takes no file", func(t *testing.T) {
		if os.Getuid() == 0 {
			t.Skip("root may write anywhere")
		}
		van(t)
		require.NoError(t, os.Mkdir("documents", 0o755))
		require.NoError(t, os.Chmod(".", 0o555))
		status, _, told := attachOne("photo-1.txt")
		require.NoError(t, os.Chmod(".", 0o755))
		assert.Equal(t, statusUnread, status)
		assert.Contains(t, told, "cannot be written: permission denied")
	})
}

// Of many that add at the same time each adds its own, at the first try.
func TestManyAtOnce(t *testing.T) {
	van(t)
	var wg sync.WaitGroup
	told := make([]string, 20)
	for i := range told {
		wg.Go(func() {
			// A process each: the command is on the path, see TestMain.
			attach := exec.Command("fishplate", "attach", ".", fmt.Sprintf("photo-%d.txt", i), "--kind", "photo")
			if out, err := attach.CombinedOutput(); err != nil {
				told[i] = fmt.Sprintf("%v: %s", err, out)
			}
		})
	}
	wg.Wait()
	for i := range told {
		assert.Empty(t, told[i], i)
		assert.Contains(t, contentOf(t, fmt.Sprintf("documents/photo-%d.toml", i)), fmt.Sprintf("\"photo-%d.txt\"", i))
	}
	status, _, faults := fishplate("check", ".")
	assert.Zero(t, status, faults)
	noneLeft(t)
}

func TestNamesThatTOMLMustEscape(t *testing.T) {
	for _, by := range []string{`June "Jo" Farrow`, `C:\shop`, "café ½", "a = [b]", "'''", `\u0041`} {
		van(t)
		status, _, told := fishplate("attach", ".", "photo-1.txt", "--kind", "photo", "--by", by)
		require.Zero(t, status, told)
		p := &program{err: &strings.Builder{}, packs: toy()}
		w, err := p.writingTo(".")
		require.NoError(t, err)
		assert.Equal(t, by, w.b.Documents()[0].By.String())
		require.NoError(t, w.done(nil))
	}
	van(t)
	status, _, told := fishplate("attach", ".", "photo-1.txt", "--kind", "photo", "--by", "a\x1bb")
	assert.Equal(t, statusUnread, status)
	assert.Contains(t, told, "what would be added has a fault: a control character (U+001B) is not allowed in a string")
	assert.NoDirExists(t, "documents")
}

func TestIDs(t *testing.T) {
	for name, want := range map[string]string{
		"papers/Scale Ticket (2).PDF": "scale-ticket-2", "IMG_0042.jpg": "img-0042", "été.txt": "t", "图.png": "document", "a--b.txt": "a-b",
		"x.tar.gz": "x-tar", "no-ext": "no-ext", strings.Repeat("long-", 40) + ".txt": strings.Repeat("long-", 11) + "long",
	} {
		assert.Equal(t, want, idOf(name), name)
	}
}
