package editor

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestOneLine: where a whole file stands in one line, a position in it is counted
// from near by, and is the same.
func TestOneLine(t *testing.T) {
	s := strings.Repeat("½🔧a\xff ", 2000)
	txt := textOf(s)
	require.Len(t, txt.lines, 1)
	for i, c := range txt.counts[1:] {
		assert.LessOrEqual(t, c.at-txt.counts[i].at, stride+4)
	}
	assert.Less(t, len(s)-txt.counts[len(txt.counts)-1].at, stride+4)
	n := 0
	for i, r := range s {
		require.Equal(t, Position{0, n}, txt.position(i, UTF16), i)
		require.Equal(t, Position{0, i}, txt.position(i, UTF8), i)
		n++
		if r > 0xffff {
			n++
		}
	}
}

// TestLinkOut: a link that leads out of the build is no file of it because an editor
// has it open. What is wrong with it is told at it, and no change is offered that
// would be written where it leads.
func TestLinkOut(t *testing.T) {
	base := t.TempDir()
	dir := filepath.Join(base, "shop")
	lay(t, base, map[string]string{
		"outside.toml":        "[part.fan]\nmass = \"1 lb\"\n",
		"shop/van/build.toml": "[build]\ntitle = \"x\"\n\n[gap.a]\nbetween = [\"part.fan\", \"part.fan\"]\n",
	})
	if os.Symlink("../../outside.toml", filepath.Join(dir, "van/fan.toml")) != nil {
		t.Skip("there are no links here")
	}
	c := start(t, dir, madeUp(), judgedAt())
	c.begin(capabilities)
	c.open("van/build.toml")
	c.open("van/fan.toml")
	told := published(c.settle())
	require.NotEmpty(t, told[c.uri("van/fan.toml")])
	assert.Contains(t, told[c.uri("van/fan.toml")][0].Message, "leads outside the folder")
	for _, at := range []object{c.at("van/fan.toml", "[part.f|an]"), c.at("van/build.toml", "\"part.f|an")} {
		at["newName"] = "blower"
		assert.NotNil(t, c.ask("textDocument/rename", at).Error)
	}
	answer := c.ask("textDocument/codeAction", object{"textDocument": object{"uri": c.uri("van/fan.toml")}, "range": Range{Position{0, 6}, Position{0, 6}}, "context": object{}})
	var actions []codeAction
	require.NoError(t, json.Unmarshal(answer.Result, &actions))
	for _, a := range actions {
		for _, d := range a.Edit.DocumentChanges {
			assert.NotEqual(t, c.uri("van/fan.toml"), d.TextDocument.URI, a.Title)
		}
	}
}

// TestIDsAreOffered: under a header that names a kind and no entry, a key is an id.
func TestIDsAreOffered(t *testing.T) {
	dir := t.TempDir()
	lay(t, dir, map[string]string{"van/build.toml": "[build]\ntitle = \"x\"\n\n[gap.a]\nbetween = [\"part.fan\", \"part.fan\"]\n\n[part]\nf = {}\n"})
	c := start(t, dir, madeUp(), judgedAt())
	c.begin(capabilities)
	c.open("van/build.toml")
	answer := c.ask("textDocument/completion", c.at("van/build.toml", "[part]\nf| ="))
	require.Nil(t, answer.Error)
	var list completionList
	require.NoError(t, json.Unmarshal(answer.Result, &list))
	require.Len(t, list.Items, 1)
	assert.Equal(t, "fan", list.Items[0].Label)
	assert.Equal(t, "fan", list.Items[0].TextEdit.NewText)
}

// TestLongPath: a path that no system has is none, for each of its folders would be
// looked for.
func TestLongPath(t *testing.T) {
	_, err := pathOf("file://" + strings.Repeat("/a", 300_000) + "/build.toml")
	assert.Error(t, err)
	_, err = pathOf("file://" + strings.Repeat("/a", 1_000) + "/build.toml")
	assert.NoError(t, err)
}

// TestRenameWritesAnID: a new name that would write more than an id is refused, in a
// shop's file, be the entry used or not, as in a build's.
func TestRenameWritesAnID(t *testing.T) {
	dir, _ := smallShop(t)
	lay(t, dir, map[string]string{"shop.toml": "[assembly.power]\nat = { behind = \"10 in\", right = \"0 in\", above = \"20 in\" }\n[part.lamp]\nmass = \"1 lb\"\n"})
	c := start(t, dir, madeUp(), judgedAt())
	c.begin(capabilities)
	c.open("shop.toml")
	c.open("van/parts.toml")
	for _, at := range []object{c.at("shop.toml", "assembly.po|wer"), c.at("shop.toml", "part.la|mp"), c.at("van/parts.toml", "[part.f|an]")} {
		at["newName"] = "x]\n[shop]\nname = \"evil\"\n[part.y"
		assert.NotNil(t, c.ask("textDocument/rename", at).Error)
		at["newName"] = "drive"
		assert.Nil(t, c.ask("textDocument/rename", at).Error)
	}
}
