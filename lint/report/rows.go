package report

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"fishplate/lint"
)

// InOrderOfHarm sorts checks by when they are due, then by the harm that they
// can do, then by name with numbers as numbers.
func InOrderOfHarm(rs []*lint.Result) []*lint.Result {
	out := slices.Clone(rs)
	slices.SortStableFunc(out, func(a, b *lint.Result) int {
		return cmp.Or(cmp.Compare(a.Due, b.Due), cmp.Compare(harm(b), harm(a)),
			strings.Compare(a.Rule.Name, b.Rule.Name), lint.Natural(a.Entry, b.Entry), lint.Natural(a.Aspect, b.Aspect))
	})
	return out
}

// harm weighs a check: a must above advice, one with a caution above one
// without, what fails above what is open.
func harm(r *lint.Result) int {
	n := int(r.Verdict)
	if r.Rule.Caution != "" {
		n += 10
	}
	if !r.Should {
		n += 20
	}
	return n
}

// group is a row: one check, or the pins of one plug that are alike.
type group struct {
	*lint.Result
	subject string
	say     string // in place of the reason, of several
}

var ofPin = regexp.MustCompile(`^pin (.+?)((?:,| to ).*)?$`)

// together puts a plug's pins that came to the same on one row.
func together(rs []*lint.Result) []group {
	var out []group
	at := map[string]int{}
	pins := map[int][]string{}
	for _, r := range rs {
		m := ofPin.FindStringSubmatch(r.Aspect)
		if m == nil {
			out = append(out, group{Result: r, subject: r.Subject()})
			continue
		}
		key := fmt.Sprint(r.Rule.Name, r.Entry, r.Verdict, r.Underlying, m[2], "\x00", withoutPin(r, m[1]))
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			out = append(out, group{Result: r})
		}
		pins[i] = append(pins[i], m[1])
		out[i].subject = r.Subject()
		if len(pins[i]) > 1 {
			out[i].subject = fmt.Sprintf("%s (pins %s%s)", r.Entry, inRuns(pins[i]), m[2])
			out[i].say = withoutPin(r, m[1])
		}
	}
	return out
}

// inRuns lists pins in order, three or more numbers in a row by their ends: "1-4, 7, A".
func inRuns(pins []string) string {
	var out []string
	pins = slices.SortedFunc(slices.Values(pins), lint.Natural)
	for len(pins) > 0 {
		n := 1
		for first, err := strconv.Atoi(pins[0]); err == nil && n < len(pins) && pins[n] == strconv.Itoa(first+n); {
			n++
		}
		if n > 2 {
			out = append(out, pins[0]+"-"+pins[n-1])
		} else {
			n = 1
			out = append(out, pins[0])
		}
		pins = pins[n:]
	}
	return strings.Join(out, ", ")
}

// withoutPin is what is said of a pin, less the pin's own number.
func withoutPin(r *lint.Result, pin string) string {
	say := r.Reason
	if r.Verdict == lint.Missing && !r.ToDo() {
		say = "needs " + needs(r.Needs, 4)
	}
	return strings.NewReplacer(r.Entry+":"+pin, r.Entry, ".pins."+pin, ".pins.*").Replace(say)
}

// rows lists checks. Whole ones have what a person needs to mend them: what
// the limit rests on, the nearest mend, and the caution.
func (s *screen) rows(rs []*lint.Result, rep *lint.Report, whole bool) {
	style := rep.Build.Style()
	mends := 0
	warned := ""
	for _, g := range together(rs) {
		if settled(g.Result) {
			s.settledRow(g, rep)
			continue
		}
		s.wrap("", hang, s.paint(colorOf(g.Result), fit(word(g.Result), len(hang))), g.Rule.Name+" on "+Clean(g.subject))
		say := Says(g.Result, style)
		if g.say != "" {
			say = []string{Clean(g.say)}
		}
		if len(say) == 0 {
			say = []string{"not so: " + g.Rule.Title}
		}
		if !g.Counts {
			say = append(say, "due at "+g.Due.String())
		}
		s.wrap(hang, hang, "", strings.Join(append(say, s.where(g.Place)), "; "))
		if !whole {
			continue
		}
		if g.Numeric() && g.Margin.Known() && mends < mostMends && s.opt.Propose != nil {
			mends++
			s.mend(g.Result, rep)
		}
		if g.Rule.Name != warned {
			warned = g.Rule.Name
			s.backing(g.Rule)
			if c := short(g.Rule.Caution); c != "" {
				s.wrap(hang, hang, s.paint(red, "Caution:")+" ", c)
			}
		}
	}
}

// settledRow is a check about which nothing is to be done, as short as can be.
func (s *screen) settledRow(g group, rep *lint.Report) {
	say := Says(g.Result, rep.Build.Style())
	if g.say != "" {
		say = []string{Clean(g.say)}
	}
	line := g.Rule.Name + " on " + Clean(g.subject)
	if len(say) > 0 {
		line += ": " + strings.Join(say, "; ")
	}
	s.wrap("", hang, s.paint(colorOf(g.Result), fit(word(g.Result), len(hang))), line)
}

// mend offers the nearest single change that makes a check pass.
func (s *screen) mend(r *lint.Result, rep *lint.Report) {
	list := s.opt.Propose(rep, r)
	if len(list) == 0 {
		return
	}
	p := list[0]
	s.wrap(hang, hang, "mend: ", proposal(p, false)+", at "+s.where(p.Source.Place)+"; "+others(p))
}

// backing says which source the limit rests on, and how it is known.
func (s *screen) backing(r *lint.Rule) {
	for _, c := range r.Sources {
		if r.BacksLimit(c) {
			s.wrap(hang, hang, "by ", SourceWords(c))
		}
	}
}

// short is the first sentence of a caution.
func short(caution string) string {
	if head, _, ok := strings.Cut(caution, ". "); ok {
		return head + "."
	}
	return caution
}
