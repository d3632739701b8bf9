package editor

import (
	"fmt"
	"slices"
	"strings"

	"fishplate/ledger"
	"fishplate/ledger/quantity"
	"fishplate/ledger/schema"
	"fishplate/lint"
	"fishplate/lint/report"
)

// mostChecks is how many checks a hover lists.
const mostChecks = 8

func (s *server) hover(p *placeParams) (any, error) {
	x, err := s.spotAt(p)
	if err != nil || x.part == noPart || x.from == x.to {
		return nil, err
	}
	var out page
	switch {
	case x.part == inHeader && len(x.path) == 1 && x.kind != nil && !x.kind.Single:
		out.say(sentence(x.kind.About) + " It stands in " + x.kind.Home() + ".")
	case x.part == inHeader && x.entry != "" && len(x.key) == 0:
		out.say(sentence(x.kind.About))
		s.entryPage(&out, x, x.entry)
	case x.part == inValue:
		s.valuePage(&out, x)
	case x.field != nil:
		out.say(x.describe())
		s.namedPage(&out, x)
		s.waitPage(&out, x)
	}
	if len(out.paragraphs) == 0 {
		return nil, nil
	}
	from, to := x.whole()
	r := x.doc.text.span(from, to, s.encoding)
	return hover{out.markup(s.markdown()), &r}, nil
}

// describe is the key's line of the reference.
func (x *spot) describe() string { return x.field.Key + ": " + x.field.Describe() + "." }

// markdown tells that the editor shows Markdown in a hover.
func (s *server) markdown() bool {
	return slices.Contains(s.client.Capabilities.TextDocument.Hover.ContentFormat, "markdown")
}

// sentence begins with a capital and ends with a point.
func sentence(words string) string {
	if words == "" {
		return ""
	}
	return strings.ToUpper(words[:1]) + words[1:] + "."
}

// namedPage is what the token names, where that is an entry.
func (s *server) namedPage(out *page, x *spot) {
	if name := x.named(); name != "" {
		out.say(sentence(ledger.KindOf(name).About))
		s.entryPage(out, x, name)
	}
}

// entryPage is what an entry says, and the checks on it.
func (s *server) entryPage(out *page, x *spot, path string) {
	if x.build == nil {
		return
	}
	e, ok := x.build.b.Entry(path)
	if !ok {
		return
	}
	lines := []string{path}
	if name := x.build.b.Called(e); name != "" {
		lines[0] += ": " + name
	}
	if system := x.build.b.System(e); system != "" {
		lines[0] += ", " + system
	}
	values := e.Values()
	for _, v := range values[:min(len(values), mostValues)] {
		lines = append(lines, v.Key+"  "+v.Text)
	}
	if n := len(values) - mostValues; n > 0 {
		lines = append(lines, fmt.Sprintf("and %d more", n))
	}
	out.show(lines...)
	s.checksPage(out, x.build, "Checks on it", func(r *lint.Result) bool { return r.Entry == path }, nil)
}

// mostValues is how many values of an entry a hover lists.
const mostValues = 12

// valuePage is what a value is: in both units with its interval, a word of a list,
// an entry that it names; and the checks that read it.
func (s *server) valuePage(out *page, x *spot) {
	if x.named() != "" {
		s.namedPage(out, x)
		return
	}
	if x.field != nil {
		out.say(x.describe())
		if r, err := quantity.Parse(x.text(x.src), x.field.Dim, quantity.Options{Exact: x.field.Exact, Position: x.field.Position}); err == nil && x.field.TakesQuantity() {
			out.show(readingLines(r)...)
		}
	}
	if rule := s.rule(x.text(x.src)); rule != nil && isRuleKey(x) {
		out.say(fmt.Sprintf("%s. A %s, due at %s.", rule.Title, rule.Level(), rule.Due))
		out.show("by " + report.Sources(rule))
	}
	s.readersPage(out, x)
}

// readingLines say what a quantity is in both units, from where to where it may be,
// and how it is known.
func readingLines(r quantity.Reading) []string {
	leaf := quantity.Leaf(r, &quantity.Source{})
	us, si := quantity.Style{}.Format(leaf), quantity.Style{SI: true}.Format(leaf)
	lines := []string{us}
	if si != us {
		lines[0] += "  =  " + si
	}
	if r.Low < r.High {
		u := r.Unit
		lines = append(lines, fmt.Sprintf("from %s to %s", u.Join(u.Number(r.Low, 5)), u.Join(u.Number(r.High, 5))))
	}
	return append(lines, map[quantity.Grade]string{
		quantity.Measured: "measured: it says its tolerance", quantity.Stated: "stated, as a label or a drawing has it", quantity.Estimate: "an estimate",
	}[r.Grade])
}

