package report

import (
	_ "embed"
	"html/template"
	"io"
	"strings"

	"fishplate/lint"
)

//go:embed sheet.html
var sheetPage string

// The page is a template that escapes what is put into it, and what is put into
// it is clean already.
var sheetTemplate = template.Must(template.New("sheet").Parse(sheetPage))

// page is a sheet to be printed.
type page struct {
	Title, Stage, Head, Others string
	Systems                    []pageSystem
}

type pageSystem struct {
	Name    string
	Entries []pageEntry
}

type pageEntry struct {
	Path, Where string
	Blanks      []blank
}

// sheetHTML writes a page that prints on letter and on A4, with a box for each
// value.
func sheetHTML(to io.Writer, opt Options) *Writer {
	s := &screen{text: newText(io.Discard, opt)}
	build := func(r *lint.Report) error {
		list, others := s.sheetOf(r)
		p := page{Title: Clean(r.Title), Stage: stageLine(r), Head: sheetHead(len(list))}
		if others > 0 {
			p.Others = otherWord(others)
		}
		for _, l := range list {
			p.add(l.clean())
		}
		return sheetTemplate.Execute(to, p)
	}
	return &Writer{Build: build, Partial: build, Close: func(*Totals) error { return nil }}
}

// add puts a line under its system and its entry.
func (p *page) add(l blank) {
	name := systemName(l.System)
	if n := len(p.Systems); n == 0 || p.Systems[n-1].Name != upper(name) {
		p.Systems = append(p.Systems, pageSystem{Name: upper(name)})
	}
	s := &p.Systems[len(p.Systems)-1]
	if n := len(s.Entries); n == 0 || s.Entries[n-1].Path != l.Entry {
		s.Entries = append(s.Entries, pageEntry{Path: l.Entry, Where: l.Where})
	}
	e := &s.Entries[len(s.Entries)-1]
	e.Blanks = append(e.Blanks, l)
}

// clean is the line with what has no shape spelt out.
func (l blank) clean() blank {
	for _, s := range []*string{&l.Entry, &l.Key, &l.What, &l.Where, &l.Now, &l.Unit, &l.GoodTo, &l.Remark, &l.System} {
		*s = Clean(*s)
	}
	l.Checks = cleaned(l.Checks)
	return l
}

// Rules are the checks that wait, as a page has them.
func (l blank) Rules() string { return strings.Join(l.Checks, ", ") }
