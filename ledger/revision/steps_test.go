package revision

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestSteps: the commits of a build are those that git itself lists for its
// folder and the shop's file, by first parents.
func TestSteps(t *testing.T) {
	for _, format := range []string{"sha1", "sha256"} {
		t.Run(format, func(t *testing.T) {
			dir := repository(t, "--object-format="+format)
			write(t, dir, "shop.toml", "one", "builds/van/build.toml", "0", "builds/other/build.toml", "0")
			commitAll(t, dir)
			for i := range 5 {
				write(t, dir, "builds/van/parts/x.toml", fmt.Sprint(i), "builds/other/build.toml", fmt.Sprint(i))
				commitAll(t, dir)
				write(t, dir, "builds/other/build.toml", fmt.Sprint("other", i))
				commitAll(t, dir)
			}
			write(t, dir, "shop.toml", "two")
			commitAll(t, dir)
			sh(t, dir, "checkout", "-q", "-b", "branch")
			for i := range 3 {
				write(t, dir, "builds/van/parts/y.toml", fmt.Sprint(i))
				commitAll(t, dir)
			}
			sh(t, dir, "checkout", "-q", "main")
			write(t, dir, "README", "x")
			commitAll(t, dir)
			sh(t, dir, "merge", "-q", "--no-ff", "-m", "take it in", "branch")
			sh(t, dir, "branch", "done")
			want := strings.Fields(sh(t, dir, "rev-list", "--reverse", "--first-parent", "HEAD", "--", "builds/van", "shop.toml"))
			require.Len(t, want, 8)
			t.Chdir(filepath.Join(dir, "builds"))
			for _, arg := range []string{"HEAD:van", "HEAD:builds/van", "done:../builds/van"} {
				steps, short, err := glance(t, arg).Steps()
				require.NoError(t, err)
				assert.False(t, short)
				var got []string
				for _, s := range steps {
					got = append(got, s.ID)
					build, err := s.Build()
					require.NoError(t, err)
					assert.Equal(t, sh(t, dir, "show", s.ID+":builds/van/build.toml"), read1(t, build, "build.toml"))
					assert.Equal(t, sh(t, dir, "rev-parse", s.ID+":builds/van"), s.Tree)
					_, shop, _, err := shopOf(build)
					require.NoError(t, err)
					assert.Equal(t, sh(t, dir, "show", s.ID+":shop.toml"), string(shop))
				}
				assert.Equal(t, want, got, arg)
				assert.Equal(t, "A. Fitter", steps[0].Author)
				assert.Equal(t, "take it in", steps[7].About)
			}
			// A build that was away for a while is told as such.
			require.NoError(t, os.RemoveAll(filepath.Join(dir, "builds/van")))
			commitAll(t, dir)
			write(t, dir, "builds/van/build.toml", "back")
			commitAll(t, dir)
			steps, _, err := glance(t, "HEAD:van").Steps()
			require.NoError(t, err)
			require.Len(t, steps, 10)
			assert.Empty(t, steps[8].Tree)
			assert.NotEmpty(t, steps[9].Tree)

			clone := filepath.Join(canonical(t, t.TempDir()), "clone")
			sh(t, dir, "clone", "-q", "--depth", "1", "file://"+dir, clone)
			t.Chdir(clone)
			steps, short, err := glance(t, "HEAD:builds/van").Steps()
			require.NoError(t, err)
			assert.True(t, short)
			assert.Len(t, steps, 1)
		})
	}
}
