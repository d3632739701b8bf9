package rules_test

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/revision"
	"fishplate/ledger/schema"
	"fishplate/lint"
	"fishplate/lint/report"
	"fishplate/rules"
)

// strangeValues are values that hardly any key takes.
var strangeValues = []string{`5`, `-1e300`, `true`, `"x"`, `""`, `"~0 lb"`, `[]`, `[[]]`, `[5, "x"]`, `{}`, `{ x = { y = 1 } }`, `2026-01-01`, `07:32:00`, `"part.nothing.at.all"`}

// TestStrangeValues: whatever stands behind whatever key, of every kind of entry and
// of what any entry may have, the ledger is read and judged to its end: what is
// wrong is told at its line, and no rule breaks off.
func TestStrangeValues(t *testing.T) {
	if testing.Short() {
		t.Skip("hundreds of ledgers")
	}
	kinds := ledger.Kinds()
	longest := 0
	for _, k := range kinds {
		longest = max(longest, len(k.Keys())+2)
	}
	tried, told := 0, 0
	for _, value := range strangeValues {
		for i := range longest { // a ledger holds the key at one place in the list of every kind
			var text strings.Builder
			lines := map[int]string{}
			text.WriteString("[hookup.k]\ncompare = \"level\"\n")
			for _, k := range kinds {
				if keys := append(k.Keys(), schema.Note.Key, schema.System.Key); i < len(keys) && !k.ShopOnly {
					fmt.Fprintf(&text, "[%s]\n%s = %s\n", strings.Replace(k.Header(), "ID", "a", 1), keys[i], value)
					lines[strings.Count(text.String(), "\n")] = k.Name + "." + keys[i] + " = " + value
				}
			}
			rep, faults := strange(t, text.String())
			tried += len(lines)
			for _, f := range faults {
				if lines[f.Place.Line] != "" {
					delete(lines, f.Place.Line)
					told++
				}
			}
			for _, f := range rep.Faults {
				assert.NotContains(t, f.Message, "internal error", "the value %s of the keys at %d", value, i)
			}
		}
	}
	assert.Greater(t, tried, 5000)
	assert.Greater(t, told, tried/2)
	t.Logf("%d keys with a strange value, %d refused", tried, told)
}

// strange judges a ledger, with its report for people and for programs.
func strange(t *testing.T, text string) (*lint.Report, []ledger.Fault) {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), []byte(text), 0o600))
	place, err := revision.Open(dir)
	require.NoError(t, err)
	defer place.Close()
	builds, err := place.Builds()
	require.NoError(t, err)
	b := ledger.NewLoader().Read(builds[0])
	rep := lint.Check(b, rules.Packs(), lint.Options{Today: "2026-11-20"})
	for _, kind := range []*report.Writer{report.JSON(io.Discard, report.Options{Builds: 1}), report.Text(io.Discard, report.Options{Builds: 1})} {
		if write := kind.Build; len(rep.Faults) == 0 {
			require.NoError(t, write(rep))
		} else if kind.Partial != nil {
			require.NoError(t, kind.Partial(rep))
		}
	}
	return rep, b.Faults
}
