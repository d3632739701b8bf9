package main

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestCompareTreesAsHTML: trees as one page are refused, and it is said why.
func TestCompareTreesAsHTML(t *testing.T) {
	var out, told bytes.Buffer
	builds := tamarack + "builds"
	assert.Equal(t, statusUnread, run([]string{"fishplate", "compare", "--report", "html", builds, builds}, real(&out, &told)))
	assert.Empty(t, out.String())
	assert.Equal(t, "fishplate: a comparison as html is of one build, and these are trees of them; name a build on each side, or take another kind: text, json, markdown, line, ci-log\n", told.String())
}
