package revision

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// many makes a revision of one build with n TOML files.
func many(t testing.TB, n int) string {
	dir := repository(t)
	for i := range n {
		write(t, dir, fmt.Sprintf("van/part-%03d.toml", i), fmt.Sprintf("[part.p%d]\nmass = \"%d lb\"\n%s", i, i, strings.Repeat("# note\n", 200)))
	}
	write(t, dir, "van/build.toml", "")
	commitAll(t, dir)
	sh(t, dir, "gc", "-q")
	return dir
}

func TestConcurrentReads(t *testing.T) {
	dir := many(t, 40)
	for _, arg := range []string{"HEAD:van", "van"} {
		build := one(t, arg)
		var group sync.WaitGroup
		for i := range 8 {
			group.Go(func() {
				for j := range 40 {
					name := fmt.Sprintf("part-%03d.toml", (i*5+j)%40)
					content, err := build.Read(name)
					assert.NoError(t, err)
					want, err := os.ReadFile(filepath.Join(dir, "van", name))
					assert.NoError(t, err)
					assert.Equal(t, string(want), string(content))
					_, _, err = build.Digest(name)
					assert.NoError(t, err)
					_, err = build.Read("none.toml")
					assert.Error(t, err)
				}
			})
		}
		group.Wait()
	}
}

func TestBatchOutlivesItsProcess(t *testing.T) {
	many(t, 3)
	place, err := Open("HEAD:van")
	require.NoError(t, err)
	c := place.tree.(*commit)
	first := c.batch.process
	require.NotNil(t, first)
	found, err := place.Builds()
	require.NoError(t, err)
	build := found[0]
	read1(t, build, "part-000.toml")
	assert.Same(t, first, c.batch.process, "one process for all")

	require.NoError(t, first.Process.Kill())
	_, _ = first.Process.Wait()
	_, err = build.Read("part-001.toml")
	assert.ErrorContains(t, err, "HEAD:van/part-001.toml: git cat-file: ")
	read1(t, build, "part-001.toml")
	second := c.batch.process
	assert.NotSame(t, first, second)

	require.NoError(t, place.Close())
	require.NoError(t, place.Close(), "twice does no harm")
	require.NotNil(t, second.ProcessState, "it was waited for")
	assert.True(t, second.ProcessState.Success())
	_, err = build.Read("part-001.toml")
	assert.EqualError(t, err, "HEAD:van/part-001.toml: read after Close")
}

// A process that dies between two answers costs the one that was due, no other.
func TestReadAll(t *testing.T) {
	dir := many(t, 300)
	write(t, dir, "van/twin.toml", "same", "van/twin2.toml", "same", "van/big.toml", strings.Repeat("#", MaxTOML+1))
	commitAll(t, dir)
	var names []string
	for i := range 300 {
		names = append(names, fmt.Sprintf("part-%03d.toml", i))
	}
	names = append(names, "twin.toml", "none.toml", "twin2.toml", "big.toml", "../x.toml")
	for _, arg := range []string{"HEAD:van", "van"} {
		contents, faults := one(t, arg).ReadAll(names)
		require.Len(t, contents, len(names))
		require.Len(t, faults, len(names))
		for i, name := range names[:300] {
			require.NoError(t, faults[i])
			assert.Contains(t, string(contents[i]), fmt.Sprintf("[part.p%d]", i), name)
		}
		assert.Equal(t, "same", string(contents[300]))
		assert.Equal(t, "same", string(contents[302]))
		contents[300][0] = 'S'
		assert.Equal(t, "same", string(contents[302]), "each has its own")
		assert.EqualError(t, faults[301], arg+"/none.toml: no such file")
		assert.ErrorContains(t, faults[303], arg+"/big.toml: too big to read")
		assert.ErrorContains(t, faults[304], faultOutside)
	}

	b := &batch{git: git{dir}}
	defer b.close()
	ids := strings.Fields(sh(t, dir, "ls-tree", "-r", "--format=%(objectname)", "HEAD~1"))
	var failed []int
	kill := func(i int) io.Writer {
		if i == 100 {
			return breaking{}
		}
		return io.Discard
	}
	got := 0
	b.all(ids, -1, kill, func(i int, _ int64, err error) {
		assert.Equal(t, got, i)
		got++
		if err != nil {
			failed = append(failed, i)
		}
	})
	assert.Equal(t, len(ids), got)
	assert.Equal(t, []int{100}, failed)
}

