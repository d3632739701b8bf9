package ledger_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestFollowingEnds: where each entry of a layer names all of the next, there are
// some 10^12 ways through them, and none tells a place or a system.
func TestFollowingEnds(t *testing.T) {
	const layers, wide = 8, 32
	var text strings.Builder
	for l := range layers {
		for i := range wide {
			fmt.Fprintf(&text, "[work.w%d-%d]\nafter = [", l, i)
			for j := range wide {
				if l+1 < layers {
					fmt.Fprintf(&text, "\"work.w%d-%d\", ", l+1, j)
				}
			}
			text.WriteString("]\n")
		}
	}
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), []byte("[build]\ntitle = \"x\"\nstage = \"plan\"\n"+text.String()), 0o600))
	b, faults := load(t, dir)
	require.Empty(t, faults)
	e, ok := b.Entry("work.w0-0")
	require.True(t, ok)
	_, found := b.Whereabouts(e)
	assert.False(t, found)
	assert.Empty(t, b.System(e))
}
