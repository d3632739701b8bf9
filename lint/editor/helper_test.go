package editor

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// exampleFiles are the TOML files of the example shop, by name.
func exampleFiles(t testing.TB) map[string]string {
	t.Helper()
	out := map[string]string{}
	require.NoError(t, filepath.WalkDir("../../examples/tamarack", func(name string, d os.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(name, ".toml") {
			var data []byte
			data, err = os.ReadFile(name)
			out[name] = string(data)
		}
		return err
	}))
	return out
}
