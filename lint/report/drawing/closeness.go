package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"fishplate/lint"
	"fishplate/lint/report/shown"
)

// near is a numeric check by how near to its limit it is: what is to spare as a
// share of the limit, or of what [lint.Result.Span] puts in its place.
type near struct {
	*lint.Result
	share, low, high float64
}

// nearness is that of a check; false where it compares no quantities, is not known
// or not applicable, or has nothing that its margin could be a share of.
func nearness(r *lint.Result) (near, bool) {
	of, ok := r.Span()
	if !ok || !r.Value.Known() || r.Verdict == lint.NotApplicable {
		return near{}, false
	}
	if r.Sense == lint.Same && r.Within.Known() && r.Within.Value() == 0 {
		return near{}, false // it is the same or it is not
	}
	low, high := r.Analysis(r.Margin).Bounds()
	return near{r, r.Margin.Value() / of, low / of, high / of}, true
}

func closeness(s *subject) Drawing {
	byRule := map[string][]near{}
	beside := 0
	for _, r := range s.Results {
		if s.Reader != nil && lint.PackOf(r.Rule.Name) == lint.Own.Name {
			continue // a shop's own rule has the shop's own words
		}
		if n, ok := nearness(r); ok {
			byRule[r.Rule.Name] = append(byRule[r.Rule.Name], n)
		} else if r.Numeric() && r.Verdict != lint.NotApplicable {
			beside++
		}
	}
	d := Drawing{Title: "How close everything is"}
	if len(byRule) == 0 {
		return d
	}
	var rules [][]near
	total, failing := 0, 0
	least := 0.0
	for _, list := range byRule {
		slices.SortStableFunc(list, func(a, b near) int {
			return cmp.Or(cmp.Compare(a.low, b.low), lint.Natural(a.Subject(), b.Subject()))
		})
		rules = append(rules, list)
		total += len(list)
		for _, n := range list {
			if n.share < 0 {
				failing++
			}
			least = min(least, n.low)
		}
	}
	slices.SortFunc(rules, func(a, b []near) int {
		return cmp.Or(cmp.Compare(a[0].low, b[0].low), cmp.Compare(a[0].Rule.Name, b[0].Rule.Name))
	})
	c := chart{axis: axis{from: max(-0.5, math.Floor(least*10-0.01)/10), to: 1, step: 0.25, text: percent}, ruled: 0, over: "the limit", names: 0.21, says: 0.46}
	c.from = min(c.from, -0.05)
	for _, list := range rules {
		c.rows = append(c.rows, s.closest(list))
	}
	d.Panels = c.panels("What is to spare, as a share of the limit (of a temperature, of the way from freezing to boiling water); the nearest of each rule named, with how far off it may be. Left of the limit, it does not hold.")
	d.Text = fmt.Sprintf("%s of %s, the nearest to its limit first; %d are past it. A line is a rule: its dot and whisker are the check that is nearest, the ticks its others.", counted(total, "check"), counted(len(rules), "rule"), failing)
	if len(rules) > 0 {
		subject, figures := s.inWords(rules[0][0])
		say := []string{rules[0][0].Rule.Name, subject, figures}
		d.Text += " Nearest of all: " + strings.Join(slices.DeleteFunc(say, func(w string) bool { return w == "" }), ", ") + "."
	}
	if beside > 0 {
		d.Beside = append(d.Beside, counted(beside, "check")+" that compare figures and lack one, have 0 as their limit, or ask for the very same")
	}
	return d
}

func percent(v float64) string { return strconv.FormatFloat(math.Round(v*100)+0, 'f', 0, 64) + " %" }

// closest is the line of a rule.
func (s *subject) closest(list []near) line {
	first := list[0]
	l := line{name: first.Rule.Name}
	l.says, l.figure = s.inWords(first)
	if len(list) > 1 {
		l.name += fmt.Sprintf(" (%d)", len(list))
	}
	if first.Counts {
		l.look = "d-red"
	}
	l.draw = func(p plot) {
		for _, n := range list[1:] {
			p.tick("d-thin", n.share, 3.5)
		}
		look, r := Look("d-ink"), 3.0
		switch {
		case first.Counts:
			look, r = "d-badfill", 3.6
		case first.low < 0:
			look = "d-open"
		}
		p.whisker("", first.low, first.high)
		p.dot(look, first.share, r, strings.Trim(l.says+": "+l.figure, ": ")+" ("+first.Rule.Title+")")
	}
	return l
}

// inWords is a check in figures: "vehicle.front" and "4213 ± 25 lb, max 4450 lb".
func (s *subject) inWords(n near) (subject, figures string) {
	if s.Reader != nil { // figures of a check may be made of what is not to be seen
		if n.Verdict != lint.Pass {
			subject = n.Word()
		}
		return subject, percent(n.share) + " to spare"
	}
	f := shown.NumbersOf(n.Result, s.style)
	subject, figures = shown.Clean(n.Subject()), f.Value+", "+f.Limit
	if n.Verdict != lint.Pass {
		subject = n.Word() + ": " + subject
	}
	return subject, figures
}
