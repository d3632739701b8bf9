package ledger_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A note that is no text is told at its place, like any other wrong value.
func TestNoteOfAnotherKind(t *testing.T) {
	for value, kind := range map[string]string{"5": "the number 5", "true": "true", "[]": "a list", "{}": "a table", "2026-01-01": "a date"} {
		write(t, map[string]string{"build.toml": "[part.a]\nnote = " + value + "\n[gap.a]\nnote = " + value + "\n"})
		_, faults := load(t, ".")
		assert.Equal(t, []string{"build.toml:2:8: note takes words; got " + kind, "build.toml:4:8: note takes words; got " + kind}, faultLines(faults), value)
	}
}
