package syntax

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// checkRanges: whatever a node's range is, it lies in the file, holds the text
// that the node has, and begins where the node's place says.
func checkRanges(t *testing.T, d *Document) {
	t.Helper()
	if d.Root == nil {
		return
	}
	places := places{src: d.Text, column: 1, lines: []int{0}}
	for i := range d.Text {
		if d.Text[i] == '\n' {
			places.lines = append(places.lines, i+1)
		}
	}
	var walk func(n *Node)
	walk = func(n *Node) {
		for _, c := range n.Children {
			for _, r := range []Range{c.KeyRange, c.ValueRange, c.Whole} {
				require.True(t, 0 <= r.From && r.From <= r.To && int(r.To) <= len(d.Text), "%q: %v", c.Key, r)
			}
			if !c.ValueRange.Empty() {
				assert.Equal(t, len(c.Text), int(c.ValueRange.To-c.ValueRange.From))
				assert.Equal(t, c.ValueAt, places.at(int(c.ValueRange.From)), "%q", c.Key)
			}
			if !c.KeyRange.Empty() {
				assert.Equal(t, c.KeyAt, places.at(int(c.KeyRange.From)), "%q", c.Key)
			}
			if !c.Whole.Empty() && !c.KeyRange.Empty() {
				assert.True(t, c.Whole.From <= c.KeyRange.From && c.KeyRange.To <= c.Whole.To && c.Lead <= c.Whole.From, "%q: %v in %v", c.Key, c.KeyRange, c.Whole)
			}
			walk(c)
		}
	}
	walk(d.Root)
}

func TestRanges(t *testing.T) {
	d := Read([]byte("\ufeff# top\n\n# above\n# two\n[[ a . b ]] # behind\n# of c\nc.d = [1, # one\n 2] # end\n\n# next\n[ x ]\ny = {z = 1}\r\n"))
	require.Empty(t, d.Faults)
	assert.True(t, d.Mark)
	text := func(r Range) string { return d.Text[r.From:r.To] }
	b := d.Root.Child("a").Child("b").Children[0]
	assert.Equal(t, "[[ a . b ]] # behind", text(b.Whole))
	assert.Equal(t, "# above\n# two\n[[ a . b ]] # behind", text(Range{b.Lead, b.Whole.To}))
	assert.Equal(t, "# end", d.Text[b.Until-5:b.Until])
	c := b.Child("c").Child("d")
	assert.Equal(t, "c.d = [1, # one\n 2] # end", text(c.Whole))
	assert.Equal(t, "[1, # one\n 2]", text(c.ValueRange))
	assert.Equal(t, "d", text(c.KeyRange))
	x := d.Root.Child("x")
	assert.Equal(t, "# next\n[ x ]", text(Range{x.Lead, x.Whole.To}))
	assert.Equal(t, "z = 1", text(x.Child("y").Child("z").Whole))
	assert.Equal(t, "y = {z = 1}", d.Text[x.Until-11:x.Until])
}

// A broken line costs its own table: whatever is done to a line, the other
// tables say what they said.
func TestBrokenLines(t *testing.T) {
	files, err := filepath.Glob("../../examples/tamarack/builds/*/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, name := range files {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		whole := sections(Read(data).Root)
		lines := strings.Split(string(data), "\n")
		for i, line := range lines {
			if strings.TrimSpace(line) == "" || strings.HasPrefix(line, "#") {
				continue
			}
			for _, broken := range []string{"? " + line, line[:len(line)-1] + "\x00", "x = \"\"\"" + line, "a = [ " + line, "\xff"} {
				text := strings.Join(append(append(append([]string(nil), lines[:i]...), broken), lines[i+1:]...), "\n")
				d := Read([]byte(text))
				require.NotEmpty(t, d.Faults, "%s:%d %q", name, i+1, broken)
				require.NotNil(t, d.Root)
				now := sections(d.Root)
				var lost []string
				for path, says := range whole {
					if now[path] != says {
						lost = append(lost, path)
					}
				}
				require.LessOrEqual(t, len(lost), 2, "%s:%d %q: %v", name, i+1, broken, lost)
			}
		}
	}
}

// sections says what each entry holds, by its path.
func sections(root *Node) map[string]string {
	out := map[string]string{}
	for _, kind := range root.Children {
		for _, e := range kind.Children {
			if e.Kind == Table && !e.Inline {
				out[kind.Key+"."+e.Key] = says(e)
			} else {
				out[kind.Key] += says(e)
			}
		}
	}
	return out
}

