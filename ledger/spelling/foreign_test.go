package spelling

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// U+0430 is CYRILLIC SMALL LETTER A, U+00E9 LATIN SMALL LETTER E WITH ACUTE
// (Unicode's charts).
func TestForeign(t *testing.T) {
	assert.Equal(t, "", Foreign("oil-pan"))
	assert.Equal(t, "'\u0430' (U+0430) only looks like 'a'", Foreign("oil-p\u0430n"))
	assert.Equal(t, "'\u00e9' (U+00E9) is not one of a to z", Foreign("b\u00e9ton"))
	assert.Equal(t, "U+200B is not one of a to z", Foreign("oil\u200b"))
}
