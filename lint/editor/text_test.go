package editor

import (
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// The code units are those of the Unicode Standard, section 3.9: ± (U+00B1) and ½
// (U+00BD) are one in UTF-16 and two in UTF-8, 🔧 (U+1F527) is two and four.
func TestPositions(t *testing.T) {
	line := "mass = \"6½ ± 1 lb\" # 🔧 a"
	at := map[string]int{"½": 9, "±": 12, "🔧": 23, "a": 28}
	for letter, want := range map[string][2]int{"½": {9, 9}, "±": {11, 12}, "🔧": {21, 23}, "a": {24, 28}} {
		txt := textOf("x = 1\n" + line)
		byteAt := len("x = 1\n") + at[letter]
		assert.Equal(t, letter, txt.s[byteAt:byteAt+len(letter)])
		assert.Equal(t, Position{1, want[0]}, txt.position(byteAt, UTF16), letter)
		assert.Equal(t, Position{1, want[1]}, txt.position(byteAt, UTF8), letter)
		assert.Equal(t, byteAt, txt.offset(Position{1, want[0]}, UTF16), letter)
		assert.Equal(t, byteAt, txt.offset(Position{1, want[1]}, UTF8), letter)
	}
	wrench := textOf("🔧a")
	assert.Equal(t, 0, wrench.offset(Position{0, 1}, UTF16), "within a character is its beginning")
	assert.Equal(t, 4, wrench.offset(Position{0, 2}, UTF16))
}

// The line ends are those of the protocol: "\n", "\r\n" and "\r".
func TestLineEnds(t *testing.T) {
	txt := textOf("ab\r\ncd\ref\n")
	assert.Equal(t, []int{0, 4, 7, 10}, txt.lines)
	assert.Equal(t, 2, txt.offset(Position{0, 99}, UTF16), "past the end of a line is its end")
	assert.Equal(t, 10, txt.offset(Position{99, 0}, UTF16), "past the last line is the end")
	assert.Equal(t, 0, txt.offset(Position{-1, -1}, UTF16))
	assert.Equal(t, Position{1, 1}, txt.position(5, UTF16))
}

// A byte order mark stands before the first column of a ledger's places, and is a
// code unit of the editor's.
func TestByteOrderMark(t *testing.T) {
	txt := textOf(byteOrderMark + "a = 1\r\nb½ = 2\r\n")
	assert.Equal(t, 3, txt.at(1, 1))
	assert.Equal(t, Position{0, 1}, txt.position(txt.at(1, 1), UTF16))
	assert.Equal(t, Position{1, 3}, txt.position(txt.at(2, 4), UTF16))
	assert.Equal(t, "= 2", txt.s[txt.at(2, 4):txt.at(2, 4)+3])
}

// TestUTF16: columns are those that unicode/utf16 counts, and lead back.
func TestUTF16(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringOf(rapid.SampledFrom([]rune("a ±½🔧\n\u0301"))).Draw(t, "s")
		txt := textOf(s)
		for i := range s {
			p := txt.position(i, UTF16)
			want := len(utf16.Encode([]rune(s[txt.lines[p.Line]:i])))
			if p.Character != want || txt.offset(p, UTF16) != i {
				t.Fatalf("%q at %d: %v", s, i, p)
			}
		}
	})
}

// TestChanges: a change splices the text where its range stands.
func TestChanges(t *testing.T) {
	txt := textOf("a = \"½\"\nb = 2\n")
	r := &Range{Position{0, 5}, Position{0, 6}}
	assert.Equal(t, "a = \"¼\"\nb = 2\n", txt.changed(contentChange{r, "¼"}, UTF16).s)
	assert.Equal(t, "new", txt.changed(contentChange{nil, "new"}, UTF16).s)
	back := &Range{Position{1, 0}, Position{0, 0}}
	assert.Equal(t, "a = \"½\"\nxb = 2\n", txt.changed(contentChange{back, "x"}, UTF16).s, "a range that ends before it begins is empty")
}

func TestURIs(t *testing.T) {
	for uri, want := range map[string]string{
		"file:///b/my%20van/build.toml":      "/b/my van/build.toml",
		"file://localhost/b/%C2%BD.toml":     "/b/½.toml",
		"file:///b/../c/build.toml":          "/c/build.toml",
		"http://example.org/build.toml":      "",
		"file://elsewhere/b/build.toml":      "",
		"file:build.toml":                    "",
		"untitled:one":                       "",
		"file:///b/%00/build.toml":           "",
		"file:///b/%0a.toml":                 "",
		"%":                                  "",
		"":                                   "",
		"file:///b/a%23b%3Fc.toml":           "/b/a#b?c.toml",
		"command:workbench.action.something": "",
	} {
		got, err := pathOf(uri)
		assert.Equal(t, want, got, uri)
		assert.Equal(t, want == "", err != nil, uri)
	}
	for _, name := range []string{"/b/my van/a#b?c%.toml", "/½/🔧.toml", "/a;b/[c].toml"} {
		back, err := pathOf(uriOf(name))
		assert.NoError(t, err)
		assert.Equal(t, name, back)
	}
}
