package ledger

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestDigestedOnce: a file is read once, however its name is spelled.
func TestDigestedOnce(t *testing.T) {
	var asked []string
	b := &Build{files: &files{known: map[string]fileDigest{}, digest: func(name string) (string, error) {
		asked = append(asked, name)
		return "sum", nil
	}}}
	for _, name := range []string{"a/x", "./a/x", "a/./x", "a//x", "././a/././x", "./", "/a/x", "../x", "a/../x", "a/x/."} {
		_, err := b.FileDigest(name)
		require.NoError(t, err)
	}
	assert.Equal(t, []string{"a/x", ".", "/a/x", "../x", "a/../x"}, asked)
}