// breaking is a writer that fails, on which a batch gives its process up.
type breaking struct{}

func (breaking) Write([]byte) (int, error) { return 0, errors.New("broken") }

func TestBatchPassesOverWhatIsTooBig(t *testing.T) {
	dir := repository(t)
	write(t, dir, "big", strings.Repeat("x", 1<<20), "small", "y")
	commitAll(t, dir)
	b := &batch{git: git{dir}}
	defer b.close()
	var out bytes.Buffer
	size, err := b.copy(&out, sh(t, dir, "rev-parse", "HEAD:big"), 1000)
	var refused *oversize
	require.ErrorAs(t, err, &refused)
	assert.EqualValues(t, 1<<20, size)
	assert.Zero(t, out.Len())
	_, err = b.copy(&out, sh(t, dir, "rev-parse", "HEAD:small"), 1000)
	require.NoError(t, err)
	assert.Equal(t, "y", out.String())
}

// BenchmarkRevision opens a revision and reads 600 files from it.
func BenchmarkRevision(b *testing.B) {
	many(b, 600)
	for b.Loop() {
		place, err := Open("HEAD:van")
		require.NoError(b, err)
		found, err := place.Builds()
		require.NoError(b, err)
		readTOML(b, found[0])
		require.NoError(b, place.Close())
	}
}

// BenchmarkFolder does the same on disk.
func BenchmarkFolder(b *testing.B) {
	many(b, 600)
	for b.Loop() {
		readTOML(b, one(b, "van"))
	}
}

func readTOML(b *testing.B, build *Build) {
	files, err := build.TOML()
	require.NoError(b, err)
	require.Len(b, files, 601)
	var names []string
	for _, f := range files {
		names = append(names, f.Path)
	}
	_, faults := build.ReadAll(names)
	require.NoError(b, errors.Join(faults...))
}

// BenchmarkTurns reads 600 blobs one by one through a process that already runs.
func BenchmarkTurns(b *testing.B) {
	batch, ids := blobs(b)
	for b.Loop() {
		for _, id := range ids {
			_, err := batch.copy(io.Discard, id, MaxTOML)
			require.NoError(b, err)
		}
	}
}

// BenchmarkBatch asks it for all of them at once.
func BenchmarkBatch(b *testing.B) {
	batch, ids := blobs(b)
	for b.Loop() {
		batch.all(ids, MaxTOML, func(int) io.Writer { return io.Discard }, func(_ int, _ int64, err error) {
			require.NoError(b, err)
		})
	}
}

func blobs(b *testing.B) (*batch, []string) {
	dir := many(b, 600)
	ids := strings.Fields(sh(b, dir, "ls-tree", "-r", "--format=%(objectname)", "HEAD"))
	batch := &batch{git: git{dir}}
	b.Cleanup(batch.close)
	return batch, ids
}

// BenchmarkFloor is git alone: its output for the same 600 blobs, thrown away.
func BenchmarkFloor(b *testing.B) {
	dir := many(b, 600)
	ids := sh(b, dir, "ls-tree", "-r", "--format=%(objectname)", "HEAD") + "\n"
	for b.Loop() {
		cmd := exec.Command("git", "cat-file", "--batch")
		cmd.Dir, cmd.Stdin = dir, strings.NewReader(ids)
		require.NoError(b, cmd.Run())
	}
}
