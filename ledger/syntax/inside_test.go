package syntax

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestInside: a mark in a string stands where the file has it, in every way that
// TOML 1.1 has to write a string.
func TestInside(t *testing.T) {
	for name, file := range map[string]string{
		"basic":           `a = "it.mass < @"`,
		"literal":         `a = 'it.mass < @'`,
		"escapes":         `a = "\"\u00e9\U0001F600\x41\e\t" + "@"`,
		"only escapes":    `a = "\"\u00e9\U0001F600\x41\t@"`,
		"other letters":   `a = "éß漢@"`,
		"multi-line":      "a = \"\"\"\nit.mass\n  < @\"\"\"",
		"no first break":  "a = \"\"\"it.mass\n  < @\"\"\"",
		"windows":         "a = \"\"\"\r\nit.mass\r\n  < @\"\"\"\r\n",
		"literal lines":   "a = '''\nit.mass\n\\ < @'''",
		"taken breaks":    "a = \"\"\"\\\n   it.mass \\  \n\n   < \\\n @ \"\"\"",
		"quotes inside":   "a = \"\"\"a \"\" b\"@\"\"\"",
		"first character": `a = "@"`,
		"a mark ahead":    "\ufeffa = \"b@\"",
	} {
		t.Run(name, func(t *testing.T) {
			root, faults := parse([]byte(file))
			if name == "escapes" {
				require.NotEmpty(t, faults)
				return
			}
			require.Empty(t, faults)
			n := root.Child("a")
			said, _, found := strings.Cut(n.Value.(string), "@")
			require.True(t, found)
			text := strings.TrimPrefix(file, "\ufeff")
			before, _, _ := strings.Cut(text, "@")
			line := before[strings.LastIndexByte(before, '\n')+1:]
			want := Position{1 + strings.Count(before, "\n"), 1 + len([]rune(line))}
			assert.Equal(t, want, n.Inside(len([]rune(said))))
		})
	}
}

// TestInsideStays: no character of any string leads out of it.
func TestInsideStays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		file := "a = " + rapid.StringMatching(`"""?[a\\\n "tu0é]{0,12}"""?|'''?[a\\\n ']{0,9}'''?`).Draw(t, "string") + "\n"
		root, faults := parse([]byte(file))
		if len(faults) > 0 || root.Child("a") == nil {
			return
		}
		n := root.Child("a")
		last := n.ValueAt
		for i := range len([]rune(n.Value.(string))) + 3 {
			at := n.Inside(i)
			if at.compare(last) < 0 {
				t.Fatalf("character %d of %q is at %v, before the one ahead of it at %v", i, file, at, last)
			}
			last = at
		}
		if end := 1 + strings.Count(n.Text, "\n"); last.Line > end {
			t.Fatalf("%q: %v lies past its end", file, last)
		}
	})
}
