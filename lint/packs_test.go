package lint_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"fishplate/ledger"
)

// TestLeftOutPacks: a build that leaves packs out is not finished without a
// waiver of each, however it leaves them out. The packs here are toy and other.
func TestLeftOutPacks(t *testing.T) {
	waiver := func(id, entry, pack, until string) string {
		return "[waiver." + id + "]\nrule = \"ledger/packs\"\nentry = \"" + entry + "\"\n" + pack + "because = \"a trailer\"\nby = \"June\"\nuntil = " + until + "\n"
	}
	const none = "[build]\npacks = []\n"
	toy, other := "the pack toy is left out", "the pack other is left out"
	for _, c := range []struct {
		name, build, shop string
		stage             ledger.Stage
		fails             bool
		says              []string
		waivers           string
	}{
		{"all, unnamed", "[build]\n", "", ledger.AtDelivery, false, nil, ""},
		{"all, named", "[build]\npacks = [\"toy\", \"other\"]\n", "", ledger.AtDelivery, false, nil, ""},
		{"none, early", none, "", ledger.AtRoadTest, false, []string{"build (other) missing", "build (toy) missing"}, ""},
		{"none", none, "", ledger.AtDelivery, true, []string{"build (other) fail counts: " + other, "build (toy) fail counts: " + toy}, ""},
		{"one of two", head, "", ledger.AtDelivery, true, []string{"build (other) fail counts: " + other}, ""},
		{"one twice", "[build]\npacks = [\"toy\", \"toy\"]\n", "", ledger.AtDelivery, true, []string{"build (other) fail counts"}, ""},
		{"none by the shop", "[build]\n", "[shop]\npacks = []\n", ledger.AtDelivery, true, []string{"build (other) fail counts", "build (toy) fail counts"}, ""},
		{"the build over the shop", "[build]\npacks = [\"toy\", \"other\"]\n", "[shop]\npacks = []\n", ledger.AtDelivery, false, nil, ""},
		{"waived", head + waiver("w", "build", "aspect = \"other\"\n", "2026-12-01"), "", ledger.AtDelivery, false, []string{"build (other) waived over fail"}, "waiver.w pass"},
		{"a waiver that ran out", head + waiver("w", "build", "aspect = \"other\"\n", "2026-01-01"), "", ledger.AtDelivery, true, []string{"build (other) fail counts"}, "waiver.w fail counts: it ran out on 2026-01-01"},
		{"a waiver of another", none + waiver("w", "build", "aspect = \"toy\"\n", "2026-12-01"), "", ledger.AtDelivery, true, []string{"build (other) fail counts", "build (toy) waived over fail"}, "waiver.w pass"},
		{"a waiver of nothing", head + waiver("w", "build", "aspect = \"toy\"\n", "2026-12-01"), "", ledger.AtDelivery, true, []string{"build (other) fail counts"},
			"waiver.w fail counts: it matches nothing: a waiver of this rule names build as its entry, and a pack that is left out as its aspect"},
		{"a waiver of all at once", none + waiver("w", "build", "", "2026-12-01"), "", ledger.AtDelivery, true, []string{"build (other) fail counts", "build (toy) fail counts"},
			"waiver.w fail counts: it matches nothing: a waiver of this rule names build as its entry, and a pack that is left out as its aspect"},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := map[string]string{"build.toml": c.build}
			if c.shop != "" {
				files["shop.toml"] = c.shop
			}
			rep := judge(t, c.stage, files)
			got := told(rep, "ledger/packs")
			for _, s := range c.says {
				assert.Contains(t, got, s)
			}
			if len(c.says) == 0 {
				assert.Empty(t, got)
			}
			assert.Equal(t, c.waivers, told(rep, "ledger/waiver"))
			assert.Equal(t, c.fails, rep.Failed(), got)
			notes := ""
			for _, n := range rep.Notes {
				notes += n.String()
			}
			assert.Equal(t, c.name == "none by the shop", strings.Contains(notes, "shop.toml"), notes)
			assert.Equal(t, c.shop != "", strings.HasSuffix(rep.Shop, "shop.toml"))
		})
	}
}
