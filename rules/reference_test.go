package rules_test

import (
	"fmt"
	"strings"
	"testing"

	"fishplate/ledger"
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

// ownRules is the part of the reference about what a rule of a shop's own may use.
func ownRules(b *strings.Builder) {
	table := func(head ...string) {
		fmt.Fprintf(b, "\n| %s |\n|%s\n", strings.Join(head, " | "), strings.Repeat("---|", len(head)))
	}
	row := func(cells ...string) { fmt.Fprintf(b, "| %s |\n", strings.Join(cells, " | ")) }
	b.WriteString("\n## What a shop's own rule may use\n\nThe README says how a shop writes one. Between quantities stand `+ - * /`, `<`, `<=`, `>` and `>=`; between texts and whole numbers `==`, `!=`\n" +
		"and `in` too; between yes and no `&&`, `||`, `!` and `a ? b : c`. A list is gone through with `.all(x, ...)`, `.exists(x, ...)`, `.exists_one(x, ...)`,\n" +
		"`.filter(x, ...)` and `.map(x, ...)`, and has `.size()` and `[0]`; a text has `.contains('x')`, `.startsWith('x')`, `.endsWith('x')` and `.size()`.\n")
	table("function", "takes", "gives", "which is")
	for _, f := range shoprules.Functions {
		row("`"+f.Call+"`", f.Takes, f.Gives, f.Says)
	}
	b.WriteString("\n### Entries and their keys\n\nA key is written with `_` for its hyphen. Lists are in the order of a ledger's entries, by their names.\n")
	for _, k := range shoprules.Kinds() {
		fmt.Fprintf(b, "\n**%s**", k.Name)
		switch {
		case k.All != "":
			fmt.Fprintf(b, ", all by `%s`, one by `%s`", k.All, k.One)
		case k.One != "":
			fmt.Fprintf(b, ", by `%s`", k.One)
		default:
			b.WriteString(", a table in an entry")
		}
		b.WriteString(": ")
		for i, key := range k.Keys {
			if i > 0 {
				b.WriteString(", ")
			}
			fmt.Fprintf(b, "`%s` (%s)", key.Name, key.Type)
		}
		b.WriteString(".\n")
	}
	b.WriteString("\n### Figures of the rules\n\n`x` stands for the name of an entry; `it`, where it is of that kind, does as well. A respect that is made of a ledger's own words is written `*` here.\n")
	table("figure", "is")
	for _, p := range rules.Packs() {
		for _, r := range p.Rules {
			for _, f := range r.Figures() {
				args := []string{r.Name, f.Entry}
				if k := ledger.KindNamed(f.Entry); k != nil && !k.Single {
					args[1] += ".x"
				}
				if f.Aspect != "" {
					args = append(args, f.Aspect)
				}
				for i, a := range args {
					args[i] = "'" + strings.ReplaceAll(a, "'", "\\'") + "'"
				}
				is := "a quantity of any dimension"
				if f.Dim != quantity.Any {
					is = shoprules.Noun(f.Dim)
				}
				row("`figure("+strings.Join(args, ", ")+")`", is)
			}
		}
	}
}
