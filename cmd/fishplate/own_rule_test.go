package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger/golden"
)

// ownRuleScreen is what a command prints on the shop that the README has written up
// to there, or on that shop misspelt.
var ownRuleScreen = regexp.MustCompile("(?s)(   <!-- the rule above(, misspelt)?: ([^\n]+) -->\n   ```text\n)(.*?)(   ```\n)")

// TestReadmeOwnRule does what the README's section on a rule of one's own says, file
// by file: the trial comes out as it is to, and what is misspelt is told as shown.
func TestReadmeOwnRule(t *testing.T) {
	readme, err := filepath.Abs("../../README.md")
	require.NoError(t, err)
	text, err := os.ReadFile(readme)
	require.NoError(t, err)
	_, section, ok := strings.Cut(string(text), "## A rule of your own in ten minutes\n")
	require.True(t, ok)
	section, _, _ = strings.Cut(section, "\n## ")
	var blocks []string
	for _, m := range regexp.MustCompile("(?s)   ```toml\n(.*?)   ```\n").FindAllStringSubmatch(section, -1) {
		blocks = append(blocks, strings.ReplaceAll(m[1], "\n   ", "\n")[3:])
	}
	require.Len(t, blocks, 3, "a rule, a build and a trial")
	shop := blocks[0] + "\n" + blocks[2]

	t.Chdir(t.TempDir())
	require.NoError(t, os.MkdirAll("trials/tank-behind", 0o755))
	require.NoError(t, os.WriteFile("trials/tank-behind/build.toml", []byte(blocks[1]), 0o644))
	whole := string(text)
	screens := ownRuleScreen.FindAllStringSubmatch(whole, -1)
	require.Len(t, screens, 2)
	for _, m := range screens {
		now, want := shop, statusClean
		if m[2] != "" {
			now, want = strings.Replace(strings.Replace(shop, "behind\"", "behnd\"", 1), "'12 in'", "'12 lb'", 1), statusUnread
			require.NotEqual(t, shop, now)
		}
		require.NoError(t, os.WriteFile("shop.toml", []byte(now), 0o644))
		var out bytes.Buffer
		assert.Equal(t, want, run(append([]string{"fishplate"}, strings.Fields(m[3])...), real(&out, &out)), out.String())
		shown := "   " + strings.ReplaceAll(strings.TrimRight(out.String(), "\n"), "\n", "\n   ") + "\n"
		whole = strings.Replace(whole, m[0], m[1]+shown+m[5], 1)
	}
	golden.Check(t, readme, whole)
}
