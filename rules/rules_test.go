package rules_test

import (
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/lint/report"
	"fishplate/rules"
)

// hazards are the packs whose musts say where someone can get hurt.
var hazards = []string{"weight", "wiring", "fuel", "brakes"}

// askNothing are rules about what came off or is left over, and those that only
// compare what the ledger dates: where one of everything is fitted and nothing is
// known, they have nothing to ask for.
var askNothing = []string{"hookups/orphaned", "hookups/unused", "weight/replaced", "paperwork/arrived", "paperwork/work-order", "paperwork/measure-first", "paperwork/dates"}

// TestPacks: every pack that is listed holds itself to what every pack owes, in a
// test of its own.
func TestPacks(t *testing.T) {
	for _, p := range rules.Packs() {
		tests, err := filepath.Glob(filepath.Join(p.Name, "*_test.go"))
		require.NoError(t, err)
		assert.True(t, slices.ContainsFunc(tests, func(name string) bool {
			text, err := os.ReadFile(name)
			return err == nil && strings.Contains(string(text), "packtest.Run(t, ")
		}), "%s: no test runs packtest", p.Name)
	}
}

// TestRules tests what a rule says about itself beyond its pack: that it is
// due some time, warns where it must, reads something, and can be explained.
func TestRules(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range rules.Packs() {
		assert.False(t, seen[p.Name], "pack %s twice", p.Name)
		seen[p.Name] = true
		for _, r := range p.Rules {
			assert.True(t, r.Due < ledger.AtNever, "%s is never due", r.Name)
			for _, key := range r.Backs {
				assert.True(t, slices.ContainsFunc(r.Sources, func(c quantity.Citation) bool { return c.Key == key }), "%s has no source %q to back its limit", r.Name, key)
			}
			if slices.Contains(hazards, p.Name) && !r.Should {
				assert.NotEmpty(t, r.Caution, "%s is a must where someone can get hurt", r.Name)
			}
			var told strings.Builder
			assert.NoError(t, report.Rule(&told, report.Options{}, r))
			assert.Equal(t, !slices.Contains(askNothing, r.Name), strings.Contains(told.String(), "\nReads\n"), "%s reads something:\n%s", r.Name, told.String())
		}
	}
	for _, r := range lint.Own.Rules {
		assert.NoError(t, report.Rule(io.Discard, report.Options{}, r))
	}
}

// TestUnconfirmedMusts: what nobody has read in its source makes a must only
// where people die of it, and the rule says so on the screen.
func TestUnconfirmedMusts(t *testing.T) {
	found := 0
	for _, p := range rules.Packs() {
		for _, r := range p.Rules {
			unread := func(c quantity.Citation) bool { return r.BacksLimit(c) && (c.Memory || c.SecondHand) }
			read := func(c quantity.Citation) bool { return r.BacksLimit(c) && !c.Memory && !c.SecondHand }
			if !r.Should && slices.ContainsFunc(r.Sources, unread) && !slices.ContainsFunc(r.Sources, read) {
				found++
				assert.Contains(t, r.Note, "people die", r.Name)
			}
		}
	}
	assert.Positive(t, found)
}
