package shoprules_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// hostile are expressions that nobody writes but to harm, a hundred of them.
func hostile() (out []string) {
	for n := range 25 {
		deep := 80 << (n % 8)
		out = append(out,
			strings.Repeat("(", deep)+"true"+strings.Repeat(")", deep),
			strings.Repeat("!", deep)+"true",
			"q('1 in') < q('1 in')"+strings.Repeat(" + q('1 in')", deep),
			"'"+strings.Repeat("x", 2000+n)+"' == 'x'")
	}
	return out
}

// TestHostile: each ends with a fault at its place, or with a check, and all of them
// together in a few seconds; what is only long is told as such.
func TestHostile(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	began := time.Now()
	for _, x := range hostile() {
		rep := by(t, "[rule.x]\ntitle = \"x\"\nsource = \"s\"\nholds = \"\"\""+x+"\"\"\"\n", van)
		assert.True(t, len(rep.Faults) > 0 || len(of(rep, "shop/x")) == 1, "%.60s", x)
		for _, f := range rep.Faults {
			assert.LessOrEqual(t, len(f.Message), 300, "%.60s", x)
			assert.Equal(t, 4, f.Place.Line, "%.60s: %v", x, f)
		}
	}
	t.Log(time.Since(began))
}

// TestRunsOut: a rule that goes through too much ends at its limit and says so, and
// all else is judged.
func TestRunsOut(t *testing.T) {
	var parts strings.Builder
	for i := range 40 {
		fmt.Fprintf(&parts, "[part.p%d]\nmass = \"%d lb\"\n", i, i+1)
	}
	loop := "parts().all(a, parts().all(b, parts().all(c, parts().all(d, true))))"
	sums := "sum(parts().map(a, sum(parts().map(b, sum(parts().map(c, a.mass * b.mass / c.mass)))))) > q('1 lb')"
	for _, x := range []string{loop, sums} {
		rep := by(t, "[rule.x]\ntitle = \"x\"\nsource = \"s\"\nholds = \"\"\""+x+"\"\"\"\n", van+parts.String())
		require.Len(t, rep.Faults, 1, x)
		assert.Contains(t, rep.Faults[0].Message, "narrow down what it goes through")
		assert.Equal(t, 4, rep.Faults[0].Place.Line)
		assert.NotEmpty(t, of(rep, "weight/gross"))
		assert.Empty(t, of(rep, "shop/x"))
	}
}
