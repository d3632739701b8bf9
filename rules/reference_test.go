package rules_test

import (
	"fmt"
	"strings"
	"testing"

	"fishplate/ledger/golden"
	"fishplate/ledger/quantity"
	"fishplate/lint/report"
	"fishplate/lint/shoprules"
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
	ownRules(&b)
	golden.Check(t, "REFERENCE.md", b.String())
}

// ownRules lists what the expressions of a shop's own rules may use.
func ownRules(b *strings.Builder) {
	fmt.Fprint(b, "\n## A shop's own rules\n\nWhat an expression of `[rule.ID]` may use; README.md says how a rule is written. Operators: `+ - * /`, `< <= > >=`, `&& || !`,\n`a ? b : c`, `in`; between words and numbers also `==` and `!=`. A key is written with `_` for each `-`.\n\n### Functions\n\n| call | is |\n|---|---|\n")
	for _, f := range shoprules.Functions {
		fmt.Fprintf(b, "| `%s` | %s |\n", f.Call, f.Says)
	}
	fmt.Fprint(b, "| `list.all(p, ...)`, `list.exists(p, ...)`, `list.exists_one(p, ...)` | whether all, any, or one of a list is so |\n| `list.filter(p, ...)`, `list.map(p, ...)` | those that are so; what each gives |\n| `text.contains('x')`, `text.startsWith('x')`, `text.endsWith('x')` | of a word |\n")
	fmt.Fprint(b, "\n### Entries\n\nThe keys of each kind are in ledger/REFERENCE.md; private ones, and what was paid, are not read. One of the entries of a kind is `it`\nwhere `each` names the kind.\n\n| kind | all of them | one of them |\n|---|---|---|\n")
	for _, k := range shoprules.Kinds() {
		all := "-"
		if k.All != "" {
			all = "`" + k.All + "`"
		}
		fmt.Fprintf(b, "| %s | %s | `%s` |\n", k.Kind, all, k.One)
	}
	fmt.Fprint(b, "\n### Figures\n\n`figure(RULE, ENTRY)` is the value that a rule reckons on an entry of the kind named; where the last column says so, `figure(RULE, ENTRY, RESPECT)`\nwith the words in brackets that `explain` shows behind the entry.\n\n| rule | on | is | respect |\n|---|---|---|---|\n")
	for _, p := range rules.Packs() {
		for _, r := range p.Rules {
			for _, f := range r.Figures() {
				respect := ""
				if f.Aspect {
					respect = "asked for"
				}
				of := f.Dim.Noun()
				if f.Dim == quantity.Any {
					of = "of more than one dimension"
				}
				fmt.Fprintf(b, "| %s | %s | %s | %s |\n", r.Name, f.Entry, of, respect)
			}
		}
	}
}
