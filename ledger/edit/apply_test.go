package edit

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/revision"
)

var errNoSpace = errors.New("no space left on device")

// failing is a disk of which one call fails, or that one and all behind it, as
// when the program is killed there.
type failing struct {
	disk
	calls, at int
	forever   bool
}

func (f *failing) next() error {
	f.calls++
	if f.calls == f.at || f.forever && f.calls > f.at && f.at > 0 {
		return errNoSpace
	}
	return nil
}

func (f *failing) Lstat(name string) (fs.FileInfo, error) {
	if err := f.next(); err != nil {
		return nil, err
	}
	return f.disk.Lstat(name)
}

func (f *failing) ReadFile(name string) ([]byte, error) {
	if err := f.next(); err != nil {
		return nil, err
	}
	return f.disk.ReadFile(name)
}

func (f *failing) Create(name string) (handle, error) {
	if err := f.next(); err != nil {
		return nil, err
	}
	h, err := f.disk.Create(name)
	return &failingHandle{h, f}, err
}

func (f *failing) Mkdir(name string) error {
	if err := f.next(); err != nil {
		return err
	}
	return f.disk.Mkdir(name)
}

func (f *failing) Rename(old, new string) error {
	if err := f.next(); err != nil {
		return err
	}
	return f.disk.Rename(old, new)
}

func (f *failing) Remove(name string) error {
	if err := f.next(); err != nil {
		return err
	}
	return f.disk.Remove(name)
}

func (f *failing) SyncFolder(name string) error {
	if err := f.next(); err != nil {
		return err
	}
	return f.disk.SyncFolder(name)
}

type failingHandle struct {
	handle
	f *failing
}

// Write writes half where it fails, as a full disk does.
func (h *failingHandle) Write(b []byte) (int, error) {
	if err := h.f.next(); err != nil {
		n, _ := h.handle.Write(b[:len(b)/2])
		return n, err
	}
	return h.handle.Write(b)
}

func (h *failingHandle) Chmod(mode fs.FileMode) error {
	if err := h.f.next(); err != nil {
		return err
	}
	return h.handle.Chmod(mode)
}

func (h *failingHandle) Sync() error {
	if err := h.f.next(); err != nil {
		return err
	}
	return h.handle.Sync()
}

func (h *failingHandle) Close() error {
	err := h.handle.Close()
	return errors.Join(h.f.next(), err)
}

var oldFiles = map[string]string{
	"build.toml": "[part.a]\nmass = \"1 lb\"\n", "b.toml": "[part.b] # named\nat = \"part.a\"\n", "papers/c.toml": "[answer.c]\nentries = [\"part.a\"]\n",
}

// planned renames an entry, which changes three files, and adds one in a new
// file.
func planned(t *testing.T, src *revision.Build, several bool) Plan {
	t.Helper()
	d, err := Begin(src)
	require.NoError(t, err)
	if several {
		require.NoError(t, d.Rename("part.a", "z"))
		require.NoError(t, d.Add("hose.h", nil, "new/below/h.toml"))
	} else {
		require.NoError(t, d.Set("part.a", keys("mass"), Text("2 lb")))
	}
	p, err := d.Plan()
	require.NoError(t, err)
	return p
}

// contents are the TOML files of a folder.
func contents(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(at string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && strings.HasSuffix(at, ".toml") && !strings.HasPrefix(d.Name(), ".") {
			data, err := os.ReadFile(at)
			require.NoError(t, err)
			rel, _ := filepath.Rel(dir, at)
			out[filepath.ToSlash(rel)] = string(data)
		}
		return err
	}))
	return out
}

// Whichever call fails, and whichever is the last before a kill, the next
// writer finds all of the old or all of the new, and no reader takes half for
// whole.
func TestEveryCallFails(t *testing.T) {
	for _, several := range []bool{false, true} {
		for _, forever := range []bool{false, true} {
			t.Run(fmt.Sprintf("several=%v,killed=%v", several, forever), func(t *testing.T) {
				good := build(t, oldFiles)
				dir, _ := good.Dir()
				require.NoError(t, Apply(good, planned(t, good, several)))
				newFiles := contents(t, dir)
				seen := map[string]int{}
				for at := 1; ; at++ {
					src := build(t, oldFiles)
					dir, _ := src.Dir()
					plan := planned(t, src, several)
					h, err := Take(dir)
					require.NoError(t, err)
					f := &failing{disk: h.disk, at: at, forever: forever}
					h.disk = f
					err = h.Apply(src, plan)
					require.NoError(t, h.release())
					if f.calls < at {
						require.NoError(t, err)
						assert.Greater(t, at, 8, "calls that failed")
						break
					}
					now := contents(t, dir)
					if !assert.ObjectsAreEqual(oldFiles, now) && !assert.ObjectsAreEqual(newFiles, now) {
						assert.True(t, changing(src), "call %d: half of it, and nothing tells", at)
						seen["half, told"]++
					}
					again, err := Take(dir)
					if !assert.NoError(t, err, "call %d", at) {
						continue
					}
					require.NoError(t, again.Release())
					now = contents(t, dir)
					switch {
					case assert.ObjectsAreEqual(oldFiles, now):
						seen["old"]++
					case assert.ObjectsAreEqual(newFiles, now):
						seen["new"]++
					default:
						t.Errorf("call %d: neither old nor new: %q", at, now)
					}
					assert.False(t, changing(src), "call %d", at)
					require.NoError(t, Apply(src, planIfOld(t, src, now, several)), "call %d: a write after it", at)
					assert.Equal(t, newFiles, contents(t, dir), "call %d", at)
				}
				assert.Positive(t, seen["old"])
				if forever && several {
					assert.Positive(t, seen["half, told"], "a kill between two renames")
				}
			})
		}
	}
}