// isRuleKey tells that a value names a rule.
func isRuleKey(x *spot) bool {
	return x.kind != nil && x.kind.Name == "waiver" && american(x.key) == "rule"
}

// rule finds a rule by its name.
func (s *server) rule(name string) *lint.Rule {
	for _, p := range s.opt.Packs {
		for _, r := range p.Rules {
			if r.Name == name {
				return r
			}
		}
	}
	return nil
}

// readersPage lists the checks that read a value, with its share of their doubt.
func (s *server) readersPage(out *page, x *spot) {
	if x.build == nil || x.entry == "" || x.field == nil {
		return
	}
	j := s.judged(x.build)
	path := x.entry + "." + american(x.key)
	mine := map[*lint.Result]bool{}
	for _, r := range j.readers(path) {
		mine[r] = true
	}
	s.checksPage(out, x.build, "Checks that read it", func(r *lint.Result) bool { return mine[r] }, func(r *lint.Result) string {
		all, own := 0.0, 0.0
		for _, d := range r.Analysis(r.Margin).Doubts() {
			if all += d.Doubt; d.Source.Path() == path {
				own = d.Doubt
			}
		}
		if all > 0 && own > 0 {
			return fmt.Sprintf("; it brings %s of the doubt", report.Percent(own/all))
		}
		return ""
	})
}

// waitPage lists the checks that wait for a key.
func (s *server) waitPage(out *page, x *spot) {
	if x.build == nil || x.entry == "" || x.part != inKey {
		return
	}
	path := x.entry + "." + american(x.key)
	if e, ok := x.build.b.Entry(x.entry); ok && slices.ContainsFunc(e.Values(), func(v ledger.Value) bool {
		return v.Key == american(x.key) || strings.HasPrefix(v.Key, american(x.key)+".")
	}) {
		s.readersPage(out, x)
		return
	}
	s.checksPage(out, x.build, "Checks that wait for it", func(r *lint.Result) bool {
		return slices.ContainsFunc(r.Needs, func(n quantity.Need) bool { return n.Key == path })
	}, nil)
}

// checksPage lists the checks that are asked for, the worst first.
func (s *server) checksPage(out *page, b *build, title string, is func(*lint.Result) bool, more func(*lint.Result) string) {
	j := s.judged(b)
	var lines []string
	n := 0
	for _, r := range j.rep.Results {
		if r.Verdict == lint.NotApplicable || !is(r) {
			continue
		}
		if n++; n > mostChecks {
			continue
		}
		line := r.Rule.Name + " on " + report.Sentence(r, b.b.Style())
		if more != nil && r.Numeric() && r.Margin.Known() {
			line += more(r)
		}
		lines = append(lines, line)
	}
	if n == 0 {
		return
	}
	if n > mostChecks {
		lines = append(lines, fmt.Sprintf("and %d more", n-mostChecks))
	}
	if b.stale() {
		title += ", " + strings.TrimSuffix(staleMark, ": ")
	}
	out.say(fmt.Sprintf("%s (%d):", title, n))
	out.show(lines...)
}

// readers are the checks whose figures rest on a value, or that wait for it.
func (j *judgment) readers(path string) []*lint.Result {
	if j.reads == nil {
		j.reads = map[string][]*lint.Result{}
		for _, r := range j.rep.Results {
			for _, path := range readsOf(r) {
				j.reads[path] = append(j.reads[path], r)
			}
		}
	}
	return j.reads[path]
}

// readsOf are the paths of the values that a check rests on or waits for, each once.
func readsOf(r *lint.Result) []string {
	var out []string
	if r.Numeric() {
		for _, leaf := range r.Margin.Leaves() {
			if src := leaf.Source(); src != nil && src.Entry != "" {
				out = append(out, src.Path())
			}
		}
	}
	for _, n := range r.Needs {
		out = append(out, n.Key)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// wordsOf are the words that a field takes; nil where it takes others too.
func wordsOf(f *schema.Field) []string {
	if len(f.OneOf) > 0 {
		return f.OneOf
	}
	for _, l := range ledger.WordLists() {
		if f.Words != "" && l.Name == f.Words {
			return l.Words
		}
	}
	return nil
}
