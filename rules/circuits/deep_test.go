package circuits

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestCircuitsOneBehindAnother: as many as may be are added up to the last; of one
// more, all sums wait, and say why. So it is through relays.
func TestCircuitsOneBehindAnother(t *testing.T) {
	row := func(n int, relays bool) string {
		var b strings.Builder
		for i := range n {
			from := fmt.Sprintf("circuit.c%03d", i-1)
			if relays {
				from = fmt.Sprintf("relay.r%03d", i-1)
				fmt.Fprintf(&b, "[relay.r%03d]\n", i)
			}
			if i == 0 {
				from = "part.battery"
			}
			fmt.Fprintf(&b, "[circuit.c%03d]\nfrom = %q\nload = \"1 A\"\n", i, from)
			if relays {
				fmt.Fprintf(&b, "to = [\"relay.r%03d\"]\n", i)
			}
		}
		return b.String()
	}
	for _, relays := range []bool{false, true} {
		n := linked(t, row(mostDeep, relays))
		assert.InDelta(t, mostDeep, n.Current(n.Runs[0], Everything).Value(), 1e-9)
		n = linked(t, row(mostDeep+1, relays))
		for _, r := range n.Runs {
			current := n.Current(r, Everything)
			require.False(t, current.Known(), r.Path())
			assert.Equal(t, "no more than 100 circuits one behind another", current.Needs()[0].Key)
			assert.Equal(t, n.Runs[mostDeep].Place(), current.Needs()[0].Place)
		}
	}
}