// A kill between two renames leaves a journal. Whichever call of completing it
// fails, and whichever is the last before another kill, the next writer ends
// with all of the new.
func TestEveryCallOfRecoveryFails(t *testing.T) {
	good := build(t, oldFiles)
	dir, _ := good.Dir()
	require.NoError(t, Apply(good, planned(t, good, true)))
	newFiles := contents(t, dir)
	cuts := 0
	for cut := 1; cuts < 3; cut++ { // before the first rename, behind it, behind the second
		src := build(t, oldFiles)
		left, _ := src.Dir()
		if !killed(t, src, cut) {
			continue
		}
		cuts++
		for _, forever := range []bool{false, true} {
			for at := 1; ; at++ {
				dir := t.TempDir()
				require.NoError(t, os.CopyFS(dir, os.DirFS(left)))
				root, err := os.OpenRoot(dir)
				require.NoError(t, err)
				f := &failing{disk: rooted{root}, at: at, forever: forever}
				err = (&Hold{dir: dir, disk: f}).recover()
				require.NoError(t, root.Close())
				if f.calls < at {
					require.NoError(t, err)
					assert.Equal(t, newFiles, contents(t, dir))
					break
				}
				again, err := Take(dir)
				require.NoError(t, err, "cut %d, call %d", cut, at)
				require.NoError(t, again.Release())
				assert.Equal(t, newFiles, contents(t, dir), "cut %d, call %d", cut, at)
				assert.NoFileExists(t, filepath.Join(dir, revision.Journal))
			}
		}
	}
}

// killed applies the change of several files up to a call, and tells whether a
// journal stays behind.
func killed(t *testing.T, src *revision.Build, at int) bool {
	t.Helper()
	dir, _ := src.Dir()
	plan := planned(t, src, true)
	h, err := Take(dir)
	require.NoError(t, err)
	f := &failing{disk: h.disk, at: at, forever: true}
	h.disk = f
	err = h.Apply(src, plan)
	require.GreaterOrEqual(t, f.calls, at, "no journal was ever left")
	require.Error(t, err)
	require.NoError(t, h.release())
	return changing(src)
}

func changing(src *revision.Build) bool {
	_, is := src.Changing()
	return is
}

func planIfOld(t *testing.T, src *revision.Build, now map[string]string, several bool) Plan {
	if assert.ObjectsAreEqual(oldFiles, now) {
		return planned(t, src, several)
	}
	d, err := Begin(src)
	require.NoError(t, err)
	p, err := d.Plan()
	require.NoError(t, err)
	return p
}

// The same of a new folder.
func TestEveryCallOfANewFolderFails(t *testing.T) {
	files := []NewFile{{"build.toml", []byte("[build]\n")}, {"parts/a.toml", []byte("[part.a]\n")}}
	fit := func() error { return nil }
	for at := 1; ; at++ {
		dir := t.TempDir()
		d, err := openDisk(dir)
		require.NoError(t, err)
		f := &failing{disk: d, at: at}
		err = newFolder(f, ".start-x", "van", files, fit)
		require.NoError(t, d.Close())
		if f.calls < at {
			require.NoError(t, err)
			break
		}
		if _, there := os.Stat(filepath.Join(dir, "van")); there == nil {
			assert.Equal(t, map[string]string{"van/build.toml": "[build]\n", "van/parts/a.toml": "[part.a]\n"}, contents(t, dir))
		} else if err == nil {
			t.Errorf("call %d: no folder and no error", at)
		}
	}
	dir := t.TempDir()
	err := NewFolder(filepath.Join(dir, "van"), files, func(string) error { return errNoSpace })
	assert.ErrorIs(t, err, errNoSpace)
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Empty(t, left)
}