func says(n *Node) string {
	if n.Kind != Table && n.Kind != Array {
		return fmt.Sprint(n.Value)
	}
	var b strings.Builder
	for _, c := range n.Children {
		fmt.Fprintf(&b, "%s=%s;", c.Key, says(c))
	}
	return b.String()
}

func TestMergeLeftInProgress(t *testing.T) {
	d := Read([]byte("[part.a]\nmass = 1\n<<<<<<< HEAD\ncount = 2\n[part.b]\n=======\ncount = 3\n[part.c]\n>>>>>>> theirs\nx = 1\n[part.d]\ny = 2\n"))
	require.Len(t, d.Faults, 1)
	assert.Equal(t, "a merge left in progress at lines 3 to 9: keep what is right of both sides, and take the marks away", d.Faults[0].Message)
	assert.Equal(t, Position{3, 1}, d.Faults[0].At)
	assert.True(t, d.Refused)
	part := d.Root.Child("part")
	for key, damaged := range map[string]bool{"a": true, "b": true, "c": true, "d": false} {
		require.NotNil(t, part.Child(key), key)
		assert.Equal(t, damaged, part.Child(key).Damaged, key)
	}
	d = Read([]byte("<<<<<<< HEAD\n[part.a]\n||||||| base\n[part.z]\n=======\n>>>>>>> x"))
	require.Len(t, d.Faults, 1)
	d = Read([]byte("a = 1\n<<<<<<< HEAD\n[b]\n"))
	require.Len(t, d.Faults, 1, "not ended: the parser's own words")
}

func TestHiddenCharactersAndLongNumbers(t *testing.T) {
	for src, want := range map[string]string{
		"a = \"fu\u200bel\"":                   "1:8 an invisible character (U+200B) is not allowed in a string",
		"a = \"so\u00adft\"":                   "1:8 an invisible character (U+00AD) is not allowed in a string",
		"\"k\\u2060\" = 1":                     "1:1 an invisible character (U+2060) is not allowed in a key",
		"a = \"\U000e0041\"":                   "1:6 an invisible character (U+E0041) is not allowed in a string",
		"a = 1e31":                             "1:5 the number 1e31 is not allowed: it is beyond 1e30",
		"a = 0." + strings.Repeat("1", 40):     "1:5 the number 0.111111111111111111... is not allowed: it has more than 40 digits",
		"a = \"\u2714\ufe0f \u00b1 \u00bd é\"": "",
	} {
		_, faults := parse([]byte(src))
		assert.Equal(t, want, strings.Join(told(faults), ""), "%q", src)
	}
}

func TestCache(t *testing.T) {
	var c Cache
	a, b := c.File("a.toml", []byte("x = 1")), c.File("b.toml", []byte("x = 1"))
	assert.Same(t, a.Document, b.Document)
	assert.Equal(t, "b.toml", b.Name)
	assert.Len(t, a.Hash, 64)
	assert.NotSame(t, a.Document, c.File("a.toml", []byte("x = 2")).Document)
}

// Growth: each doubling of a list costs at most 2.2 times the memory taken. Over
// two doublings, as lists grow by steps.
func TestGrowth(t *testing.T) {
	for name, text := range map[string]func(n int) string{
		"comments":   func(n int) string { return strings.Repeat("#x\n", n) },
		"in a list":  func(n int) string { return "a = [\n" + strings.Repeat("#x\n", n) + "1]" },
		"entries":    func(n int) string { return numbered("[part.p%d]\nmass = \"1 lb\"\n", n) },
		"keys":       func(n int) string { return "[a]\n" + numbered("k%d = 1\n", n) },
		"broken":     func(n int) string { return numbered("[part.p%d]\nmass = \"\n", n) },
		"merges":     func(n int) string { return numbered("<<<<<<< a\n[part.p%d]\n=======\n>>>>>>> b\n", n) },
		"inside one": func(n int) string { return "a = {" + numbered("k%d = {b = 1},", n) + "z = 1}" },
	} {
		t.Run(name, func(t *testing.T) {
			cost := func(n int) float64 {
				data := []byte(text(n))
				var before, after runtime.MemStats
				runtime.ReadMemStats(&before)
				Read(data)
				runtime.ReadMemStats(&after)
				return float64(after.TotalAlloc - before.TotalAlloc)
			}
			one, two, four := cost(2000), cost(4000), cost(8000)
			assert.LessOrEqual(t, four, 2.2*2.2*one, "%v, %v, %v", one, two, four)
		})
	}
}

func numbered(format string, n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, format, i)
	}
	return b.String()
}
