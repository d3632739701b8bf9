package ledger_test

import (
	"math/rand/v2"
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"fishplate/ledger/edit"
	"fishplate/ledger/revision"
	"fishplate/ledger/syntax"
)

// TestStraightened: laying out a thousand ledgers that are written in any way
// changes neither digest nor comments, and to do it twice changes nothing more.
func TestStraightened(t *testing.T) {
	shop, entries := digestCase(t)
	base := mustDigest(t, shop, plainly(entries))
	rnd := rand.New(rand.NewPCG(5, 6))
	for range often() {
		files := reformatted(t, rnd, entries)
		_, faults := digestOf(t, shop, files) // lays them down
		require.Empty(t, faults)
		place, err := revision.Open("van")
		require.NoError(t, err)
		builds, err := place.Builds()
		require.NoError(t, err)
		src := straightened(t, builds[0])
		require.Equal(t, notesIn(t, builds[0]), notesIn(t, src), "%v", files)
		d, err := edit.Begin(src)
		require.NoError(t, err)
		require.Equal(t, base, d.Before().Digest(), "%v", files)
		require.NoError(t, d.Straighten())
		require.Empty(t, d.Rewritten(), "%v", files)
		place.Close()
	}
}

// straightened is a build laid out, in memory.
func straightened(t *testing.T, src *revision.Build) *revision.Build {
	t.Helper()
	d, err := edit.Begin(src)
	require.NoError(t, err)
	require.NoError(t, d.Straighten())
	require.NotEmpty(t, d.Rewritten())
	return d.Source()
}

// comment is one that the generator writes; no value of its holds a number sign.
var comment = regexp.MustCompile(`(?m)#[^\r\n]*`)

// notesIn are the comments of all files, sorted, and those of each key.
func notesIn(t *testing.T, src *revision.Build) (out []string) {
	t.Helper()
	files, err := src.TOML()
	require.NoError(t, err)
	var names []string
	for _, f := range files {
		names = append(names, f.Path)
	}
	texts, _ := src.ReadAll(names)
	for i, name := range names {
		for _, c := range comment.FindAllString(string(texts[i]), -1) {
			out = append(out, name+" "+c)
		}
		doc := syntax.Read(texts[i])
		require.Empty(t, doc.Faults)
		var walk func(n *syntax.Node, path string)
		walk = func(n *syntax.Node, path string) {
			out = append(out, path+": "+n.Comment)
			for _, c := range n.Children {
				walk(c, path+"."+c.Key)
			}
		}
		walk(doc.Root, name)
	}
	slices.Sort(out)
	return out
}