func TestJournals(t *testing.T) {
	src := build(t, oldFiles)
	dir, _ := src.Dir()
	name := filepath.Join(dir, revision.Journal)
	for text, want := range map[string]string{
		"half": "cannot be read",
		`{"files":[{"name":"../x.toml","old":"","text":"eA=="}]}`:                                                             "outside the build folder",
		`{"files":[{"name":"run.sh","old":"","text":"eA=="}]}`:                                                                "no TOML file",
		`{"files":[{"name":"b.toml","old":"` + hashOf([]byte("other")) + `","text":"eA=="},{"name":"n.toml","text":"eA=="}]}`: "was changed since",
	} {
		require.NoError(t, os.WriteFile(name, []byte(text), 0o644))
		_, err := Take(dir)
		assert.ErrorContains(t, err, want)
		assert.Equal(t, oldFiles, contents(t, dir), "nothing is written")
	}
	b := ledger.NewLoader().Read(src)
	assert.Contains(t, strings.Join(faultsOf(b), "\n"), revision.Journal+":1:1: a change of several files was cut short")
	require.NoError(t, os.Remove(name))
	require.NoError(t, os.Mkdir(name, 0o755))
	_, err := Take(dir)
	assert.ErrorContains(t, err, "not of fishplate's making")
}

// TestOldJournals: a change that was cut short a while ago is told at once: a tree
// may be full of them. So is one that was committed, for the next who writes there
// would complete it.
func TestOldJournals(t *testing.T) {
	src := build(t, oldFiles)
	dir, _ := src.Dir()
	name := filepath.Join(dir, revision.Journal)
	require.NoError(t, os.WriteFile(name, []byte("{}"), 0o644))
	hour := time.Now().Add(-time.Hour)
	require.NoError(t, os.Chtimes(name, hour, hour))
	began := time.Now()
	for range 20 {
		assert.Contains(t, strings.Join(faultsOf(ledger.NewLoader().Read(src)), "\n"), "was cut short")
	}
	assert.Less(t, time.Since(began), 20*time.Second, "each was waited for")

	git := func(args ...string) {
		t.Helper()
		out, err := exec.Command("git", append([]string{"-C", dir, "-c", "user.name=a", "-c", "user.email=a@example.org"}, args...)...).CombinedOutput()
		require.NoError(t, err, string(out))
	}
	git("init", "-q", "-b", "main")
	git("add", "-A")
	git("commit", "-qm", "all")
	t.Chdir(dir)
	place, err := revision.Open("main:.")
	require.NoError(t, err)
	defer place.Close()
	found, err := place.Builds()
	require.NoError(t, err)
	assert.Contains(t, strings.Join(faultsOf(ledger.NewLoader().Read(found[0])), "\n"), revision.Journal+":1:1: a change of several files was cut short")
}

// Many writers of one file and of many lose nothing.
func TestManyWriters(t *testing.T) {
	src := build(t, oldFiles)
	dir, _ := src.Dir()
	var wg sync.WaitGroup
	for i := range 12 {
		wg.Go(func() {
			h, err := Take(dir)
			if !assert.NoError(t, err) {
				return
			}
			defer func() { assert.NoError(t, h.Release()) }()
			d, err := Begin(src)
			assert.NoError(t, err)
			assert.NoError(t, d.Add(fmt.Sprintf("hose.h-%d", i), nil, "b.toml"))
			assert.NoError(t, d.Add(fmt.Sprintf("load.l-%d", i), nil, ""))
			p, err := d.Plan()
			assert.NoError(t, err)
			assert.NoError(t, h.Apply(src, p))
		})
	}
	wg.Wait()
	b := ledger.NewLoader().Read(src)
	require.Empty(t, b.Faults)
	assert.Len(t, b.Entries(), 3+24)
	_, err := os.Lstat(filepath.Join(dir, lockFile))
	assert.ErrorIs(t, err, fs.ErrNotExist, "no lock stays behind")
}

// A lock ends with its holder: one who is killed leaves nothing to wait for.
func TestKilledHolder(t *testing.T) {
	if dir := os.Getenv("HOLD"); dir != "" {
		_, err := Take(dir)
		require.NoError(t, err)
		fmt.Println("held")
		select {}
	}
	src := build(t, oldFiles)
	dir, _ := src.Dir()
	holder := exec.Command(os.Args[0], "-test.run=TestKilledHolder$", "-test.v")
	holder.Env = append(os.Environ(), "HOLD="+dir)
	out, err := holder.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, holder.Start())
	told := make([]byte, 0, 256)
	for buf := make([]byte, 64); !strings.Contains(string(told), "held"); {
		n, err := out.Read(buf)
		require.NoError(t, err)
		told = append(told, buf[:n]...)
	}
	require.FileExists(t, filepath.Join(dir, lockFile))
	require.NoError(t, holder.Process.Kill())
	_ = holder.Wait()
	require.NoError(t, Apply(src, planned(t, src, true)))
}
