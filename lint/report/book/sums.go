package book

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"html/template"

	"fishplate/lint"
	"fishplate/lint/report"
	"fishplate/lint/report/shown"
)

// sums are the checks, with their working.
type sums struct {
	Counts  []verdictCount
	Margins template.HTML
	Drawn   []template.HTML // the drawings that no chapter has
	Open    []check         // what is not settled, and what is waived
	Waivers table
	Packs   []pack
}

// verdictCount is how many checks came to a verdict.
type verdictCount struct {
	Word string
	N    int
}

type pack struct {
	Name, Title, ID string
	Rules           []rule
}

// rule is a rule with its checks.
type rule struct {
	Name, Title, ID string
	Level, Due      string
	Limit           []string // what the limit rests on
	Sources         []string // what else it does
	Note, Caution   string
	Checks          []check // that compare figures, or are not settled
	Holding         []held  // what it simply holds for
}

// check is one check.
type check struct {
	ID, Rule, RuleAt string
	Of               span
	Aspect           string
	Word             string
	Numbers          report.Numbers
	Says             string
	Working          []step
}

// step is a step of a worked solution.
type step struct {
	report.Solved
	ID, Above string // its own anchor, or that of where it stands above
	Terms     []term
}

type term struct {
	report.SolvedTerm
	To string
}

func ruleAnchor(r *lint.Rule) string { return "r." + strings.ReplaceAll(r.Name, "/", ".") }

// sums are all checks by pack and rule; of the public edition, their counts and
// drawings alone.
func (r *reader) sums(drawn drawings) sums {
	out := sums{Margins: drawn["closeness"], Counts: r.verdicts()}
	for _, kind := range []string{"gaps", "driveline", "loops", "wiring", "plugs"} {
		if d := drawn[kind]; d != "" {
			out.Drawn = append(out.Drawn, d)
		}
	}
	if r.ed == Public {
		return out
	}
	before, at := report.Told{}, map[string]string{}
	packs := map[string]*pack{}
	rules := map[string]*rule{}
	for _, c := range r.inOrder() {
		name := lint.PackOf(c.Rule.Name)
		p := packs[name]
		if p == nil {
			p = &pack{Name: name, Title: report.Upper(name), ID: "pack-" + name}
			packs[name] = p
		}
		ru := rules[c.Rule.Name]
		if ru == nil {
			ru = ruleOf(c.Rule)
			rules[c.Rule.Name] = ru
		}
		k := r.check(c, before, at)
		if c.Numeric() || c.Verdict != lint.Pass {
			ru.Checks = append(ru.Checks, k)
		} else {
			ru.hold(k)
		}
		if c.Verdict != lint.Pass {
			k.Working = nil
			k.Rule, k.RuleAt = c.Rule.Title, ruleAnchor(c.Rule)
			out.Open = append(out.Open, k)
		}
	}
	for _, name := range sorted(packs) {
		for _, n := range sorted(rules) {
			if lint.PackOf(n) == name {
				packs[name].Rules = append(packs[name].Rules, *rules[n])
			}
		}
		out.Packs = append(out.Packs, *packs[name])
	}
	out.Waivers = r.waivers()
	return out
}

