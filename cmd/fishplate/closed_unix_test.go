//go:build unix

package main

import (
	"bytes"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestClosedOutput: a standard output that was closed before the program began
// takes nothing, which is told and is no verdict. One that is thrown away on
// purpose, or that nothing is written to, is in order.
func TestClosedOutput(t *testing.T) {
	program, err := exec.LookPath("fishplate")
	require.NoError(t, err)
	dir := oneBuild(t)
	for _, c := range []struct {
		line   string
		status int
		said   string
	}{
		{`"$0" check "$1" >&-`, statusUnread, "standard output is closed"},
		{`"$0" list fuses "$1" >&-`, statusUnread, "standard output is closed"},
		{`"$0" --version >&-`, statusUnread, "standard output is closed"},
		{`"$0" check "$1" >/dev/null`, statusFails, ""},
		{`"$0" check "$1" --report json="$1/out.json" >&-`, statusFails, ""},
	} {
		var stderr bytes.Buffer
		cmd := exec.Command("sh", "-c", c.line, program, filepath.ToSlash(dir))
		cmd.Stderr = &stderr
		_ = cmd.Run()
		assert.Equal(t, c.status, cmd.ProcessState.ExitCode(), "%s: %s", c.line, &stderr)
		if c.said == "" {
			assert.Empty(t, stderr.String(), c.line)
		} else {
			assert.Contains(t, stderr.String(), c.said, c.line)
		}
	}
}
