// Package golden holds generated files against what the program makes now, and
// says at the end of a test run, once, how to write them anew.
package golden

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
)

// Command writes all generated files anew.
const Command = "UPDATE=1 go test ./ledger ./rules ./cmd/fishplate ./lint/editor ./lint/shoprules"

// Updating tells that generated files are to be written anew.
func Updating() bool { return os.Getenv("UPDATE") != "" }

var (
	mu    sync.Mutex
	stale []string
)

// Check holds a file against what it should be, or writes it.
func Check(t testing.TB, file, want string) {
	t.Helper()
	if Updating() {
		if err := os.WriteFile(file, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	got, err := os.ReadFile(file)
	if err != nil {
		t.Error(err)
	}
	if string(got) == want {
		return
	}
	Stale(file)
	line, has, should := apart(string(got), want)
	t.Errorf("%s is stale from line %d on\n it has:      %s\n should have: %s", file, line, has, should)
}

// Stale notes that a generated file is not what it should be.
func Stale(file string) {
	if full, err := filepath.Abs(file); err == nil {
		file = full
	}
	mu.Lock()
	defer mu.Unlock()
	if !slices.Contains(stale, file) {
		stale = append(stale, file)
	}
}

// apart is the first line in which two texts differ.
func apart(a, b string) (line int, x, y string) {
	as, bs := strings.Split(a, "\n"), strings.Split(b, "\n")
	for line < len(as) && line < len(bs) && as[line] == bs[line] {
		line++
	}
	at := func(lines []string) string {
		if line < len(lines) {
			return lines[line]
		}
		return "(its end)"
	}
	return line + 1, at(as), at(bs)
}

// Tests runs a package's tests, and tells of all its stale files at the end.
type Tests struct{ M *testing.M }

// Run is the exit status of the tests.
func (t Tests) Run() int {
	status := t.M.Run()
	tell(os.Stderr)
	return status
}

func tell(w io.Writer) {
	mu.Lock()
	defer mu.Unlock()
	if len(stale) == 0 {
		return
	}
	slices.Sort(stale)
	fmt.Fprintf(w, "\n%d generated files are stale:\n", len(stale))
	for _, f := range stale {
		fmt.Fprintf(w, "  %s\n", f)
	}
	fmt.Fprintf(w, "Write them anew, and read the difference before you commit it:\n  %s\n", Command)
}
