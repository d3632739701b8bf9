package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/lint"
)

// Rules lists what rules there are, by pack.
func Rules(to io.Writer, opt Options, packs []*lint.Pack) error {
	t := newText(to, opt)
	for _, p := range packs {
		t.line("%s: %s", t.paint(bold, p.Name), p.Title)
		wide := 0
		for _, r := range p.Rules {
			wide = max(wide, len(r.Name))
		}
		for _, r := range p.Rules {
			start := fmt.Sprintf("  %-6s  %-11s  %-*s  ", r.Level(), r.Due, wide, r.Name)
			if t.opt.Width < usualWidth {
				start = fmt.Sprintf("  %s  %s, %s: ", r.Name, r.Level(), r.Due)
				t.wrap("", "      ", start, r.Title)
				continue
			}
			t.wrap("", strings.Repeat(" ", len(start)), start, r.Title)
		}
		t.line("")
	}
	t.wrap("", "", "", "A must makes a run fail; a should never does. The stage is when a must is due.")
	t.line("Ask for one: fishplate explain RULE")
	return t.w.Flush()
}

// Rule says what one rule asks, on whose authority, and how it is worked out,
// in symbols: those that it reads on a ledger where nothing is known.
func Rule(to io.Writer, opt Options, r *lint.Rule) error {
	t := newText(to, opt)
	t.ruleHead(r)
	t.ruleFoot(r)
	steps, keys := inSymbols(r)
	if len(steps) > 0 {
		t.line("\n%s", t.paint(bold, "Worked out"))
		for _, s := range steps {
			t.wrap("  ", "      ", "", s)
		}
	}
	if len(keys) > 0 {
		t.line("\n%s", t.paint(bold, "Reads"))
		t.wrap("  ", "  ", "", strings.Join(keys, ", "))
	}
	t.line("\nOn a build: fishplate explain %s BUILD", r.Name)
	return t.w.Flush()
}

// inSymbols runs a rule where nothing is known, and gives the formulas that it
// comes by and the keys that it reads. The engine's own rules, which read the
// whole ledger, have neither.
func inSymbols(r *lint.Rule) (steps, keys []string) {
	if r.Check == nil {
		return nil, nil
	}
	for _, c := range lint.Check(ledger.Phantoms(), []*lint.Pack{{Rules: []*lint.Rule{r}}}, lint.Options{}).Results {
		if c.Rule != r {
			continue
		}
		for _, q := range []quantity.Quantity{c.Value, c.Limit, c.Upper, c.Margin} {
			for _, k := range q.Symbols() {
				keys = add(keys, k)
			}
		}
		for _, n := range c.Needs {
			keys = add(keys, n.Key)
		}
		if c.Numeric() {
			for _, s := range c.Margin.Steps() {
				steps = add(steps, s.Name+" = "+s.Formula)
			}
		}
	}
	slices.Sort(keys)
	return steps, keys
}

// add appends a word that is not there yet.
func add(list []string, word string) []string {
	if slices.Contains(list, word) {
		return list
	}
	return append(list, word)
}

func (t *text) ruleHead(r *lint.Rule) {
	t.wrap("", "    ", t.paint(bold, r.Name)+": ", r.Title)
	t.line("A %s, due at %s.", r.Level(), r.Due)
	if r.Should {
		t.wrap("", "    ", "Only advice: ", onlyAdvice(r)+". It never fails a run.")
	}
	if r.Caution != "" {
		t.wrap("", "         ", t.paint(red, "Caution:")+" ", r.Caution)
	}
}

// onlyAdvice says why a rule is a should and no must.
func onlyAdvice(r *lint.Rule) string {
	for _, c := range r.Sources {
		switch {
		case !r.BacksLimit(c):
		case c.Memory:
			return "nobody has looked its limit up yet"
		case c.Text == quantity.Practice.Text:
			return "its limit is common practice, without a source"
		case strings.HasPrefix(r.Note, "A benchmark"):
			return "its limit is a benchmark, written for another sort of vehicle or use"
		}
	}
	return "what it asks is worth having, and no vehicle is unfit without it"
}

// ruleFoot says what a rule rests on, and what it leaves out.
func (t *text) ruleFoot(r *lint.Rule) {
	for _, backs := range []bool{true, false} {
		for _, c := range r.Sources {
			start := "Source of the limit: "
			if !backs {
				start = "Source: "
			}
			if r.BacksLimit(c) == backs {
				t.wrap("", "    ", start, SourceWords(c))
			}
		}
	}
	if r.Note != "" {
		t.wrap("", "      ", "Note: ", r.Note)
	}
}
