package editor

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"fishplate/ledger/syntax"
)

// The bar is where the cursor stands.
func TestTokenAt(t *testing.T) {
	names := map[part]string{noPart: "nothing", inHeader: "header", inKey: "key", inValue: "value"}
	for src, want := range map[string]string{
		"[par|":                                   "header par par",
		"[|":                                      "header  ",
		"[part.|":                                 "header part. ",
		"[part.|]":                                "header part. ",
		"[part.fan|]":                             "header part.fan fan",
		"[part.fan] |":                            "nothing  ",
		"[part.fan]\n|":                           "key part.fan. ",
		"[part.fan]\nma|":                         "key part.fan.ma ma",
		"[part.fan]\nmass|= 3":                    "key part.fan.mass mass",
		"[part.fan]\nmass = |":                    "value part.fan.mass ",
		"[part.fan]\nmass = \"12 |":               "value part.fan.mass 12 ",
		"[part.fan]\nmass = \"12 |lb\" # x":       "value part.fan.mass 12 lb",
		"[part.fan]\nmass = \"12 lb\" |":          "nothing  ",
		"[part.fan]\nmass = \"12 lb\" # a|":       "nothing  ",
		"[part.fan]\nmass = \"12 lb\n|":           "key part.fan. ",
		"[part.fan]\nat = { |":                    "key part.fan.at. ",
		"[part.fan]\nat = { be|":                  "key part.fan.at.be be",
		"[part.fan]\nat = { behind = \"1 in\", |": "key part.fan.at. ",
		"[part.fan]\nat = { behind = |":           "value part.fan.at.behind ",
		"[part.fan]\nat.be|":                      "key part.fan.at.be be",
		"[gap.a]\nbetween = [\"part.a\", \"p|":    "value gap.a.between.1 p",
		"[gap.a]\nbetween = [\n  \"part.a\",\n|":  "value gap.a.between.1 ",
		"[gap.a]\nbetween = [\nmotion = |":        "value gap.a.motion ",
		"[gap.a]\nbetween = [\n[part.b]\n|":       "key part.b. ",
		"note = \"\"\"\na = |\"\"\"\nb = 2":       "value note \na = ",
		"a = 2026-04-|01":                         "value a 2026-04-01",
		"a = 3.5|":                                "value a 3.5",
		"levels = { \"tank.ma|in\" = 1 }":         "key levels.tank.main tank.main",
	} {
		at := strings.IndexByte(src, '|')
		text := src[:at] + src[at+1:]
		tok := tokenAt(text, at)
		assert.Equal(t, want, fmt.Sprintf("%s %s %s", names[tok.part], strings.Join(tok.path, "."), tok.text(text)), "%q", src)
	}
}

// TestScanAgrees: in a file without faults every key and value of the tree is a
// token, under the same path. What scan reads is held against the TOML parser.
func TestScanAgrees(t *testing.T) {
	for name, src := range exampleFiles(t) {
		found := map[string]bool{}
		for _, k := range tokens(src) {
			found[fmt.Sprint(k.part, k.path, k.from-len(k.quote))] = true
		}
		var walk func(n *syntax.Node, path []string)
		walk = func(n *syntax.Node, path []string) {
			for i, c := range n.Children {
				here := append(path[:len(path):len(path)], c.Key)
				if n.Kind == syntax.Array {
					here[len(path)] = fmt.Sprint(i)
				} else if !c.KeyRange.Empty() && !c.Whole.Empty() {
					as := inKey
					if c.Kind == syntax.Table && !c.Inline {
						as = inHeader
					}
					assert.True(t, found[fmt.Sprint(as, here, c.KeyRange.From)], "%s: %v", name, here)
				}
				if c.Kind != syntax.Table && c.Kind != syntax.Array {
					assert.True(t, found[fmt.Sprint(inValue, here, c.ValueRange.From)], "%s: value of %v", name, here)
				}
				walk(c, here)
			}
		}
		walk(syntax.Read([]byte(src)).Root, nil)
	}
}

// TestScanEnds: whatever is typed, a token lies in the text, and holds the place
// that was asked about.
func TestScanEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src := strings.Join(rapid.SliceOf(rapid.SampledFrom([]string{"[", "]", "{", "}", "=", ",", ".", "a", "\"", "'", "\"\"\"", "#", "\n", "\r\n", " ", "\\", "½", "1"})).Draw(t, "src"), "")
		at := rapid.IntRange(0, len(src)).Draw(t, "at")
		k := tokenAt(src, at)
		from, to := k.whole()
		if from < 0 || to > len(src) || k.from > k.to || at < from || at > to {
			t.Fatalf("%q at %d: %+v", src, at, k)
		}
	})
}
