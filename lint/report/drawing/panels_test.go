package drawing

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestWhole: the words of the columns with the shortest are not broken, as many
// columns as a phone has room for, whatever a ledger calls things.
func TestWhole(t *testing.T) {
	pins := Table{Rows: [][]string{
		{"instruments", "12", "moved", "intake heat trigger", "orange/black", "18 AWG", "Original body harness, not-to-be-broken"},
		{"dash", "3", "capped", "", "was tan", "", ""},
	}}
	assert.Equal(t, []bool{true, true, true, true, true, true, false}, pins.Whole())
	long := strings.Repeat("x", 60)
	assert.Equal(t, []bool{false, true}, Table{Rows: [][]string{{long, "1"}}}.Whole())
	assert.Empty(t, Table{}.Whole())
}

// TestNoHeadingAtTheFoot: what is laid out in panels has no heading for the last line
// of one, and every line stands in one of them.
func TestNoHeadingAtTheFoot(t *testing.T) {
	for lines := range 3 * perPanel {
		for _, every := range []int{1, 2, 9, 27, 28, 29} {
			head := func(i int) bool { return i%every == 0 }
			seen := 0
			inPanels("", lines, head, func(from, to int, width float64) Sheet {
				if width >= wide {
					assert.Equal(t, seen, from)
					assert.LessOrEqual(t, to-from, perPanel)
					assert.False(t, to < lines && to > from+1 && head(to-1), "%d of %d", to, lines)
					seen = to
				}
				return Sheet{Width: width}
			})
			assert.Equal(t, lines, seen)
		}
	}
}
