package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"fishplate/lint"
)

// Markdown writes a summary for a page: a heading and a table a build, with
// what counts first and the rest folded away.
func Markdown(to io.Writer, opt Options) *Writer {
	w := bufio.NewWriter(to)
	return &Writer{
		Build: func(r *lint.Report) error {
			fmt.Fprintf(w, "### %s\n\n%s, %s, as of %s. %s\n\n", Literal(r.Title), Literal(r.Folder), r.Stage, Literal(r.AsOf), Literal(Summary(r)))
			for i, s := range sections {
				var in []*lint.Result
				for _, c := range InOrderOfHarm(r.Results) {
					if firstSection(c) == i && (!opt.selects() || opt.lists(c)) {
						in = append(in, c)
					}
				}
				passed := s.title == "Passed" || s.title == "Not applicable"
				if len(in) == 0 || passed && !opt.All && opt.About == "" {
					continue
				}
				folded := i > 0
				if folded {
					fmt.Fprintf(w, "<details><summary>%s (%d)</summary>\n\n", s.title, len(in))
				} else {
					fmt.Fprintf(w, "**%s (%d)**\n\n", s.title, len(in))
				}
				markdownTable(w, in, r)
				if folded {
					fmt.Fprint(w, "</details>\n\n")
				}
			}
			return w.Flush()
		},
		Close: func(t *Totals) error {
			unreadPage(w, t.Left)
			if t.Builds+t.Unread > 1 {
				fmt.Fprintf(w, "%s\n", t.Sentence())
			}
			for _, say := range t.Rest() {
				fmt.Fprintf(w, "\n%s\n", Literal(say))
			}
			return w.Flush()
		},
	}
}

// unreadPage tells of the builds that cannot be read.
func unreadPage(w io.Writer, left []Unread) {
	for _, u := range left {
		fmt.Fprintf(w, "### %s\n\nCannot be read:\n\n", Literal(u.Folder))
		for _, f := range cut(u.Faults) {
			fmt.Fprintf(w, "- %s %s\n", Literal(Where(f.Place)), Literal(f.Message))
		}
		fmt.Fprintln(w)
	}
}

func firstSection(c *lint.Result) int {
	for i, s := range sections {
		if s.takes(c) {
			return i
		}
	}
	return len(sections)
}

func markdownTable(w io.Writer, rs []*lint.Result, rep *lint.Report) {
	fmt.Fprint(w, "| verdict | rule | on | value | limit | off | where |\n|---|---|---|---|---|---|---|\n")
	for _, c := range rs {
		n := NumbersOf(c, rep.Build.Style())
		if !c.Numeric() || n.Off == "" {
			n.Value = Clean(c.Reason)
			if len(c.Needs) > 0 && !c.ToDo() {
				n.Value = "needs " + needs(c.Needs, 4)
			}
		}
		fmt.Fprintf(w, "| %s | %s | %s | %s | %s | %s | %s |\n", c.Word(), Literal(c.Rule.Name), Literal(c.Subject()), Literal(n.Value), Literal(n.Limit), Literal(n.Off), Literal(Where(c.Place)))
	}
	fmt.Fprintln(w)
}

// Literal is text in a Markdown table or paragraph that stands for itself:
// nothing in it is markup, a link, a mention or the end of a cell. Every
// character that could be is written as a numeric entity inside a code
// element, in which hosts look for no mentions either.
func Literal(s string) string {
	s = Clean(s)
	if s == "" {
		return ""
	}
	var b strings.Builder
	b.WriteString("<code>")
	for _, r := range s {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r >= 0x80, strings.ContainsRune(" .,/-+%±", r):
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, "&#%d;", r)
		}
	}
	b.WriteString("</code>")
	return b.String()
}
