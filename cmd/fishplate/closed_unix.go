//go:build unix

package main

import (
	"os"

	"golang.org/x/sys/unix"
)

// closed tells that a standard stream was closed when the program began, as by
// >&-. Go has by then opened the null device in its place, for reading and
// writing (runtime.checkfds); what a shell opens by >/dev/null is for writing.
// A caller that opens the null device both ways cannot be told from that.
func closed(f *os.File) bool {
	info, err := f.Stat()
	null, bad := os.Stat(os.DevNull)
	if err != nil || bad != nil || !os.SameFile(info, null) {
		return false
	}
	flags, err := unix.FcntlInt(f.Fd(), unix.F_GETFL, 0)
	return err == nil && flags&unix.O_ACCMODE == unix.O_RDWR
}
