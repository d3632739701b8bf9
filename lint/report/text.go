package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"fishplate/ledger/quantity"
	"fishplate/lint"
)

const (
	lineWidth = 100
	hang      = "          " // under the verdict's column
)

// Text writes for a person at a bench: what counts first, a line a check, then
// what to measure next, then what it comes to in plain words.
func Text(to io.Writer, opt Options) *Writer {
	t := &text{w: bufio.NewWriter(to), opt: opt}
	return &Writer{Build: t.build, Close: t.close}
}

type text struct {
	w   *bufio.Writer
	opt Options
}

func (t *text) line(format string, args ...any) { fmt.Fprintf(t.w, format+"\n", args...) }

// paint colors a word. What it says it also says without.
func (t *text) paint(color, s string) string {
	if !t.opt.Color || s == "" {
		return s
	}
	return "\x1b[" + color + "m" + s + "\x1b[0m"
}

const (
	bold   = "1"
	dim    = "2"
	red    = "1;31"
	yellow = "33"
	green  = "32"
)

var colors = map[lint.Verdict]string{lint.Fail: red, lint.Missing: yellow, lint.Unproven: yellow, lint.Waived: dim, lint.Pass: green, lint.NotApplicable: dim}

// section is a run of checks under one heading.
type section struct {
	title string
	takes func(*lint.Result) bool
}

func open(r *lint.Result) bool { return r.Verdict == lint.Unproven || r.Verdict == lint.Missing }

// sections sort every check under one heading, the worst first.
var sections = []section{
	{"To put right now", func(r *lint.Result) bool { return r.Counts }},
	{"Still open, not due yet", func(r *lint.Result) bool { return !r.Should && open(r) }},
	{"Advised, and not met or not shown", func(r *lint.Result) bool { return r.Should && (open(r) || r.Verdict == lint.Fail) }},
	{"Waived", func(r *lint.Result) bool { return r.Verdict == lint.Waived }},
	{"Passed", func(r *lint.Result) bool { return r.Verdict == lint.Pass }},
	{"Does not apply", func(r *lint.Result) bool { return r.Verdict == lint.NotApplicable }},
}

func (t *text) build(r *lint.Report) error {
	t.line("%s", t.paint(bold, Clean(r.Title)))
	t.line("%s, stage %s, as of %s", Clean(r.Folder), r.Stage, Clean(r.AsOf))
	if t.long(r) {
		t.wrap("", "  ", "", Summary(r))
	}
	left := r.Results
	for _, s := range sections {
		var in, rest []*lint.Result
		for _, c := range left {
			if s.takes(c) {
				in = append(in, c)
			} else {
				rest = append(rest, c)
			}
		}
		left = rest
		settled := s.title == "Passed" || s.title == "Does not apply"
		if len(in) > 0 && (t.opt.All || !settled) {
			t.line("\n%s (%d)", t.paint(bold, s.title), len(in))
			t.checks(in, r)
		}
	}
	t.next(r)
	t.notes(r)
	t.line("")
	t.wrap("", "  ", "", Summary(r))
	t.line("")
	return t.w.Flush()
}

// long tells that the list of a build fills a screen, so that its end, which
// says what it comes to, is not seen at once.
func (t *text) long(r *lint.Report) bool {
	listed := 0
	for _, c := range r.Results {
		if t.opt.All || c.Verdict != lint.Pass && c.Verdict != lint.NotApplicable {
			listed++
		}
	}
	return listed > mostSeen
}

// mostSeen is how many checks of two lines each are seen at once.
const mostSeen = 12

// row is a check laid out: what is judged, then figures in columns, then what
// they rest on.
type row struct {
	check *lint.Result
	cells [4]string // rule and subject, value, limit, off
	grade string
}

// caps keep one long cell from pushing all others to the right.
var caps = [4]int{48, 18, 14, 20}

func (t *text) checks(rs []*lint.Result, rep *lint.Report) {
	style := rep.Build.Style()
	var wide [4]int
	rows := make([]row, len(rs))
	for i, c := range rs {
		n := NumbersOf(c, style)
		rows[i] = row{c, [4]string{c.Rule.Name + "  " + Clean(c.Subject()), n.Value, n.Limit, n.Off}, n.Grade}
		for j, cell := range rows[i].cells {
			wide[j] = max(wide[j], min(utf8.RuneCountInString(cell), caps[j]))
		}
	}
	for _, r := range rows {
		var b strings.Builder
		b.WriteString(t.paint(colors[r.check.Verdict], fit(verdictWord(r.check.Verdict), len(hang))))
		for j, cell := range r.cells {
			b.WriteString(fit(cell, wide[j]+2))
		}
		if r.check.Verdict == lint.Pass {
			b.WriteString(r.grade)
		}
		t.line("%s", strings.TrimRight(b.String(), " "))
		if r.check.Verdict != lint.Pass {
			t.below(r.check, r.grade, style)
		}
	}
}

// verdictWord is a verdict in the width of its column.
func verdictWord(v lint.Verdict) string {
	if v == lint.NotApplicable {
		return "n/a"
	}
	return v.String()
}

// fit pads text to a width, and leaves two blanks at least.
func fit(s string, width int) string {
	return s + strings.Repeat(" ", max(2, width-utf8.RuneCountInString(s)))
}

// below is the second line of a check: where to look, and why.
func (t *text) below(c *lint.Result, grade string, style quantity.Style) {
	var why []string
	switch grade {
	case quantity.Estimate.String():
		why = append(why, "rests on an estimate")
	case quantity.Assumed.String():
		why = append(why, "rests on an assumed value")
	}
	if c.Verdict == lint.Waived {
		why = append(why, "would be "+c.Underlying.String())
	}
	if c.Reason != "" && (c.Verdict != lint.Missing || undone(c)) {
		why = append(why, Clean(c.Reason))
	}
	if len(c.Needs) > 0 && !undone(c) {
		why = append(why, "needs "+needs(c.Needs, 4))
	}
	if !c.Counts && !c.Should && open(c) {
		why = append(why, "due at "+c.Due.String())
	}
	if c.Tight {
		why = append(why, "the limit is the shop's own")
	}
	if room := RoomOf(c, style); room != "" {
		why = append(why, room)
	}
	t.wrap(hang, hang, Where(c.Place)+"  ", strings.Join(why, "; "))
}

// undone tells that a check waits for work, and for no value.
func undone(c *lint.Result) bool { return len(c.Needs) == 1 && c.Needs[0].Key == c.Reason }

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

// wrap prints a start and words behind it, folded under one another where they
// are long.
func (t *text) wrap(margin, below, start, words string) {
	line, fresh := margin+start, start == ""
	for _, w := range strings.Fields(words) {
		if !fresh && utf8.RuneCountInString(line+w) > lineWidth {
			t.line("%s", strings.TrimRight(line, " "))
			line = below
		}
		line, fresh = line+w+" ", false
	}
	t.line("%s", strings.TrimRight(line, " "))
}

func (t *text) notes(r *lint.Report) {
	if len(r.Notes) > 0 {
		t.line("")
	}
	for _, n := range r.Notes {
		t.line("note: %s", Fault(n))
	}
}

func (t *text) close(n *Totals) error {
	if n.Builds+n.Unread > 1 {
		t.line("%s", n.Sentence())
	}
	if n.Failed > 0 {
		t.line("Why, and what it would take: fishplate explain RULE BUILD")
	}
	return t.w.Flush()
}
