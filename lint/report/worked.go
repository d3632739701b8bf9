package report

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"fishplate/ledger/quantity"
	"fishplate/lint"
	"fishplate/lint/report/shown"
)

// Worked writes the worked solutions of a rule's checks on a build, so that a
// person can follow each with a pocket calculator, and what it would take for
// each to pass. Propose is asked for that only when it is that check's turn.
func Worked(to io.Writer, opt Options, rep *lint.Report, rule *lint.Rule, checks []*lint.Result, propose func(*lint.Result) []lint.Proposal) error {
	t := newText(to, opt)
	t.folder = rep.Folder
	t.line("%s, %s", Clean(rep.Title), Clean(rep.Folder))
	t.ruleHead(rule)
	before := told{}
	for _, c := range checks {
		t.worked(c, rep.Build.Style(), before, propose)
		if err := t.w.Flush(); err != nil {
			return err
		}
	}
	if len(rule.Sources) > 0 || rule.Note != "" {
		t.line("")
		t.ruleFoot(rule)
	}
	return t.w.Flush()
}

func (t *text) worked(c *lint.Result, s quantity.Style, before told, propose func(*lint.Result) []lint.Proposal) {
	t.line("\n%s  %s", t.paint(bold, Clean(c.Subject())), t.where(c.Place))
	word := t.paint(colorOf(c), c.Word())
	if why := t.verdict(c, s); why != "" {
		word += ":"
		t.wrap("  ", "  ", word+" ", why)
	} else {
		t.line("  %s", word)
	}
	if c.Verdict == lint.NotApplicable || !c.Numeric() {
		return
	}
	t.line("")
	t.steps(c.Margin, s.In(shown.UnitOf(c.Margin, c, s)), before)
	if !c.Margin.Known() {
		return
	}
	t.doubts(c.Analysis(c.Margin))
	t.levers(c, s, propose)
}

// verdict says in words what a check comes to.
func (t *text) verdict(c *lint.Result, s quantity.Style) string {
	say := says(c, s)
	if open(c) && !c.Counts {
		say = append(say, "due at "+c.Due.String())
	}
	return strings.Join(say, "; ")
}

// inTable is how long a term's working may be to stand in the table of its sum
// and not as a step of its own.
const inTable = 56

// told are the steps that one explanation has printed, by what they say.
type told map[string]bool

// steps writes the named values in an order in which each can be worked out
// from those before it. What an earlier check has told already stands only
// where a new step starts from it, by its result.
func (t *text) steps(q quantity.Quantity, s quantity.Style, before told) {
	all := q.Steps()
	tabled := map[quantity.Quantity]bool{}
	for _, st := range all {
		for _, term := range st.Terms {
			tabled[term.Value] = true
		}
	}
	apart, said := map[quantity.Quantity]bool{}, map[quantity.Quantity]string{}
	started := map[quantity.Quantity]bool{q: true}
	now := told{}
	for _, st := range all {
		if apart[st.Result] = !tabled[st.Result] || len(st.Terms) > 0 || len(st.PutIn(s)) > inTable; !apart[st.Result] {
			continue
		}
		said[st.Result] = t.said(st, s, apart)
		if !before[said[st.Result]] {
			for _, part := range st.Parts() {
				started[part] = true
			}
		}
	}
	for _, st := range all {
		text := said[st.Result]
		switch {
		case text == "" || now[text]:
		case !before[text]:
			t.w.WriteString(text)
		case started[st.Result] && !now["as above "+text]:
			t.wrap("  ", "      ", "", Clean(st.Name)+" = "+result(st.Result, s)+", as above")
			now["as above "+text] = true
			continue
		}
		now[text] = true
	}
	for text := range now {
		before[text] = true
	}
}

// said is a step as it is printed.
func (t *text) said(st quantity.Step, s quantity.Style, apart map[quantity.Quantity]bool) string {
	var out bytes.Buffer
	aside := *t
	aside.w = bufio.NewWriter(&out)
	aside.step(st, s, apart)
	aside.w.Flush()
	return out.String()
}

func (t *text) step(st quantity.Step, s quantity.Style, apart map[quantity.Quantity]bool) {
	t.wrap("  ", "      ", "", Clean(st.Name)+" = "+st.Formula)
	lead := strings.Repeat(" ", min(utf8.RuneCountInString(st.Name), 20)) + " = "
	if len(st.Terms) > 0 {
		t.terms(st, s, apart)
	} else if in := st.PutIn(s); in != s.Plain(st.Result) {
		t.wrap("  "+lead, "      ", "", Clean(in))
	}
	t.line("  %s%s", lead, result(st.Result, s))
}

// result is a step's result with its tolerance.
func result(q quantity.Quantity, s quantity.Style) string {
	if !q.Known() {
		return "not known; needs " + needs(q.Needs(), 4)
	}
	a := quantity.Analyze(q)
	out := s.Plain(q)
	number, unit, _ := strings.Cut(out, " ")
	switch shown := s.Shown(a); {
	case !strings.Contains(shown, "±"):
	case strings.HasPrefix(shown, number+" ") && strings.HasSuffix(shown, unit):
		out = shown
	default:
		out += " = " + shown
	}
	if g := Grade(a); g != "" {
		out += " (" + g + ")"
	}
	return out
}

