package ledger_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/ledger"
)

// TestLimits: a ledger at each stated limit is read, and one past it is refused
// at the place that is too much.
func TestLimits(t *testing.T) {
	const head = "[build]\ntitle = \"x\"\nstage = \"plan\"\n"
	entries := func(n int) map[string]string {
		var b strings.Builder
		b.WriteString(head)
		for i := range n - 1 {
			fmt.Fprintf(&b, "[part.p%d]\n", i)
		}
		return map[string]string{"v/build.toml": b.String()}
	}
	files := func(n int) map[string]string {
		out := map[string]string{"v/build.toml": head}
		for i := range n - 1 {
			out[fmt.Sprintf("v/p%04d.toml", i)] = ""
		}
		return out
	}
	deep := func(n int) map[string]string {
		return map[string]string{"v/build.toml": head, "v/" + strings.Repeat("d/", n) + "p.toml": ""}
	}
	large := func(n int) map[string]string {
		return map[string]string{"v/build.toml": head, "v/p.toml": "#" + strings.Repeat("\n", n-len(head)-1)}
	}
	mass := func(text string) map[string]string {
		return map[string]string{"v/build.toml": head + "[part.p]\nmass = \"" + text + " lb\"\n"}
	}
	fuels := func(n int) map[string]string {
		var list []string
		for range n {
			list = append(list, `"diesel"`)
		}
		return map[string]string{"v/build.toml": head + "[fuel]\ncarries = [" + strings.Join(list, ", ") + "]\n"}
	}
	for _, c := range []struct {
		name     string
		at, past map[string]string
		want     string
	}{
		{"entries", entries(ledger.MaxEntries), entries(ledger.MaxEntries + 1), fmt.Sprintf("v/build.toml:%d:", ledger.MaxEntries+3)},
		{"files", files(ledger.MaxFiles), files(ledger.MaxFiles + 1), fmt.Sprintf("v/p%04d.toml:1:1: ", ledger.MaxFiles-1)},
		{"folders", deep(ledger.MaxFolders), deep(ledger.MaxFolders + 1), "v/" + strings.Repeat("d/", ledger.MaxFolders+1) + "p.toml:1:1: "},
		{"bytes", large(ledger.MaxLedger), large(ledger.MaxLedger + 1), "v/p.toml:1:1: "},
		{"digits", mass("1." + strings.Repeat("1", 39)), mass("1." + strings.Repeat("1", 40)), "v/build.toml:5:8: "},
		{"numbers", mass("2000000000000000000000000000000"), mass("2300000000000000000000000000000"), "v/build.toml:5:8: "},
		{"fuels", fuels(16), fuels(17), "v/build.toml:5:"},
	} {
		t.Run(c.name, func(t *testing.T) {
			write(t, c.at)
			_, faults := load(t, "v")
			assert.Empty(t, faultLines(faults))
			write(t, c.past)
			_, faults = load(t, "v")
			if assert.Len(t, faults, 1) {
				assert.True(t, strings.HasPrefix(faults[0].String(), c.want), faults[0].String())
			}
		})
	}
}
