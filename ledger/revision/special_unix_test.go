//go:build unix

package revision

import (
	"net"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A named pipe holds up whoever opens it until someone writes.
func TestFolderSpecialFiles(t *testing.T) {
	dir := shop(t)
	van := filepath.Join(dir, "builds", "van-07")
	require.NoError(t, syscall.Mkfifo(filepath.Join(van, "pipe.toml"), 0o644))
	require.NoError(t, syscall.Mkfifo(filepath.Join(van, "photo.jpg"), 0o644))
	t.Chdir(van) // a socket's path is short
	socket, err := net.Listen("unix", "socket.toml")
	require.NoError(t, err)
	defer socket.Close()
	link(t, van, "pipe.toml", "to-pipe.toml")
	link(t, van, os.DevNull, "device.toml")

	promptly(t, func() {
		build := one(t, ".")
		files, err := build.TOML()
		require.NoError(t, err)
		faults := map[string]string{}
		for _, f := range files {
			if f.Fault != "" {
				faults[f.Path] = f.Fault
			}
		}
		assert.Equal(t, map[string]string{
			"pipe.toml":    "a named pipe, no regular file",
			"to-pipe.toml": "a named pipe, no regular file",
			"socket.toml":  "a socket, no regular file",
			"device.toml":  faultOutside,
		}, faults)
		for name := range faults {
			_, err := build.Read(name)
			assert.Error(t, err, name)
		}
		_, _, err = build.Digest("photo.jpg")
		assert.EqualError(t, err, "photo.jpg: a named pipe, no regular file")
	})

	other := filepath.Join(dir, "builds", "other")
	require.NoError(t, os.Mkdir(other, 0o755))
	require.NoError(t, syscall.Mkfifo(filepath.Join(other, "build.toml"), 0o644))
	promptly(t, func() {
		_, err := one(t, other).Read("build.toml")
		assert.ErrorContains(t, err, "a named pipe", "a build all the same, and a fault of it")
	})
}

// promptly fails a test that hangs.
func promptly(t *testing.T, do func()) {
	t.Helper()
	done := make(chan struct{})
	go func() { defer close(done); do() }()
	select {
	case <-done:
	case <-time.After(10 * time.Second):
		t.Fatal("hangs")
	}
}
