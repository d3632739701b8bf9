package syntax

import (
	"fmt"
	"io/fs"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	tomltest "github.com/toml-lang/toml-test/v2"
)

// corpus gives the files of one of toml-test's lists by name.
func corpus(t testing.TB, list, group string) map[string]string {
	t.Helper()
	names, err := fs.ReadFile(tomltest.TestCases(), list)
	require.NoError(t, err)
	files := map[string]string{}
	for _, name := range strings.Fields(string(names)) {
		if strings.HasPrefix(name, group+"/") && strings.HasSuffix(name, ".toml") {
			data, err := fs.ReadFile(tomltest.TestCases(), name)
			require.NoError(t, err)
			files[name] = string(data)
		}
	}
	return files
}

// windows gives a file as some Windows editors would save it.
func windows(s string) string {
	return "\ufeff" + strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\n", "\r\n")
}

// decodedPaths lists every path of a decoded tree, with scalar values.
func decodedPaths(path string, v any, into map[string]any) {
	switch v := v.(type) {
	case map[string]any:
		into[path] = Table
		for key, e := range v {
			decodedPaths(fmt.Sprintf("%s.%q", path, key), e, into)
		}
	case []any:
		into[path] = Array
		for i, e := range v {
			decodedPaths(fmt.Sprintf("%s[%d]", path, i), e, into)
		}
	case []map[string]any:
		into[path] = Array
		for i, e := range v {
			decodedPaths(fmt.Sprintf("%s[%d]", path, i), e, into)
		}
	default:
		into[path] = v
	}
}

// treePaths lists every path of a tree and checks that it has a place.
func treePaths(t *testing.T, path string, n *Node, into map[string]*Node) {
	assert.True(t, n.KeyAt.Line > 0 && n.KeyAt.Column > 0, "%s: key at %v", path, n.KeyAt)
	assert.True(t, n.ValueAt.Line > 0 && n.ValueAt.Column > 0, "%s: value at %v", path, n.ValueAt)
	assert.NotContains(t, into, path)
	into[path] = n
	for i, c := range n.Children {
		if n.Kind == Array {
			treePaths(t, fmt.Sprintf("%s[%d]", path, i), c, into)
		} else {
			treePaths(t, fmt.Sprintf("%s.%q", path, c.Key), c, into)
			assert.Same(t, c, n.Child(c.Key))
		}
	}
}

func sameValue(a, b any) bool {
	if x, ok := a.(float64); ok && math.IsNaN(x) {
		y, ok := b.(float64)
		return ok && math.IsNaN(y)
	}
	if x, ok := a.(time.Time); ok {
		y, ok := b.(time.Time)
		return ok && x.Equal(y) && x.Location().String() == y.Location().String()
	}
	return a == b
}

// textAt gives what stands in a file at a place.
func textAt(src string, at Position) string {
	lines := strings.SplitAfter(strings.TrimPrefix(src, "\ufeff"), "\n")
	rest := string([]rune(lines[at.Line-1])[at.Column-1:])
	return rest + strings.Join(lines[at.Line:], "")
}

// checkTree compares a file's tree with what BurntSushi/toml decodes, and
// returns the number of paths and of values.
func checkTree(t *testing.T, src string) (paths, values int) {
	root, faults := parse([]byte(src))
	require.NotNil(t, root, "%v", faults)
	for _, f := range faults {
		assert.Regexp(t, `differ only in case|must be finite|beyond 1e30|digits|a control character|an invisible character`, f.Message)
	}
	var decoded map[string]any
	_, err := toml.Decode(src, &decoded)
	require.NoError(t, err)
	want, got := map[string]any{}, map[string]*Node{}
	decodedPaths("", decoded, want)
	treePaths(t, "", root, got)
	assert.Len(t, got, len(want))
	for path, v := range want {
		n := got[path]
		if !assert.NotNil(t, n, "%s has no node", path) {
			continue
		}
		paths++
		if kind, ok := v.(Kind); ok {
			assert.Equal(t, kind, n.Kind, path)
			assert.Nil(t, n.Value, path)
			if !n.Inline {
				assert.Empty(t, n.Text, path)
				continue
			}
		} else {
			values++
			assert.True(t, sameValue(v, n.Value), "%s: %v, not %v", path, n.Value, v)
		}
		assert.True(t, strings.HasPrefix(textAt(src, n.ValueAt), n.Text), "%s: %q is not at %v", path, n.Text, n.ValueAt)
		alone, err := decode("v = " + n.Text)
		if assert.NoError(t, err, "%s: %q", path, n.Text) && n.Value != nil {
			assert.True(t, sameValue(v, alone["v"]), "%s: %q alone is %v", path, n.Text, alone["v"])
		}
	}
	return paths, values
}

func TestValidCorpus(t *testing.T) {
	for list, want := range map[string]int{"files-toml-1.0.0": 205, "files-toml-1.1.0": 214} {
		for style, save := range map[string]func(string) string{"as is": strings.Clone, "BOM+CRLF": windows} {
			t.Run(list+" "+style, func(t *testing.T) {
				files := corpus(t, list, "valid")
				require.Len(t, files, want)
				paths, values := 0, 0
				for name, src := range files {
					t.Run(name, func(t *testing.T) {
						p, v := checkTree(t, save(src))
						paths, values = paths+p, values+v
					})
				}
				t.Logf("%d files, %d paths, %d values", len(files), paths, values)
			})
		}
	}
}

func TestInvalidCorpus(t *testing.T) {
	files := corpus(t, "files-toml-1.1.0", "invalid")
	require.NotEmpty(t, files)
	refused, resaved := 0, 0
	for name, src := range files {
		root, faults := parse([]byte(src))
		if assert.Nil(t, root, "%s is accepted:\n%s", name, src) {
			refused++
		}
		assert.NotEmpty(t, faults, name)
		for _, f := range faults {
			assert.True(t, f.At.Line > 0 && f.At.Column > 0 && f.At.Line <= strings.Count(src, "\n")+1, "%s: %v", name, f)
			assert.NotContains(t, f.Message, "internal error", name)
		}
		if root, _ = parse([]byte(windows(src))); assert.Nil(t, root, "%s is accepted with BOM and CRLF", name) {
			resaved++
		}
	}
	t.Logf("%d of %d refused; with BOM and CRLF %d of %d", refused, len(files), resaved, len(files))
}
