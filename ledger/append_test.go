package ledger_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestWithEntries(t *testing.T) {
	write(t, map[string]string{"build.toml": "[part.a]\nmass = \"1 lb\"\n[document.one]\nkind = \"photo\"\n"})
	b, faults := load(t, ".")
	require.Empty(t, faults)

	more, faults := b.WithEntries("more.toml", []byte("[document.two]\nkind = \"photo\"\nproves = [\"part.a.mass\", \"document.one\"]\n"))
	require.Empty(t, faults)
	assert.Len(t, more.Documents(), 2)
	assert.Len(t, b.Documents(), 1, "the build itself stays as it is")
	assert.NotEqual(t, b.Digest(), more.Digest())
	assert.Equal(t, "more.toml", more.Documents()[1].Place().File)

	for text, want := range map[string]string{
		"[document.one]\n":                         "more.toml:1:11: document.one is already at build.toml:3:11; an entry stands in one place",
		"[document.two]\nproves = [\"part.aa\"]\n": "more.toml:2:11: there is no part.aa; did you mean \"part.a\"?",
		"[document.two]\nkind = 3\n":               "more.toml:2:8: kind takes words; got the number 3",
		"[document.two\n":                          "more.toml:1:14: expected ']' after the table's name, but found the end of the line",
	} {
		more, faults := b.WithEntries("more.toml", []byte(text))
		assert.Nil(t, more)
		assert.Equal(t, []string{want}, faultLines(faults))
	}
}
