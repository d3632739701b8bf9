package main

import (
	"bytes"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger/golden"
)

// TestReadmeDrawings: the drawings that the README shows are those that draw makes
// now. UPDATE=1 writes them anew.
func TestReadmeDrawings(t *testing.T) {
	t.Chdir("../..")
	readme, err := os.ReadFile("README.md")
	require.NoError(t, err)
	for _, kind := range []string{"side", "closeness"} {
		var stdout, stderr bytes.Buffer
		status := run([]string{"fishplate", "draw", kind, "examples/tamarack/builds/heron", "--as-of", "2026-11-20"}, real(&stdout, &stderr))
		require.Equal(t, statusClean, status, stderr.String())
		file := "examples/tamarack/drawings/heron-" + kind + ".svg"
		assert.Contains(t, string(readme), "]("+file+")")
		golden.Check(t, file, stdout.String())
	}
}
