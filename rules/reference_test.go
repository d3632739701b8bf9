package rules_test

import (
	"fmt"
	"strings"
	"testing"

	"fishplate/ledger/golden"
	"fishplate/lint/report"
	"fishplate/rules"
)

// TestReference: REFERENCE.md says what the rules say of themselves. UPDATE=1
// writes it anew.
func TestReference(t *testing.T) {
	var b strings.Builder
	fmt.Fprint(&b, "# The rules\n\nWritten from the rules themselves by `UPDATE=1 go test ./rules`. A must makes a run fail; a should never does. The stage is\nwhen a must is due. `fishplate explain RULE` adds the formulas and the keys that a rule reads.\n")
	for _, p := range rules.Packs() {
		fmt.Fprintf(&b, "\n## %s\n\n%s.\n", p.Name, strings.TrimSuffix(p.Title, "."))
		for _, r := range p.Rules {
			fmt.Fprintf(&b, "\n### %s\n\nA %s: %s. Due at %s.\n\nSource: %s.\n", r.Name, r.Level(), r.Title, r.Due, report.Sources(r))
			if r.Note != "" {
				fmt.Fprintf(&b, "\nNote: %s\n", r.Note)
			}
			if r.Caution != "" {
				fmt.Fprintf(&b, "\nCaution: %s\n", r.Caution)
			}
		}
	}
	golden.Check(t, "REFERENCE.md", b.String())
}
