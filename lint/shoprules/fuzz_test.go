package shoprules_test

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// FuzzExpression: whatever stands in an expression, it becomes a check or is told at
// a place inside the file, in a line that can be read. The limits hold for what it
// takes; go test runs the seeds alone.
func FuzzExpression(f *testing.F) {
	for _, x := range []string{
		"", "true", "it.mass < q('20 lb')", "it.mass < q('2 in')", "has(it.fuse)", "parts().exists(p, p.mass > it.mass)",
		"figure('weight/front-axle', 'vehicle.front') < q('4000 lb')", "sum(parts().map(p, p.mass * p.at.behind)) / sum(parts().map(p, p.mass)) > q('3 in')",
		"it.at.behind == it.at.right", "[1, 2][7] == 3", "{'a': 1}.b == 2", "1 / 0 == 1", "9223372036854775807 + 1 > 0", "q('1e300 lb') * q('1e300 lb') / it.mass > it.mass",
		"pow(it.mass, it.mass) > q('1 lb')", "pow(it.mass, 99999.5) > q('1 lb')", "'\u202e' == \"\u200b\"", "b'\\xff' == b''", "timestamp('x') > timestamp('y')", "it.name.matches('(a*)*b')",
		"dyn(it) == it", "type(it) == type(1)", "it.`mass` > q('1 lb')", "@run == @run", "@q(@run, 'x') > q('1 lb')", "parts().map(p, parts()).map(x, x.map(y, y))[0][0] == it",
		"min() < q('1 lb')", "max(1, 2, 3, 4, 5, 6, 7) < 3", "below(it.mass, q('1 in'), 1, 2) > 1", "1u + 2u == 3u", "null == it", "it", "it.nothing.at.all", "\x00", "(", "'", "//", "a ? b : c",
		strings.Repeat("[", 70) + strings.Repeat("]", 70), strings.Repeat("-", 99) + "1 > 0", strings.Repeat("it.mass + ", 300) + "it.mass > q('1 lb')",
	} {
		f.Add(x)
	}
	f.Fuzz(func(t *testing.T, x string) {
		if !utf8.ValidString(x) {
			t.Skip("TOML is UTF-8")
		}
		var rule bytes.Buffer
		require.NoError(t, toml.NewEncoder(&rule).Encode(map[string]any{"rule": map[string]any{"x": map[string]any{
			"title": "x", "source": "s", "each": "part", "holds": x}}}))
		lines := strings.Split(rule.String(), "\n")
		rep := by(t, rule.String(), van)
		assert.True(t, len(rep.Faults) > 0 || len(of(rep, "shop/x")) > 0)
		for _, fault := range rep.Faults {
			require.True(t, fault.Place.Line >= 1 && fault.Place.Line <= len(lines), "%v", fault)
			assert.LessOrEqual(t, fault.Place.Column, utf8.RuneCountInString(lines[fault.Place.Line-1])+1, "%v", fault)
			assert.NotEmpty(t, fault.Message)
			assert.LessOrEqual(t, utf8.RuneCountInString(fault.Message), 500)
			if !strings.Contains(x, "@") { // nothing is told of the hidden names
				assert.NotContains(t, fault.Message, "@")
			}
		}
	})
}