// terms lists a long sum term by term, each with what it is made of, unless
// that is a step of its own. They add up in the units of display.
func (t *text) terms(st quantity.Step, s quantity.Style, apart map[quantity.Quantity]bool) {
	st.Terms = slices.DeleteFunc(slices.Clone(st.Terms), nothing)
	names, values := termNames(st.Terms), make([]string, len(st.Terms))
	var wide, across int
	for i, term := range st.Terms {
		values[i] = s.Plain(term.Value)
		if values[i] == "" {
			values[i] = "not known"
		}
		wide = max(wide, min(utf8.RuneCountInString(names[i]), 40))
		across = max(across, utf8.RuneCountInString(values[i]))
	}
	for i, term := range st.Terms {
		sign := "+"
		if term.Minus {
			sign = "-"
		}
		pad := strings.Repeat(" ", across-utf8.RuneCountInString(values[i]))
		start := fmt.Sprintf("%s %s%s%s", sign, fit(names[i], wide+2), pad, values[i])
		in := Clean(term.PutIn(s))
		switch {
		case apart[term.Value] || in == values[i] || in == "("+values[i]+")":
			in = ""
		default:
			in = "= " + in
		}
		t.wrap("      ", "            ", start+"  ", in)
	}
}

// nothing tells that a term is an exact zero that no entry says.
func nothing(t quantity.Term) bool {
	if t.Entry != "" || !t.Value.Known() {
		return false
	}
	low, high := t.Value.Bounds()
	return low == 0 && high == 0
}

// termNames says what each term is about: its entry, and its key as well where
// several are of one entry.
func termNames(terms []quantity.Term) []string {
	count := map[string]int{}
	for _, t := range terms {
		count[t.Entry]++
	}
	out := make([]string, len(terms))
	for i, t := range terms {
		out[i] = Clean(t.Entry)
		if leaves := t.Value.Leaves(); count[t.Entry] > 1 && len(leaves) == 1 && leaves[0].Source() != nil && leaves[0].Source().Entry == t.Entry {
			out[i] = Clean(leaves[0].Source().Path())
		}
	}
	return out
}

// doubts names the two values that the tolerance mostly comes from.
func (t *text) doubts(a *quantity.Analysis) {
	all := a.Doubts()
	total := 0.0
	for _, d := range all {
		total += d.Doubt
	}
	if !(total > 0) || math.IsInf(total, 0) {
		return
	}
	t.line("\n  %s", t.paint(bold, "Where the doubt comes from"))
	rest, more := 0.0, 0
	for i, d := range all {
		if d.Doubt == 0 {
			continue
		}
		if i >= 2 {
			rest, more = rest+d.Doubt, more+1
			continue
		}
		start := fmt.Sprintf("%3.0f %%  ", 100*d.Doubt/total)
		t.wrap("  ", "         ", start, Clean(d.Source.Path())+", "+origin(d.Leaf, t))
	}
	switch {
	case more == 1:
		t.line("  %3.0f %%  the one other value", 100*rest/total)
	case more > 1:
		t.line("  %3.0f %%  the other %d values together", 100*rest/total, more)
	}
}

// origin says how a value is known: written, taken from a source, or assumed as
// nothing is written.
func origin(leaf quantity.Quantity, t *text) string {
	src, now := leaf.Source(), Clean(leaf.Spelling())
	switch {
	case leaf.Grade() == quantity.Assumed && src.Entry != "":
		return fmt.Sprintf("not written, taken as %s (%s)", now, t.where(src.Place))
	case src.Cite != "" || src.Place.File == "":
		return fmt.Sprintf("taken as %s (%s)", now, Clean(src.Cite))
	}
	return fmt.Sprintf("written %s (%s)", now, t.where(src.Place))
}

// levers says what it would take to pass, or how much room is left.
func (t *text) levers(c *lint.Result, s quantity.Style, propose func(*lint.Result) []lint.Proposal) {
	passes := c.Verdict == lint.Pass
	list := propose(c)
	title := "What it would take, each by itself"
	if passes {
		title = "How much room is left, for each by itself"
	}
	if len(list) == 0 {
		switch {
		case c.Verdict == lint.Unproven:
			t.line("\n  A reading or an estimate that is known better would settle it.")
		case !passes:
			t.line("\n  No single value that a shop can change would make it pass, within reason.")
		}
		return
	}
	t.line("\n  %s", t.paint(bold, title))
	for _, p := range list {
		t.wrap("  ", "      ", "", proposal(p, passes)+"; "+others(p)+" ("+t.where(p.Source.Place)+")")
	}
}

func proposal(p lint.Proposal, passes bool) string {
	if p.Was != "" {
		return fmt.Sprintf("%s to %s, %s heavier than %s", Clean(p.Source.Path()), p.Text, Plural(p.Steps, "size"), Clean(p.Was))
	}
	r, _ := p.Leaf.Reading()
	u := r.Unit
	way := (p.To - p.From) / u.Factor
	word := "more"
	if way < 0 {
		word = "less"
	}
	to, by := u.Join(u.Number(p.To, 6)), u.Join(quantity.Digits(math.Abs(way), 3))
	verb := "to"
	if p.From == 0 && !passes && strings.HasPrefix(r.Spelling, "0 ") {
		return fmt.Sprintf("%s of %s", Clean(p.Source.Path()), to)
	}
	if passes {
		verb = "as far as"
	}
	return fmt.Sprintf("%s %s %s, %s %s than %s", Clean(p.Source.Path()), verb, to, by, word, Clean(r.Spelling))
}

func others(p lint.Proposal) string {
	var say []string
	if len(p.Breaks) > 0 {
		say = append(say, "breaks "+names(p.Breaks))
	}
	if len(p.Mends) > 0 {
		say = append(say, "also mends "+names(p.Mends))
	}
	if say == nil {
		return "no other check changes"
	}
	return strings.Join(say, ", ")
}

func names(rs []*lint.Result) string {
	var out []string
	for _, r := range rs {
		out = append(out, r.Rule.Name+" on "+Clean(r.Subject()))
	}
	return few(out, 3)
}
