package rules_test

import (
	"bytes"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/rules"
)

// A broken line costs its own entry. Whatever line of the finished example is
// broken, what is wrong with it is told, and the checks of other entries that do
// not read it come to what they came to, at their places: none of them is taken
// for better than it was.
func TestBrokenLineCostsItsEntry(t *testing.T) {
	place, err := revision.Open("../examples/tamarack/builds/heron")
	require.NoError(t, err)
	defer place.Close()
	builds, err := place.Builds()
	require.NoError(t, err)
	list, err := builds[0].TOML()
	require.NoError(t, err)
	files := map[string][]byte{}
	for _, f := range list {
		files[f.Path], err = builds[0].Read(f.Path)
		require.NoError(t, err)
	}
	defer debug.SetGCPercent(debug.SetGCPercent(400)) // as the program does
	keeper := ledger.NewKeeper()
	judge := func(contents map[string][]byte) *lint.Report {
		return lint.Check(keeper.Read(builds[0].With(contents)), rules.Packs(), lint.Options{AsOf: "2026-11-20"})
	}
	whole := judge(nil)
	require.Empty(t, whole.Faults)
	was := map[string]*lint.Result{}
	for _, r := range whole.Results {
		was[r.Key()] = r
	}
	step := 1
	if testing.Short() {
		step = 9
	}
	type line struct {
		file string
		n    int
	}
	work := make(chan line)
	var tried, kept atomic.Int64
	one := func(at line) {
		lines := bytes.Split(files[at.file], []byte("\n"))
		where := fmt.Sprintf("%s:%d %q", at.file, at.n+1, lines[at.n])
		lines[at.n] = append([]byte("? "), lines[at.n]...)
		rep := judge(map[string][]byte{at.file: bytes.Join(lines, []byte("\n"))})
		assert.NotEmpty(t, rep.Faults, where)
		same := 0
		for _, r := range rep.Results {
			if old := was[r.Key()]; old != nil && old.Verdict == r.Verdict && old.Place.File == r.Place.File {
				same++
			} else if old != nil && old.Verdict > lint.Pass {
				assert.NotEqual(t, lint.Pass, r.Verdict, "%s makes %s %s pass", where, r.Rule.Name, r.Subject())
			}
		}
		assert.Greater(t, same, len(whole.Results)/3, "%s leaves too little", where)
		tried.Add(1)
		kept.Add(int64(same))
	}
	var workers sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		workers.Go(func() {
			for at := range work {
				one(at)
			}
		})
	}
	for name, data := range files {
		lines := bytes.Split(data, []byte("\n"))
		for n := 0; n < len(lines); n += step {
			if text := bytes.TrimSpace(lines[n]); len(text) > 0 && text[0] != '#' {
				work <- line{name, n}
			}
		}
	}
	close(work)
	workers.Wait()
	require.Greater(t, tried.Load(), int64(1000/step))
	t.Logf("%d lines broken; of %d checks %d came to the same on average", tried.Load(), len(whole.Results), kept.Load()/tried.Load())
}
