package report

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"fishplate/ledger/quantity"
	"fishplate/ledger/revision"
	"fishplate/lint"
	"fishplate/lint/history"
	"fishplate/lint/report/shown"
)

// UnitOf is the unit in which a check's figure is shown.
func UnitOf(r *lint.Result, s quantity.Style) *quantity.Unit { return shown.UnitOf(r.Value, r, s) }

// StateWords say in one line what a check comes to: what it fails by.
func StateWords(rep *lint.Report, r *lint.Result) string { return stateOf(r, rep.Build.Style()) }

// DayOf is the day of a commit.
func DayOf(s *revision.Step) string { return s.Date.Format(time.DateOnly) }

// commitLine names a commit: when, which, who and what about. The last two are
// anyone's text.
func commitLine(s *revision.Step) string {
	return DayOf(s) + "  " + s.Short() + "  " + Clean(short72(s.Author)) + "  " + Clean(short72(s.About))
}

// short72 is a text cut to what a line of a commit's message should have.
func short72(s string) string {
	if runes := []rune(s); len(runes) > 72 {
		return string(runes[:71]) + "…"
	}
	return s
}

// eventWords say what there is to say of a commit beside the checks that it
// changed.
func eventWords(e *history.Event) string {
	switch {
	case e.Gone:
		return "the build is not there"
	case e.Unread != "":
		return "cannot be read: " + e.Unread
	case e.First:
		say := "the first that can be read"
		for _, word := range []string{"fail", "missing", "to do", "unproven", "waived", "pass"} {
			if n := e.Counts[word]; n > 0 {
				say += fmt.Sprintf(", %d %s", n, word)
			}
		}
		return say
	case e.Again:
		return "can be read again"
	case e.From != "":
		return "moved from the folder " + e.From
	}
	return ""
}

func changeWord(c *history.Change) string {
	switch {
	case c.Lapsed():
		return "lapsed"
	case c.Worse:
		return "worse"
	}
	return "better"
}

// didIt says what changed a check.
func didIt(c *history.Change) string {
	if len(c.By) == 0 && c.Why != "" {
		return byWords(c)
	}
	return "by " + byWords(c)
}

// byWords name the entries that changed a check, or say what else did.
func byWords(c *history.Change) string {
	switch {
	case len(c.By) == 0 && c.DayOnly:
		return "no edit: the day that it is judged on went by"
	case len(c.By) == 0 && c.Why != "":
		return Clean(c.Why)
	case len(c.By) == 0:
		return "no entry alone"
	}
	say := ""
	for i, e := range c.By {
		if i > 0 {
			say += ", "
		}
		say += Clean(e)
	}
	if c.More > 0 {
		say += fmt.Sprintf(" and %d more", c.More)
	}
	return say
}

// pointWords say what a check came to at a commit.
func pointWords(p *history.Point) string {
	if p.Value == nil {
		if p.Say == "" {
			return p.Verdict
		}
		return p.Verdict + ": " + Clean(p.Say)
	}
	say := p.Verdict + ": " + spanWords(p, p.Value)
	if p.Limit == nil {
		return say
	}
	limit := spanWords(p, p.Limit)
	switch {
	case p.Sense == lint.AtMost:
		return say + ", max " + limit
	case p.Sense == lint.AtLeast:
		return say + ", min " + limit
	case p.Sense == lint.Between && p.Upper != nil:
		return say + ", " + limit + " to " + spanWords(p, p.Upper)
	}
	return say + ", asked " + limit
}

// FigureWords are a check's figure at a commit with its limit, and its verdict where
// it is none that passes.
func FigureWords(p *history.Point) string {
	say := pointWords(p)
	return strings.TrimPrefix(say, lint.Pass.String()+": ")
}

func spanWords(p *history.Point, s *history.Span) string {
	low, high := endsOf(s)
	return quantity.FormatBounds(s.Value, low, high, p.Unit.Shown())
}

// historyHead says over which commits a history goes, and how they are judged.
func historyHead(t *history.Told) string {
	verb := "touch"
	if t.Commits == 1 {
		verb = "touches"
	}
	say := fmt.Sprintf("%s: %s that %s it", Clean(t.Folder), Plural(t.Commits, "commit"), verb)
	if t.AsOf != "" {
		say += ", all judged as of " + t.AsOf
	} else {
		say += ", each judged as of its own day"
	}
	if t.Short {
		say += "; the clone is shallow, and lacks older ones (git fetch --unshallow)"
	}
	say += "."
	for _, s := range slices.Backward(t.Moved) {
		say += " Until " + DayOf(s) + " (" + s.Short() + ") it was at " + Clean(s.From) + "."
	}
	if b := t.Began; b != nil && len(b.Gone) > 0 {
		var gone []string
		for _, at := range b.Gone {
			gone = append(gone, Clean(b.Parent()+":"+at))
		}
		say += fmt.Sprintf(" It begins with %s, which took %s away: fewer than half of the files are the same, so it is taken for another build. If it is not, history of that one tells what was before.", b.Short(), few(gone, 3))
	}
	return say
}
