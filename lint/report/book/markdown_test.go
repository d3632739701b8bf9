package book

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestLongNote: a note that would take its reader for ever is shown as it is written.
func TestLongNote(t *testing.T) {
	long := "**Drain** it <b>\n\nfirst\n\n" + strings.Repeat("word ", longestNote/5)
	got := string(markdown(long))
	assert.True(t, strings.HasPrefix(got, "<p>**Drain** it &lt;b&gt;</p>\n<p>first</p>\n<p>word word"), "%.80s", got)
	for _, s := range []string{"> ", "[a](", "![", "**a *b "} {
		got := string(markdown(strings.Repeat(s, 1<<20/len(s))))
		assert.NotContains(t, got, "<blockquote>")
		assert.Equal(t, 1, strings.Count(got, "<"+"p>"), s)
	}
	assert.Equal(t, "<p><strong>Drain</strong> it.</p>\n", string(markdown("**Drain** it.")))
	sound := strings.Repeat("- a *line* of a list\n", longestNote/21)
	assert.Contains(t, string(markdown(sound)), "<em>line</em>", "near the limit")
}
