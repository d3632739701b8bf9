package rules_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
)

// Every word that a pack's tables go by stands on the list that the ledger's
// words are held against, else no ledger could use it.
func TestTablesUseKnownWords(t *testing.T) {
	known := map[string][]string{}
	for _, l := range ledger.WordLists() {
		for _, w := range l.Words {
			known[l.Name] = append(known[l.Name], strings.ToLower(w))
		}
	}
	columns := map[string]string{"role": "role", "fed": "role", "fluid": "fluid", "fuel": "fluid", "material": "material"}
	files, err := filepath.Glob("*/refdata/*.toml")
	require.NoError(t, err)
	held := 0
	for _, file := range files {
		var set struct {
			Table map[string]struct {
				Columns []string
				Rows    [][]any
			}
		}
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		_, err = toml.Decode(string(data), &set)
		require.NoError(t, err, file)
		for name, table := range set.Table {
			for i, column := range table.Columns {
				list := columns[column]
				if list == "" {
					continue
				}
				for _, row := range table.Rows {
					for _, w := range strings.Split(strings.ReplaceAll(row[i].(string), " or ", ","), ",") {
						if w = strings.TrimSpace(w); w != "" {
							held++
							assert.True(t, slices.Contains(known[list], strings.ToLower(w)), "%s, table %s: %q is on no list of the ledger's (%s)", file, name, w, list)
						}
					}
				}
			}
		}
	}
	assert.Greater(t, held, 100)
}
