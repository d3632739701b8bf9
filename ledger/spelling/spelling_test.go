package spelling

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNearest(t *testing.T) {
	assert.Equal(t, "van-07", Nearest("van-70", []string{"truck", "van-07"}))
	assert.Equal(t, "main", Nearest("mian", []string{"main", "release"}))
	assert.Equal(t, "Alternator", Nearest("alternater", []string{"alterations", "Alternator"}))
	assert.Empty(t, Nearest("x", []string{"truck", "van"}))
	assert.Empty(t, Nearest("", []string{"truck"}))
}

// The textbook's examples, and a swap of neighbors.
func TestDistance(t *testing.T) {
	assert.Equal(t, 3, distance("kitten", "sitting", 9))
	assert.Equal(t, 6, distance("", "abcdef", 9))
	assert.Equal(t, 1, distance("form", "from", 9))
	assert.Equal(t, 3, distance("van", "delivery-van", 3), "no nearer than what is asked for")
}
