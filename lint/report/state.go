package report

import (
	"fmt"
	"strings"

	"fishplate/ledger/quantity"
	"fishplate/lint"
)

func open(r *lint.Result) bool { return r.Verdict == lint.Unproven || r.Verdict == lint.Missing }

// advised tells that a check is advice that is not met or not shown.
func advised(r *lint.Result) bool { return r.Should && (open(r) || r.Verdict == lint.Fail) }

// settled tells that nothing is to be done about a check.
func settled(r *lint.Result) bool {
	return r.Verdict == lint.Pass || r.Verdict == lint.NotApplicable || r.Verdict == lint.Waived
}

// section is a run of checks under one heading.
type section struct {
	title string
	takes func(*lint.Result) bool
}

const adviceTitle = "Advice that is not met or not shown"

// sections sort every check under one heading, the worst first.
var sections = []section{
	{"To fix now", func(r *lint.Result) bool { return r.Counts }},
	{"Open, not due yet", func(r *lint.Result) bool { return !r.Should && open(r) }},
	{adviceTitle, advised},
	{"Waived", func(r *lint.Result) bool { return r.Verdict == lint.Waived }},
	{"Passed", func(r *lint.Result) bool { return r.Verdict == lint.Pass }},
	{"Not applicable", func(r *lint.Result) bool { return r.Verdict == lint.NotApplicable }},
}

// Says lists in words what a check comes to, beside its verdict: its figures,
// the state found or what settled it, what it lacks, and what else bears on it.
func Says(c *lint.Result, s quantity.Style) []string {
	var say []string
	n := NumbersOf(c, s)
	if n.Off != "" {
		say = append(say, figures(n))
	}
	switch n.Grade {
	case quantity.Estimate.String():
		say = append(say, "rests on an estimate")
	case quantity.Assumed.String():
		say = append(say, "rests on an assumed value")
	}
	if c.Verdict == lint.Waived {
		say = append(say, "would be "+c.UnderlyingWord())
	}
	switch {
	case c.Verdict == lint.Pass:
		if c.Settled != "" {
			say = append(say, c.Settled)
		}
	case c.Reason != "" && (c.Verdict != lint.Missing || c.ToDo()):
		say = append(say, c.Reason)
	}
	if len(c.Needs) > 0 && !c.ToDo() {
		say = append(say, "needs "+needs(c.Needs, 4))
	}
	if room := RoomOf(c, s); room != "" {
		say = append(say, room)
	}
	if c.Tight {
		say = append(say, "the limit is the shop's own")
	}
	for i, one := range say {
		say[i] = Clean(one)
	}
	return say
}

// figures are the numbers of a check in one phrase.
func figures(n Numbers) string {
	out := n.Value
	if n.Limit != "" {
		out += ", " + n.Limit
	}
	return out + ": " + n.Off
}

func needs(list []quantity.Need, most int) string {
	var keys []string
	for i, n := range list {
		if i == most && len(list) > most+1 {
			keys = append(keys, fmt.Sprintf("and %d more", len(list)-most))
			break
		}
		keys = append(keys, Clean(n.Key))
	}
	return strings.Join(keys, ", ")
}

// Sentence says in one line what a check came to, for outputs that show one
// finding at a time. It is clean of control characters.
func Sentence(c *lint.Result, s quantity.Style) string {
	say := Says(c, s)
	if open(c) && !c.Counts && !c.Should {
		say = append(say, "due at "+c.Due.String())
	}
	head := fmt.Sprintf("%s, %s", c.Subject(), c.Word())
	if len(say) == 0 {
		return Clean(head + ": " + c.Rule.Title)
	}
	return Clean(head + ": " + strings.Join(say, "; "))
}

// few lists the first of many words.
func few(words []string, most int) string {
	if len(words) <= most+1 {
		return strings.Join(words, ", ")
	}
	return strings.Join(words[:most], ", ") + fmt.Sprintf(" and %d more", len(words)-most)
}