func sorted[T any](m map[string]T) (out []string) {
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// inOrder are the checks that the edition tells of, rule by rule.
func (r *reader) inOrder() (out []*lint.Result) {
	for _, c := range report.InOrderOfHarm(r.rep.Results) {
		if c.Verdict == lint.NotApplicable {
			continue
		}
		if e := r.EntryOf(c.Entry); e != nil && !r.has(e) {
			continue
		}
		out = append(out, c)
	}
	slices.SortStableFunc(out, func(a, b *lint.Result) int { return strings.Compare(a.Rule.Name, b.Rule.Name) })
	return out
}

func ruleOf(r *lint.Rule) *rule {
	out := &rule{Name: r.Name, Title: report.Upper(r.Title), ID: ruleAnchor(r), Level: r.Level(), Due: r.Due.String(), Note: r.Note, Caution: r.Caution}
	for _, backs := range []bool{true, false} {
		for _, c := range r.Sources {
			if r.BacksLimit(c) == backs {
				if say := report.SourceWords(c); backs {
					out.Limit = append(out.Limit, say)
				} else {
					out.Sources = append(out.Sources, say)
				}
			}
		}
	}
	return out
}

// check is a check with its working. Steps that were told before stand as links to
// where they were.
func (r *reader) check(c *lint.Result, before report.Told, at map[string]string) check {
	style := r.rep.Build.Style()
	e := r.EntryOf(c.Entry)
	k := check{Aspect: c.Aspect, Word: c.Word(), Numbers: report.NumbersOf(c, style)}
	if k.Of = (span{Text: c.Entry}); e != nil {
		k.Of = span{Text: r.name(e), To: r.anchor(e)}
	}
	if c.Verdict != lint.Pass || !c.Numeric() {
		say := report.Says(c, style)
		if k.Numbers.Off != "" {
			say = say[1:] // the figures, which stand beside
		}
		k.Says = strings.Join(say, "; ")
		if open := c.Verdict == lint.Missing || c.Verdict == lint.Unproven; open && !c.Counts && !c.Should {
			k.Says = strings.TrimPrefix(k.Says+"; due at "+c.Due.String(), "; ")
		}
	}
	if !c.Numeric() || !c.Margin.Known() {
		return k
	}
	for _, s := range report.Solve(c.Margin, style.In(shown.UnitOf(c.Margin, c, style)), before) {
		st := step{Solved: s}
		key := s.Key()
		if s.Again {
			st.Above = at[key]
		} else {
			st.ID = "w" + strconv.Itoa(len(at)+1)
			at[key] = st.ID
		}
		for _, t := range s.Terms {
			to := ""
			if e := r.EntryOf(t.Entry); e != nil {
				to = r.anchor(e)
			}
			st.Terms = append(st.Terms, term{t, to})
		}
		k.Working = append(k.Working, st)
	}
	return k
}

// Unlinked is the check without its link, for a line that folds when it is clicked.
func (k check) Unlinked() check {
	k.Of.To = ""
	return k
}

// held is an entry that a rule simply holds for, and in which respects.
type held struct {
	Of   span
	Says []string
}

// hold puts a check that holds beside others of its entry.
func (r *rule) hold(k check) {
	say := k.Aspect
	if k.Says != "" {
		say = strings.TrimPrefix(say+": "+k.Says, ": ")
	}
	n := len(r.Holding)
	if n == 0 || r.Holding[n-1].Of != k.Of {
		r.Holding = append(r.Holding, held{Of: k.Of})
		n++
	}
	if say != "" {
		r.Holding[n-1].Says = append(r.Holding[n-1].Says, say)
	}
}

// Holds are the entries in one run of words.
func (r rule) Holds() (out cell) {
	for _, h := range r.Holding {
		c := cell{h.Of}
		if len(h.Says) > 0 {
			c = append(c, span{Text: " (" + strings.Join(h.Says, ", ") + ")"})
		}
		out = joined("; ", out, c)
	}
	return out
}

// verdicts counts the checks by what they came to.
func (r *reader) verdicts() (out []verdictCount) {
	n := map[string]int{}
	for _, c := range r.rep.Results {
		n[c.Word()]++
	}
	for _, w := range []string{"pass", "waived", "unproven", "missing", "to do", "not met", "fail"} {
		if n[w] > 0 {
			out = append(out, verdictCount{w, n[w]})
		}
	}
	return out
}

// waivers are the failures that someone answers for.
func (r *reader) waivers() table {
	t := table{Caption: "Waivers", Heads: []string{"Waiver", "Rule", "Of", "Because", "By", "Until"}}
	for _, e := range r.ofKind("waiver", r.entries()) {
		t.add("", row{Cells: []cell{r.entry(e), r.cell(e, "rule"), r.cell(e, "entry", "aspect"), r.cell(e, "because"), r.cell(e, "by"), r.cell(e, "until")}})
	}
	return t
}

// OpenWords counts what is open and what is waived.
func (s sums) OpenWords() string {
	if len(s.Open) == 0 {
		return "Nothing is open, and nothing is waived."
	}
	return fmt.Sprintf("%s not passed, and are told first.", map[bool]string{true: "1 check has", false: fmt.Sprintf("%d checks have", len(s.Open))}[len(s.Open) == 1])
}
