package report

import (
	"fmt"
	"io"
	"strings"

	"fishplate/ledger/job"
	"fishplate/lint"
)

// ListKinds are the outputs of list.
var ListKinds = []Kind{
	{"text", "for a person at a bench", listText},
	{"csv", "a table for a spreadsheet (RFC 4180)", func(to io.Writer, opt Options) *Writer { return tableCSV(listTable(opt), to) }},
	{"markdown", "a table for a page", func(to io.Writer, opt Options) *Writer {
		return tableMarkdown(listTable(opt), func(r *lint.Report) string { return Upper(opt.List.About) + ". " + stageAndDate(r) }, "Nothing on this list.", to)
	}},
	{"json", "for a program", func(to io.Writer, opt Options) *Writer {
		return tableJSON(listTable(opt), map[string]any{"list": opt.List.Name}, to)
	}},
}

// listTable is a list with the columns that all have, its own, and where each
// row is from.
func listTable(opt Options) table {
	heads := append(append([]string{}, job.Columns...), opt.List.Columns...)
	return table{append(heads, "build", "place"), func(r *lint.Report) [][]string {
		var out [][]string
		for _, row := range opt.List.Rows(job.Of(r.Build, r.AsOf)) {
			cells := append([]string{row.Path, row.Name, row.System, row.Count, row.State, row.OrderAs}, row.Own...)
			out = append(out, append(cells, r.Folder, place(row)))
		}
		return out
	}}
}

func place(r job.Row) string { return fmt.Sprintf("%s:%d", r.Place.File, r.Place.Line) }

// listText writes a list for a person: under the systems, or in its own order.
func listText(to io.Writer, opt Options) *Writer {
	t := newText(to, opt)
	return &Writer{Build: t.listed, Partial: t.listed, Close: func(n *Totals) error { return t.leftOut(n, true) }}
}

// leftOut ends a text about several builds.
func (t *text) leftOut(n *Totals, partial bool) error {
	if say := leftOut(n, partial); say != "" {
		t.line("")
		t.wrap("", "  ", "", say)
	}
	return t.w.Flush()
}

// top is the head of a build's page.
func (t *text) top(r *lint.Report) {
	if t.begun {
		t.line("")
	}
	t.begun, t.folder = true, r.Folder
	t.wrap("", "  ", "", t.paint(bold, Clean(r.Title)))
	t.wrap("", "  ", "", stageLine(r))
}

func (t *text) listed(r *lint.Report) error {
	work := job.Of(r.Build, r.AsOf)
	rows := t.opt.List.Rows(work)
	t.top(r)
	if len(rows) == 0 {
		say := "Nothing on this list (" + t.opt.List.About + ")."
		if n := work.Undated(); n > 0 && t.opt.List.Name == "order" {
			say += fmt.Sprintf(" No order and no arrival has a date in this ledger, so what is bought counts as there (%s): write ordered or arrived in one, and the others are listed.", Plural(n, "thing"))
		}
		t.wrap("", "  ", "", say)
		return t.w.Flush()
	}
	t.wrap("", "  ", "", fmt.Sprintf("%s (%d)", Upper(t.opt.List.About), len(rows)))
	system := "\x00"
	for _, row := range rows {
		if row.System != system && !t.opt.List.Ordered {
			system = row.System
			t.line("\n%s", t.paint(bold, SystemName(system)))
		}
		t.row(row, t.opt.List)
	}
	return t.w.Flush()
}

// row is an entry with its state, and below it what to ask for and the list's
// own columns.
func (t *text) row(row job.Row, k job.Kind) {
	head := Clean(row.Path)
	if row.Name != "" {
		head += "  " + Clean(row.Name)
	}
	if row.Count != "1" && row.Count != "" {
		head += " (" + row.Count + ")"
	}
	if row.State != "" {
		head += ": " + Clean(row.State)
	}
	t.put("  "+head, "      ")
	var say []string
	if row.OrderAs != "" {
		say = append(say, "order as "+Clean(row.OrderAs))
	}
	for i, c := range row.Own {
		if c != "" {
			say = append(say, strings.ReplaceAll(k.Columns[i], "-", " ")+" "+Clean(c))
		}
	}
	t.wrap("      ", "      ", "", strings.Join(say, "; ")+t.at(row.Place))
}

// Upper begins a sentence.
func Upper(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// FindKinds are the outputs of find.
var FindKinds = []Kind{
	{"text", "for a person at a counter", findText},
	{"csv", "a table for a spreadsheet (RFC 4180)", func(to io.Writer, opt Options) *Writer { return tableCSV(findTable(opt), to) }},
	{"markdown", "a table for a page", func(to io.Writer, opt Options) *Writer {
		return tableMarkdown(findTable(opt), func(r *lint.Report) string { return stageAndDate(r) }, "Not in this build.", to)
	}},
	{"json", "for a program", func(to io.Writer, opt Options) *Writer {
		return tableJSON(findTable(opt), map[string]any{"find": opt.Word}, to)
	}},
}

func findTable(opt Options) table {
	heads := append([]string{"build", "place"}, job.Columns...)
	return table{append(heads, "match", "stands-in"), func(r *lint.Report) [][]string {
		var out [][]string
		for _, f := range job.Find(job.Of(r.Build, r.AsOf), opt.Word) {
			is := "speaks of it"
			if f.Itself {
				is = "is called so"
			}
			out = append(out, []string{r.Folder, place(f.Row), f.Path, f.Name, f.System, f.Count, f.State, f.OrderAs, is, strings.TrimPrefix(strings.Join(f.Keys, ", "), ", ")})
		}
		return out
	}}
}

// findText writes what was found, build by build: what is called so whole, what
// only speaks of it by name.
func findText(to io.Writer, opt Options) *Writer {
	t := newText(to, opt)
	builds, entries := 0, 0
	build := func(r *lint.Report) error {
		found := job.Find(job.Of(r.Build, r.AsOf), opt.Word)
		if len(found) == 0 {
			return nil
		}
		builds++
		entries += len(found)
		t.top(r)
		t.wrap("", "  ", "", Clean(r.Folder))
		var speak []string
		for _, f := range found {
			if f.Itself {
				t.row(f.Row, job.Kind{})
			} else {
				speak = append(speak, Clean(f.Path)+t.at(f.Place))
			}
		}
		if len(speak) > 0 {
			t.wrap("  ", "      ", "", "also spoken of by "+few(speak, mostSpeaking))
		}
		return t.w.Flush()
	}
	return &Writer{Build: build, Partial: build, Close: func(n *Totals) error {
		if entries == 0 {
			t.wrap("", "  ", "", fmt.Sprintf("%q is in none of %s.", Clean(opt.Word), Plural(n.Builds+n.Unread, "build")))
		} else {
			t.line("")
			t.wrap("", "  ", "", fmt.Sprintf("%s in %d of %s.", Entries(entries, ""), builds, Plural(n.Builds+n.Unread, "build")))
		}
		return t.leftOut(n, true)
	}}
}

// mostSpeaking is how many entries are named that only speak of a word.
const mostSpeaking = 8

// Entries counts entries of a sort, such as "new ".
func Entries(n int, sort string) string {
	if n == 1 {
		return "1 " + sort + "entry"
	}
	return fmt.Sprintf("%d %sentries", n, sort)
}
