package revision

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestOpenBelow: a build is opened by its folder, with a shop's file as far up as the
// top; what is not below the top, or is no build, is refused.
func TestOpenBelow(t *testing.T) {
	top, err := filepath.EvalSymlinks(t.TempDir())
	require.NoError(t, err)
	van := filepath.Join(top, "shop", "builds", "van")
	require.NoError(t, os.MkdirAll(van, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(van, "build.toml"), []byte("[build]\n"), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(top, "shop", "shop.toml"), []byte("# on the disk\n"), 0o644))

	b, err := OpenBelow(filepath.Join(top, "shop"), van)
	require.NoError(t, err)
	_, text, found, err := shopOf(b)
	require.NoError(t, err)
	assert.True(t, found)
	assert.Equal(t, "# on the disk\n", string(text))

	typed := b.With(map[string][]byte{"build.toml": []byte("[build] # typed\n")}).WithShop([]byte("# typed\n"))
	_, text, _, err = shopOf(typed)
	require.NoError(t, err)
	assert.Equal(t, "# typed\n", string(text))
	data, faults := typed.ReadAll([]string{"none.toml", "build.toml"})
	assert.Error(t, faults[0])
	assert.Equal(t, "[build] # typed\n", string(data[1]))
	_, err = b.WithShop(make([]byte, MaxTOML+1)).Shop()
	assert.Error(t, err)

	alone, err := OpenBelow(van, van)
	require.NoError(t, err)
	_, _, found, err = shopOf(alone)
	require.NoError(t, err)
	assert.False(t, found, "it is above the top")

	_, err = OpenBelow(van, filepath.Join(top, "shop"))
	assert.ErrorContains(t, err, "outside")
	_, err = OpenBelow(top, filepath.Join(top, "shop"))
	assert.ErrorContains(t, err, "no build here")
	_, err = OpenBelow(top, filepath.Join(top, "nowhere"))
	assert.Error(t, err)
}
