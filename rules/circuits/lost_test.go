package circuits

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/revision"
)

// TestLostCircuit: whichever way a circuit is lost to a fault, no current that it
// may add to is known any more, and each waits for that fault; a fault that can
// hide no circuit leaves the currents as they are.
func TestLostCircuit(t *testing.T) {
	const head = "[circuit.three]"
	for name, c := range map[string]struct {
		was, is string
		waits   string // "" where the currents stay
	}{
		"broken header":          {head, "? " + head, "build.toml without its faults"},
		"unclosed header":        {head, "[circuit.three", "build.toml without its faults"},
		"another kind":           {head, "[circit.three]", "build.toml without its faults"},
		"no id":                  {head, "[circuit.Three]", "build.toml without its faults"},
		"a letter of another":    {head, "[circuit.thrеe]", "build.toml without its faults"},
		"no table":               {head, "[circuit]\nthree = 5\n[zone.rest]", "build.toml without its faults"},
		"a null byte":            {head, "[circuit.th\x00ree]", "build.toml without its faults"},
		"a part without a table": {"[part.lamp]", "[part]\nother = 5\n[part.lamp]", ""},
		"a part's id":            {"[part.lamp]", "[part.Other]\n[part.lamp]", ""},
	} {
		t.Run(name, func(t *testing.T) {
			text := bench + tree
			require.Contains(t, text, c.was)
			dir := t.TempDir()
			require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), []byte(strings.Replace(text, c.was, c.is, 1)), 0o600))
			place, err := revision.Open(dir)
			require.NoError(t, err)
			defer place.Close()
			builds, err := place.Builds()
			require.NoError(t, err)
			b := ledger.NewLoader().Read(builds[0])
			require.NotEmpty(t, b.Faults)
			n := Of(b)
			for _, r := range n.Runs {
				current := n.Current(r, Everything)
				switch {
				case r.Damaged():
				case c.waits == "":
					assert.True(t, current.Known(), r.Path())
				default:
					require.False(t, current.Known(), r.Path())
					assert.True(t, strings.HasSuffix(current.Needs()[0].Key, c.waits), "%s waits for %v", r.Path(), current.Needs())
				}
			}
		})
	}
}
