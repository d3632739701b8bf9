package golden

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// quiet takes what a test would be told.
type quiet struct {
	testing.TB
	told int
}

func (q *quiet) Helper()               {}
func (q *quiet) Error(...any)          { q.told++ }
func (q *quiet) Errorf(string, ...any) { q.told++ }

func TestCheckTellsStaleFilesOnce(t *testing.T) {
	t.Setenv("UPDATE", "")
	t.Cleanup(func() { stale = nil })
	dir := t.TempDir()
	fresh, old := filepath.Join(dir, "fresh"), filepath.Join(dir, "old")
	for _, f := range []string{fresh, old} {
		if err := os.WriteFile(f, []byte("one\ntwo\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	q := &quiet{TB: t}
	Check(q, fresh, "one\ntwo\n")
	if q.told != 0 {
		t.Error("a fresh file was told")
	}
	Check(q, old, "one\nthree\n")
	Check(q, old, "one\nthree\n")
	if q.told != 2 {
		t.Errorf("told %d times, not twice", q.told)
	}
	var b strings.Builder
	tell(&b)
	if got := b.String(); strings.Count(got, old) != 1 || strings.Contains(got, fresh) || !strings.Contains(got, Command) {
		t.Error(got)
	}
	t.Setenv("UPDATE", "1")
	Check(q, old, "one\nthree\n")
	if got, _ := os.ReadFile(old); string(got) != "one\nthree\n" {
		t.Errorf("written: %q", got)
	}
}

func TestApart(t *testing.T) {
	for _, c := range []struct {
		a, b string
		line int
		x, y string
	}{
		{"a\nb\n", "a\nc\n", 2, "b", "c"},
		{"a", "a\nb", 2, "(its end)", "b"},
	} {
		if line, x, y := apart(c.a, c.b); line != c.line || x != c.x || y != c.y {
			t.Errorf("%q, %q: %d %q %q", c.a, c.b, line, x, y)
		}
	}
}
