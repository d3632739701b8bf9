package syntax

import (
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	pelletier "github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// FuzzParse checks that no input panics, that a root stands for exactly what
// BurntSushi/toml decodes, and that what both libraries decode is refused only
// for a stated limit.
func FuzzParse(f *testing.F) {
	f.Fuzz(func(t *testing.T, data []byte) {
		checkRanges(t, Read(data))
		root, faults := parse(data)
		lines := strings.Split(strings.TrimPrefix(string(data), "\ufeff"), "\n")
		for _, fault := range faults {
			at := fault.At
			require.True(t, at.Line >= 1 && at.Line <= len(lines), "%v", fault)
			require.True(t, at.Column >= 1 && at.Column <= len([]rune(lines[at.Line-1]))+1, "%v", fault)
			require.Equal(t, rune(-1), controlCharacter(fault.Message), "%q", fault.Message)
			require.NotContains(t, fault.Message, "internal error")
		}
		require.True(t, slices.IsSortedFunc(faults, func(a, b Fault) int { return a.At.compare(b.At) }))
		if root != nil {
			checkTree(t, string(data))
			return
		}
		require.NotEmpty(t, faults)
		var ours, theirs any
		if toml.Unmarshal(data, &ours) == nil && pelletier.Unmarshal(data, &theirs) == nil {
			for _, fault := range faults {
				assert.Regexp(t, "nested deeper|an offset has hours|the file is in UTF-16|a merge left in progress", fault.Message, "%q", data)
			}
		}
	})
}
